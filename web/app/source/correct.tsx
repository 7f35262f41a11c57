// What a hole met, where on it and how deep, corrected in one place: the row is
// logged anew and the old one withdrawn, so that the log keeps what was there.
import { useState } from "preact/hooks";
import { instead, live } from "./acts";
import { canChange } from "./again";
import type { Believed } from "./believe";
import { bold, Said } from "./bold";
import { useStore } from "./context";
import type { Row } from "./entry";
import { Pick } from "./form";
import { Keypad } from "./keypad";
import { words } from "./language";
import { notes } from "./notes";
import { useQuestion } from "./question";
import { go, to } from "./route";
import { directionRow, Runs } from "./runs";
import { nothingTyped, text, unitOf } from "./units";
import { features, isLine, meetable, spotsOf, Stopped, usualFeature } from "./what";
import { Withdraw } from "./withdraw";
import { kindOf as kindIn, rowText } from "./words";

export function Correct({ state, row }: { state: Believed; row: Row }) {
  const store = useStore();
  const { job } = state;
  const unit = unitOf(job.settings);
  const kindOf = (id: string) => kindIn(job.sketch, id);
  const [target, aim] = useState(row.kind === "found" ? row.target : "");
  const [spot, setSpot] = useState(row.spot ?? "");
  const [feature, setFeature] = useState(row.feature ?? "");
  const [direction, direct] = useState({ time: row.runs ?? "", facing: row.facing ?? "", flow: row.flow ?? "" });
  const [stopped, stop] = useState(row.stopped ?? "");
  const [typed, type] = useState(nothingTyped);
  const [deep, keep] = useState(row.depth ?? "");
  const kind = kindOf(target);
  const depth = text(typed, unit) || deep;

  const { id, by, spot: _s, feature: _f, runs, facing, flow, target: _t, depth: _d, kind: _k, stopped: _st, ...rest } = row;
  const met: Row = target ? { kind: "found", target, ...(spot && { spot }), ...(feature && { feature }), ...(isLine(kind) && directionRow(direction)) } : { kind: "empty", ...(stopped && { stopped }) };
  const next: Row = { ...rest, ...met, ...(depth && { depth }) };
  const same = ["kind", "target", "spot", "feature", "runs", "facing", "flow", "depth", "stopped"].every((c) => (next[c] ?? "") === (row[c] ?? ""));

  const { sure, question } = useQuestion(job);
  const save = async () => {
    if (same || !(await sure([next], { instead: row }))) return;
    await store.logged(job.id, [instead(row, next)], words.measure.correctSaid(rowText(next)), [row.id], notes.corrected);
    go("plan", job.id);
  };
  const hole = live(job.rows).filter((r) => r.point === row.point || (r.to === row.point && r.kind !== "baseline") || ((r.kind === "followed" || r.kind === "rod") && r.from === row.point));
  return (
    <>
      <p>
        <Said text={words.common.until(bold(rowText(row)))} />
      </p>
      <Pick
        names
        label={words.measure.itMet}
        value={target}
        options={meetable(job)}
        onChange={(t) => {
          aim(t);
          setSpot(t ? spotsOf(kindOf(t))[0].id : "");
          setFeature(t ? usualFeature(kindOf(t)) : "");
        }}
      />
      {!target && <Stopped value={stopped} onChange={stop} />}
      {target && (
        <>
          <div class="two">
            <Pick names label={words.log.spot} value={spot || spotsOf(kind)[0].id} onChange={setSpot} options={spotsOf(kind)} />
            <Pick names label={words.log.downTo} value={feature || "top"} onChange={setFeature} options={features()} />
          </div>
          {isLine(kind) && <Runs state={state} pipe={kind === "header"} value={direction} onChange={direct} />}
        </>
      )}
      <p class="row">
        <span><Said text={words.measure.depthIs(bold(depth || words.measure.notMeasured))} /></span>
        {depth && (
          <button type="button" class="plain" onClick={() => (type(nothingTyped), keep(""))}>
            {words.measure.wasNot}
          </button>
        )}
      </p>
      <Keypad unit={unit} label={target ? words.log.howDeep : words.log.emptyTo} value={typed} onInput={type} done={same ? words.measure.unchanged : words.measure.saveCorrection} onDone={save} />
      {question}
      <h2>{words.measure.whereIs}</h2>
      <ul class="places">
        {hole.filter((r) => r !== row && r.kind !== "found" && r.kind !== "empty").map((r) => (
          <li key={r.id}>
            <span>{rowText(r)}</span>
            {canChange(r) && (
              <a class="button" href={to("measure", job.id, r.id)} aria-label={words.common.measureThisAgain(rowText(r))}>
                {words.common.measureAgain}
              </a>
            )}
          </li>
        ))}
      </ul>
      <p>
        <Withdraw job={job} rows={hole} label={words.withdraw.whole} about={row.point} />
      </p>
    </>
  );
}
