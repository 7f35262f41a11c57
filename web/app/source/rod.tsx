// What a probe rod felt: stabs at a point or along a line, or the grid of the plan.
import { useState } from "preact/hooks";
import type { Proposal } from "./answer";
import type { Believed } from "./believe";
import { useStore } from "./context";
import { voided, type Row } from "./entry";
import { Choice, Pick, Words } from "./form";
import { Keypad } from "./keypad";
import { words } from "./language";
import { go } from "./route";
import { beforehand } from "./steps";
import { nothingTyped, text, unitOf } from "./units";
import { partName, partsOf, pointsOf, rowText } from "./words";

type How = "point" | "line" | "grid";

export function Rod({ state }: { state: Believed }) {
  const planned = beforehand(state.plan);
  const grid = planned?.grid ? planned : undefined;
  const [how, set] = useState<How>(grid ? "grid" : "point");
  return (
    <>
      <Choice label={words.measure.where} value={how} onChange={set} options={[...(grid ? [["grid", words.measure.theGrid] as [How, string]] : []), ["point", words.measure.oneStab], ["line", words.measure.alongLine]]} />
      {how === "grid" && grid ? <Grid state={state} step={grid} /> : <Stabs key={how} state={state} line={how === "line"} />}
    </>
  );
}

/** One stab, or several with the same result along a line. */
function Stabs({ state, line }: { state: Believed; line: boolean }) {
  const store = useStore();
  const { job } = state;
  const unit = unitOf(job.settings);
  const points = pointsOf(job.sketch, job.rows);
  const [from, setFrom] = useState(points.at(line ? -2 : -1)?.id ?? "");
  const [end, setEnd] = useState(points.at(-1)?.id ?? "");
  const [count, setCount] = useState("5");
  const [target, feel] = useState("none");
  const [typed, type] = useState(nothingTyped);
  const targets = [{ id: "none", name: words.rows.felt.none }, { id: "contact", name: words.rows.felt.contact }, ...partsOf(job.sketch, "box", "tank", "header", "lateral").map((p) => ({ id: p.id, name: words.measure.plainly(partName(p.id, p.part)) }))];
  const whole = /^\d+$/.test(count) && Number(count) >= 2 && Number(count) <= 100;
  const save = async () => {
    const depth = text(typed, unit);
    if (!depth || (line && (!whole || from === end))) return;
    const row: Row = { kind: "rod", ...(line ? { from, to: end, value: count } : { point: from }), depth, target };
    await store.logged(job.id, [row], rowText(row));
    go("plan", job.id);
  };
  return (
    <>
      <p class="hint">{words.measure.stakeFirst}</p>
      <div class="two">
        <Pick label={line ? words.common.from : words.measure.at} value={from} options={points} onChange={setFrom} />
        {line && <Pick label={words.common.to} value={end} options={points} onChange={setEnd} />}
      </div>
      {line && from === end && <p class="warning">{words.common.fromToOnePoint}</p>}
      {line && <Words label={words.measure.stabs} value={count} onInput={setCount} />}
      {line && !whole && <p class="warning">{words.measure.wholeNumber}</p>}
      <Pick names label={line ? words.measure.allFelt : words.measure.itFelt} value={target} options={targets} onChange={feel} />
      <Keypad unit={unit} label={words.measure.rodDepth} value={typed} onInput={type} done={words.common.save} onDone={save} />
    </>
  );
}

/** The grid of the plan: a key for each stab, to be pressed where it felt something. */
function Grid({ state, step }: { state: Believed; step: Proposal }) {
  const store = useStore();
  const { job } = state;
  const { lines, each } = step.grid!;
  const [felt, set] = useState<boolean[]>(() => Array(lines * each).fill(false));
  const gone = voided(job.rows);
  const taken = new Set(pointsOf(job.sketch, job.rows.filter((r) => !gone.has(r.id))).map((p) => p.id));
  const save = async () => {
    await store.logged(job.id, gridRows(step, felt, taken), words.measure.gridSaid(felt.length, felt.filter((f) => f).length));
    go("plan", job.id);
  };
  return (
    <>
      <p>{step.says}</p>
      <p class="hint">{words.measure.asPlanned}</p>
      {Array.from({ length: lines }, (_, line) => (
        <fieldset class="choice" key={line}>
          <legend>{line === 0 ? words.measure.baseLine : words.measure.lineRight(line + 1)}</legend>
          <div class="options">
            {Array.from({ length: each }, (_, k) => {
              const i = line * each + k;
              return (
                <button type="button" key={k} class="option" aria-pressed={felt[i]} aria-label={words.measure.stab(line + 1, k + 1, felt[i])} onClick={() => set(felt.map((f, n) => (n === i ? !f : f)))}>
                  {felt[i] ? words.measure.hard : k + 1}
                </button>
              );
            })}
          </div>
        </fieldset>
      ))}
      <button type="button" class="go wide" onClick={save}>
        {words.measure.saveStabs(lines * each)}
      </button>
    </>
  );
}

/** The rows of a grid: both ends of its base line by the two tapes that set each out and
 * the one between them, other places by station
 * and offset, and a row for the stabs side by side that felt the same. */
export function gridRows(step: Proposal, felt: boolean[], taken: Set<string>): Row[] {
  const { lines, each, step: apart } = step.grid!;
  const metres = (v: number) => `${v.toFixed(3)} m`;
  const rows: Row[] = [];
  let n = 0;
  const stake = () => {
    do n++;
    while (taken.has(`S${n}`));
    return `S${n}`;
  };
  const ends = [step.ties, step.to!.ties].map((ties) => {
    const name = stake();
    rows.push(...ties.slice(0, 2).map((t) => ({ kind: "tape", from: t.from, to: name, value: metres(t.distance) })));
    return name;
  });
  rows.push({ kind: "tape", from: ends[0], to: ends[1], value: metres(step.to!.length) });
  const point = (line: number, k: number) => {
    if (line === 0 && k === 0) return ends[0];
    if (line === 0 && k === each - 1) return ends[1];
    const name = stake();
    rows.push({ kind: "baseline", from: ends[0], to: ends[1], point: name, value: metres(k * apart), offset: metres(line * apart) });
    return name;
  };
  for (let line = 0; line < lines; line++) {
    for (let k = 0, m; k < each; k = m) {
      for (m = k + 1; m < each && felt[line * each + m] === felt[line * each + k]; ) m++;
      const same = { depth: metres(step.stop_depth), target: felt[line * each + k] ? "contact" : "none" };
      rows.push(m - k === 1 ? { kind: "rod", point: point(line, k), ...same } : { kind: "rod", from: point(line, k), to: point(line, m - 1), value: String(m - k), ...same });
    }
  }
  return rows;
}
