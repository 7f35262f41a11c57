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
import { useQuestion } from "./question";
import { go } from "./route";
import { nothingTyped, text, unitOf } from "./units";
import { Tapes, type Placed } from "./where";
import { freeName, partsOf, pointsOf } from "./words";

type By = "2" | "3" | "bearing" | "fix";

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
    const [id] = await store.logged(job.id, rows, `point ${point}`);
    if (note) await keepPhotos(store, job.id, point, id, photos);
    go("plan", job.id);
  };
  return (
    <>
      <Words label="Name of the point" value={name} onInput={call} />
      {taken && <p class="warning" role="alert">▲ There is something called {point} already. Choose another name.</p>}
      <Words label="What it is" value={what} onInput={say} hint="Oak, 2 ft thick; iron stake; lid of the pump tank …" />
      <PhotoTaker photos={photos} change={change} />
      <Choice label="Placed by" value={by} onChange={place} options={[["2", "two tapes"], ["3", "three tapes"], ["bearing", "a bearing and a tape"], ["fix", "phone position"]]} />
      {by === "bearing" ? (
        <Polar state={state} point={point} done={save} />
      ) : by === "fix" ? (
        <FixTaker label="Save the point" onDone={(f, s, n) => save({ says: "", rows: (p) => [fixRow(p, f, s, n)] })} />
      ) : (
        <Tapes key={by} state={state} unit={unit} count={Number(by)} to={point || "the point"} end="Save the point" done={save} />
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
      <Pick label="Standing at" value={from} options={points} onChange={stand} />
      <Choice label="North is" value={north} onChange={setNorth} options={[["magnetic", "magnetic, by compass"], ["true", "true"]]} />
      {degrees > 360 && <p class="warning">▲ A bearing has 360° at most.</p>}
      {at === 0 ? (
        <Keypad unit="°" label={`bearing ${from} to ${point}`} value={turned} onInput={turn} done="Next: the tape" onDone={forward} />
      ) : (
        <>
          <p class="done">
            <span>✓ {degrees}°</span>
            <button type="button" class="plain" onClick={() => step(0)}>
              change
            </button>
          </p>
          <Keypad unit={unit} label={`${from} to ${point}`} value={typed} onInput={type} done="Save the point" onDone={forward} />
        </>
      )}
    </>
  );
}
