// Where a hole is: as it was proposed, by two tapes, off a baseline, or by the
// phone's receiver.
import { useState } from "preact/hooks";
import type { Proposal } from "./answer";
import type { Believed } from "./believe";
import type { Row } from "./entry";
import { FixTaker, fixRow } from "./fix";
import { Pick } from "./form";
import { Keypad } from "./keypad";
import { words } from "./language";
import { notes } from "./notes";
import { Offset } from "./offset";
import { graduated, nothingTyped, shown, tape, text, type Unit } from "./units";
import { pointsOf } from "./words";
import { holesOf } from "./steps";

/** The rows that place a point once it has a name, and the same in words. */
export interface Placed {
  says: string;
  rows: (point: string) => Row[];
}

// A hole that was set out and not measured again lies about 0.1 m off the mark
// at worst: common practice, no published source.
const setOut = "0.08 m";

/** A way to say where a hole is when it was not dug where proposed. */
export type Way = "tapes" | "line" | "fix";

/**
 * The place of a hole that was set out by its two tapes and dug there: what they
 * were held to is logged, as it was shown. The third tape of a proposal only
 * checks, and nobody may have pulled it.
 */
export function asProposed(next: Proposal, unit: Unit, side = false): Placed {
  const two = next.ties.slice(0, 2);
  return {
    says: words.log.proposed(words.common.and(two.map((t) => `${t.from} ${tape(t.distance, unit)}`)), side ? (next.side ?? "") : ""),
    rows: (point) => two.map((t) => ({ kind: "tape", from: t.from, to: point, value: graduated(t.distance, unit), sigma: setOut, note: notes.setOut })),
  };
}

/**
 * The ways to say where a hole is, before one is chosen. While the proposal is
 * worked out its button keeps its place, so that nothing moves from under the
 * thumb when the plan arrives.
 */
export function Ways({ next, busy, unit, go }: { next: Proposal | null; busy: boolean; unit: Unit; go: (w: Way) => void }) {
  return (
    <fieldset class="choice">
      <legend>{words.log.where}</legend>
      <div class="options even">
        {(next || busy) && <button type="button" class="option" aria-pressed={!!next} disabled={!next}>{words.log.asProposed}</button>}
        <button type="button" class="option" onClick={() => go("tapes")}>{words.log.twoTapes}</button>
        <button type="button" class="option" onClick={() => go("line")}>{words.log.wall}</button>
        <button type="button" class="option" onClick={() => go("fix")}>{words.log.phone}</button>
      </div>
      {next && <p class="hint">{asProposed(next, unit, true).says}.</p>}
      {!next && busy && <p class="hint" role="status">{words.log.nextSoon}</p>}
    </fieldset>
  );
}

export function Where({ way, state, unit, done }: { way: Way; state: Believed; unit: Unit; done: (p: Placed) => void }) {
  if (way === "tapes") return <Tapes state={state} unit={unit} done={done} />;
  if (way === "line") return <Line state={state} unit={unit} done={done} />;
  return (
    <FixTaker
      label={words.log.usePosition}
      onDone={(f, s, n) => done({ says: words.log.fixWithin(f.accuracy.toFixed(1)), rows: (p) => [fixRow(p, f, s, n)] })}
    />
  );
}

/** The landmarks that the plan ties to, else the first ones. */
function firstOf(state: Believed, count: number): string[] {
  const ties = (holesOf(state.plan)[0]?.ties ?? []).map((t) => t.from);
  const points = pointsOf(state.job.sketch, state.job.rows).map((p) => p.id);
  const all = ties.length >= 2 ? [...ties, ...points.filter((p) => !ties.includes(p))] : points;
  return Array.from({ length: count }, (_, i) => all[i] ?? all[0] ?? "");
}

/** Tapes to one point from two or three others. */
export function Tapes({ state, unit, count = 2, to = words.log.theHole, end = words.common.nextMet, done }: {
  state: Believed;
  unit: Unit;
  count?: number;
  to?: string;
  /** The label of the key that finishes. */
  end?: string;
  done: (p: Placed) => void;
}) {
  const [from, setFrom] = useState(() => firstOf(state, count));
  const [typed, type] = useState(() => from.map(() => nothingTyped));
  const [at, step] = useState(0);
  const points = pointsOf(state.job.sketch, state.job.rows);
  const once = new Set(from).size === count;
  const forward = () => {
    if (!text(typed[at], unit) || !once) return;
    const open = typed.findIndex((t, i) => i > at && !text(t, unit));
    if (open >= 0 || at < count - 1) return step(open >= 0 ? open : at + 1);
    done({
      says: words.common.and(from.map((f, i) => `${f} ${shown(typed[i], unit)}`)),
      rows: (point) => from.map((f, i) => ({ kind: "tape", from: f, to: point, value: text(typed[i], unit) })),
    });
  };
  return (
    <>
      <div class="two">
        {from.map((f, i) => (
          <div key={i} class={i === at ? "tapefrom here" : "tapefrom"}>
            <Pick label={words.log.tapeFrom(i)} value={f} options={points} onChange={(v) => setFrom(from.with(i, v))} />
            <button type="button" class="plain" aria-pressed={i === at} onClick={() => step(i)}>
              {shown(typed[i], unit) || words.log.notRead}
            </button>
          </div>
        ))}
      </div>
      {!once && <p class="warning">{words.log.sameTape(to)}</p>}
      <Keypad unit={unit} label={words.common.fromTo(from[at], to)} value={typed[at]} onInput={(t) => type(typed.with(at, t))} done={at < count - 1 ? words.log.nextFrom(from[at + 1]) : end} onDone={forward} />
    </>
  );
}

function Line({ state, unit, done }: { state: Believed; unit: Unit; done: (p: Placed) => void }) {
  const points = pointsOf(state.job.sketch, state.job.rows);
  const [from, setFrom] = useState(points[0]?.id ?? "");
  const [along, setAlong] = useState(points[1]?.id ?? "");
  return (
    <>
      <div class="two">
        <Pick label={words.log.lineFrom} value={from} options={points} onChange={setFrom} />
        <Pick label={words.log.towards} value={along} options={points} onChange={setAlong} />
      </div>
      {from === along && <p class="warning">{words.log.twoPoints}</p>}
      <Offset
        from={from}
        along={along}
        unit={unit}
        end={words.common.nextMet}
        done={(value, offset, says) => from !== along && done({ says, rows: (point) => [{ kind: "baseline", from, to: along, point, value, offset }] })}
      />
    </>
  );
}
