// A new point: something that can be seen today and that the sketch does not have, such
// as a tree, a lid or a stake, so that tapes may start from it.
import { useState } from "preact/hooks";
import type { Believed } from "./believe";
import { keepPhotos, noted, PhotoTaker, type Photo } from "./condition";
import { useStore } from "./context";
import type { Row } from "./entry";
import { FixTaker, fixRow } from "./fix";
import { Choice, Pick, Words } from "./form";
import { Keypad } from "./keypad";
import { words } from "./language";
import { useQuestion } from "./question";
import { go } from "./route";
import { nothingTyped, text, unitOf } from "./units";
import { Tapes, type Placed } from "./where";
import { freeName, partsOf, pointsOf } from "./words";

const ways = ["2", "3", "bearing", "fix"] as const;
type By = (typeof ways)[number];

export function NewPoint({ state }: { state: Believed }) {
  const store = useStore();
  const { job } = state;
  const unit = unitOf(job.settings);
  const [name, call] = useState(() => freeName("P", store.tag, job.sketch, job.rows));
  const [what, say] = useState("");
  const [photos, change] = useState<Photo[]>([]);
  const [by, place] = useState<By>("2");
  const { sure, question } = useQuestion(job);
  const point = name.trim();
  const taken = partsOf(job.sketch).some((p) => p.id === point) || job.rows.some((r) => [r.point, r.from, r.to].includes(point));
  const save = async (placed: Placed) => {
    if (!point || taken) return;
    const note = noted(what, photos);
    const rows: Row[] = [...(note ? [{ kind: "condition", target: point, note } as Row] : []), ...placed.rows(point)];
    if (!(await sure(rows))) return;
    const [id] = await store.logged(job.id, rows, words.measure.pointSaid(point));
    if (note) await keepPhotos(store, job.id, point, id, photos);
    go("plan", job.id);
  };
  return (
    <>
      <Words label={words.measure.pointName} value={name} onInput={call} />
      {taken && <p class="warning" role="alert">{words.measure.taken(point)}</p>}
      <Words label={words.measure.pointIs} value={what} onInput={say} hint={words.measure.pointHint} />
      <PhotoTaker photos={photos} change={change} />
      <Choice label={words.measure.placedBy} value={by} onChange={place} options={ways.map((w) => [w, words.measure.by[w]])} />
      {by === "bearing" ? (
        <Polar state={state} point={point} done={save} />
      ) : by === "fix" ? (
        <FixTaker label={words.measure.savePoint} onDone={(f, s, n) => save({ says: "", rows: (p) => [fixRow(p, f, s, n)] })} />
      ) : (
        <Tapes key={by} state={state} unit={unit} count={Number(by)} to={point || words.measure.thePoint} end={words.measure.savePoint} done={save} />
      )}
      {question}
    </>
  );
}

/** A bearing and a tape from one point. */
function Polar({ state, point, done }: { state: Believed; point: string; done: (p: Placed) => void }) {
  const points = pointsOf(state.job.sketch, state.job.rows);
  const unit = unitOf(state.job.settings);
  const [from, stand] = useState(points[0]?.id ?? "");
  const [north, setNorth] = useState<"magnetic" | "true">("magnetic");
  const [turned, turn] = useState(nothingTyped);
  const [typed, type] = useState(nothingTyped);
  const [at, step] = useState(0);
  const degrees = turned.decimal === "" ? NaN : Number(turned.decimal);
  const forward = () => {
    if (!(degrees >= 0 && degrees <= 360)) return;
    if (at === 0) return step(1);
    const value = text(typed, unit);
    if (value) done({ says: "", rows: (to) => [{ kind: "bearing", from, to, value: String(degrees), north }, { kind: "tape", from, to, value }] as Row[] });
  };
  return (
    <>
      <Pick label={words.common.standingAt} value={from} options={points} onChange={stand} />
      <Choice label={words.common.northIs} value={north} onChange={setNorth} options={[["magnetic", words.common.magnetic], ["true", words.common.trueNorth]]} />
      {degrees > 360 && <p class="warning">{words.common.most360}</p>}
      {at === 0 ? (
        <Keypad unit="°" label={words.common.bearing(from, point)} value={turned} onInput={turn} done={words.measure.nextTape} onDone={forward} />
      ) : (
        <>
          <p class="done">
            <span>✓ {degrees}°</span>
            <button type="button" class="plain" onClick={() => step(0)}>
              {words.common.change}
            </button>
          </p>
          <Keypad unit={unit} label={words.common.fromTo(from, point)} value={typed} onInput={type} done={words.measure.savePoint} onDone={forward} />
        </>
      )}
    </>
  );
}
