// Measure: ties, new points, landmarks, levels, bearings, what was followed, what a rod felt, and what
// was seen.
import { useState } from "preact/hooks";
import { Again } from "./again";
import type { Believed } from "./believe";
import { Bearing } from "./bearing";
import { Condition } from "./condition";
import { useStore } from "./context";
import { Correct } from "./correct";
import { FixTaker, fixRow } from "./fix";
import { Followed } from "./followed";
import { Choice, Pick, Screen, Words } from "./form";
import { Keypad } from "./keypad";
import { words } from "./language";
import { NewPoint } from "./point";
import { go, to } from "./route";
import { Rod } from "./rod";
import { Sign, Sonde } from "./sonde";
import { Tie } from "./tie";
import { nothingTyped, text, unitOf } from "./units";
import { pointsOf } from "./words";

const kinds = ["tie", "point", "fix", "level", "bearing", "followed", "rod", "sonde", "sign", "condition"] as const;
type What = (typeof kinds)[number];

export function MeasureScreen({ state, about }: { state: Believed; about: string }) {
  const [note] = about.startsWith("note ") ? [about.slice(5)] : [];
  const [what, set] = useState<What>(note ? "condition" : about === "followed" || about === "rod" || about === "sonde" || about === "sign" ? about : "tie");
  const back = to("plan", state.job.id);
  const row = about ? state.job.rows.find((r) => r.id === about) : undefined;
  if (row) {
    const hole = row.kind === "found" || row.kind === "empty";
    return (
      <Screen title={hole ? words.measure.correctHole(row.point) : words.common.measureAgain} back={back}>
        {hole ? <Correct state={state} row={row} /> : <Again state={state} row={row} />}
      </Screen>
    );
  }
  return (
    <Screen title={words.plan.measure} back={back}>
      <Choice
        label={words.measure.what}
        value={what}
        onChange={set}
        options={kinds.map((k) => [k, words.measure.kinds[k]])}
      />
      {what === "point" && <NewPoint state={state} />}
      {what === "tie" && <Tie state={state} />}
      {what === "fix" && <Position state={state} />}
      {what === "level" && <Level state={state} />}
      {what === "bearing" && <Bearing state={state} />}
      {what === "followed" && <Followed state={state} />}
      {what === "sonde" && <Sonde state={state} />}
      {what === "sign" && <Sign state={state} />}
      {what === "rod" && <Rod state={state} />}
      {what === "condition" && <Condition job={state.job} about={note} />}
    </Screen>
  );
}

/** A satellite fix of a landmark or a hole. */
function Position({ state }: { state: Believed }) {
  const store = useStore();
  const points = pointsOf(state.job.sketch, state.job.rows);
  const [point, set] = useState(points[0]?.id ?? "");
  return (
    <>
      <Pick label={words.measure.of} value={point} options={points} onChange={set} />
      <FixTaker
        label={words.measure.savePosition(point)}
        onDone={async (f, s, n) => {
          await store.logged(state.job.id, [fixRow(point, f, s, n)], words.measure.fixOf(point));
          go("plan", state.job.id);
        }}
      />
    </>
  );
}

/** The height of the ground at a point above the job's own datum. */
function Level({ state }: { state: Believed }) {
  const store = useStore();
  const unit = unitOf(state.job.settings);
  const points = pointsOf(state.job.sketch, state.job.rows);
  const [point, set] = useState(points[0]?.id ?? "");
  const [typed, type] = useState(nothingTyped);
  const [note, setNote] = useState("");
  const save = async () => {
    const value = text(typed, unit);
    if (!value) return;
    await store.logged(state.job.id, [{ kind: "level", point, value, ...(note && { note }) }], words.measure.levelOf(point));
    go("plan", state.job.id);
  };
  return (
    <>
      <Pick label={words.measure.groundAt} value={point} options={points} onChange={set} />
      <p class="hint">{words.measure.datum}</p>
      <Words label={words.common.note} value={note} onInput={setNote} />
      <Keypad unit={unit} label={words.measure.heightOf(point)} value={typed} onInput={type} done={words.common.save} onDone={save} />
    </>
  );
}
