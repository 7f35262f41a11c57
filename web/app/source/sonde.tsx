// A transmitter in a pipe that was located from above, and a strip that shows on the
// surface.
import { useState } from "preact/hooks";
import type { Believed } from "./believe";
import { useStore } from "./context";
import { voided, type Row } from "./entry";
import { Pick, Words } from "./form";
import { Keypad } from "./keypad";
import { words } from "./language";
import { go } from "./route";
import { Stake } from "./stake";
import { nothingTyped, text, unitOf } from "./units";
import { partName, partsOf, pointsOf, rowText } from "./words";

/** The stakes and holes of a job. */
function stakesOf(state: Believed): { id: string; name: string }[] {
  const gone = voided(state.job.rows);
  const marks = new Set(partsOf(state.job.sketch).map((p) => p.id));
  return pointsOf(state.job.sketch, state.job.rows.filter((r) => !gone.has(r.id))).filter((p) => !marks.has(p.id));
}

/** What a transmitter may lie in, or a strip may show. */
function linesOf(state: Believed): { id: string; name: string }[] {
  const lines = partsOf(state.job.sketch, "lateral", "header");
  const kinds = ["lateral", "header"].filter((kind) => lines.some((l) => l.part === kind) || (kind === "header" && partsOf(state.job.sketch, "box").length > 0));
  return [...kinds.map((kind) => ({ id: kind, name: partName(kind, kind) })), ...lines.map((l) => ({ id: l.id, name: partName(l.id, l.part) }))];
}

export function Sonde({ state }: { state: Believed }) {
  const store = useStore();
  const { job } = state;
  const unit = unitOf(job.settings);
  const stakes = stakesOf(state);
  const places = partsOf(job.sketch, "box", "tank", "port").map((p) => ({ id: p.id, name: partName(p.id, p.part) }));
  const ends = partsOf(job.sketch, "lateral").map((p) => ({ id: `${p.id}.end`, name: words.common.farEndOf(p.id) }));
  const targets = [...places, { id: "pipe", name: words.measure.somePipe }, ...linesOf(state), ...ends];
  const [staking, stake] = useState(!stakes.length);
  const [point, setPoint] = useState(stakes.at(-1)?.id ?? "");
  const [target, setTarget] = useState(targets[0].id);
  const [typed, type] = useState(nothingTyped);
  if (staking) return <Stake state={state} done={(name) => (setPoint(name), stake(false))} />;
  const save = async () => {
    const depth = text(typed, unit);
    if (!depth || !point) return;
    const row: Row = { kind: "sonde", point, target, depth };
    await store.logged(job.id, [row], rowText(row));
    go("plan", job.id);
  };
  return (
    <>
      <Pick label={words.measure.underStake} value={point} options={stakes} onChange={setPoint} />
      <button type="button" class="plain" onClick={() => stake(true)}>
        {words.common.anotherStake}
      </button>
      <Pick names label={words.measure.sondeIn} value={target} options={targets} onChange={setTarget} />
      <Keypad unit={unit} label={words.measure.sondeDepth} value={typed} onInput={type} done={words.common.save} onDone={save} />
    </>
  );
}

export function Sign({ state }: { state: Believed }) {
  const store = useStore();
  const { job } = state;
  const stakes = stakesOf(state);
  const targets = linesOf(state);
  const [staking, stake] = useState(stakes.length < 2);
  const [from, setFrom] = useState(stakes.at(-2)?.id ?? "");
  const [end, setEnd] = useState(stakes.at(-1)?.id ?? "");
  const [target, setTarget] = useState(targets[0]?.id ?? "");
  const [note, say] = useState("");
  if (!targets.length) return <p class="hint">{words.measure.noLine}</p>;
  const staked = (name: string) => {
    setFrom(end);
    setEnd(name);
    stake(!end);
  };
  // Each stake has a name of its own, so that the form for the next one begins anew.
  if (staking) return <Stake key={stakes.length} state={state} done={staked} />;
  const save = async () => {
    const row: Row = { kind: "sign", from, to: end, target, ...(note && { note }) };
    await store.logged(job.id, [row], rowText(row));
    go("plan", job.id);
  };
  return (
    <>
      <div class="two">
        <Pick label={words.measure.stripFrom} value={from} options={stakes} onChange={setFrom} />
        <Pick label={words.measure.followedTo} value={end} options={stakes} onChange={setEnd} />
      </div>
      <button type="button" class="plain" onClick={() => stake(true)}>
        {words.common.anotherStake}
      </button>
      <Pick names label={words.measure.mayShow} value={target} options={targets} onChange={setTarget} />
      {from === end ? <p class="warning">{words.common.onePoint}</p> : <p class="hint">{words.measure.stripHint}</p>}
      <Words label={words.common.note} value={note} onInput={say} />
      <button type="button" class="go wide" disabled={!from || !end || from === end} onClick={save}>
        {words.common.save}
      </button>
    </>
  );
}
