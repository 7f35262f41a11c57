// Log a hole: where, what, how deep. The proposed place is the default until
// another is chosen, so that the usual hole takes three taps and its depth.
import { useEffect, useState } from "preact/hooks";
import type { Proposal } from "./answer";
import type { Believed } from "./believe";
import { Cautions } from "./card";
import { useStore } from "./context";
import type { Row } from "./entry";
import { Pick, Screen } from "./form";
import { isEvent } from "./found";
import { Keypad } from "./keypad";
import { words } from "./language";
import { useQuestion } from "./question";
import { go as leave, to } from "./route";
import { depth, length, nothingTyped, shown, text, unitOf } from "./units";
import { directionRow, noDirection, Runs } from "./runs";
import { Stopped, What, features, isLine, spotsOf, usualFeature, type Met } from "./what";
import { asProposed, Ways, Where, type Placed, type Way } from "./where";
import { freeName, kindOf as kindIn, partName, rowText } from "./words";
import { beforehand, holesOf } from "./steps";

export function LogScreen({ state }: { state: Believed }) {
  const store = useStore();
  const { job, belief } = state;
  const unit = unitOf(job.settings);
  const [name] = useState(() => freeName("H", store.tag, job.sketch, job.rows));
  const [next, hold] = useState<Proposal | null>(null);
  const [way, go] = useState<Way | null>(null);
  const [taken, place] = useState<Placed | null>(null);
  const [met, meet] = useState<Met | null>(null);
  const [spot, setSpot] = useState("");
  const [typed, type] = useState(nothingTyped);
  const [feature, setFeature] = useState("top");
  const [direction, direct] = useState(noDirection);
  // The hole that was set out is the one that was proposed when this screen
  // opened: what another phone sends meanwhile does not move it, and an outdated
  // plan does not count.
  const ready = !state.busy ? (holesOf(state.plan)[0] ?? null) : null;
  useEffect(() => {
    if (!next && ready && ready.ties.length >= 2) hold(ready);
  }, [next, ready]);
  const placed = taken ?? (next && !way ? asProposed(next, unit) : null);
  const kindOf = (id: string) => kindIn(job.sketch, id);

  const { sure, question } = useQuestion(job);
  // A hole is set out where one was proposed, unless a line is followed instead.
  const proposed = next && !beforehand(state.plan) ? holesOf(state.plan).map(({ east, north }) => ({ east, north })) : [];
  // What it met is not known yet, but it is a hole, which may lie beside a landmark.
  const put = async (p: Placed) => void ((await sure([...p.rows(name), { kind: "empty", point: name }], { proposed })) && place(p));

  const save = async () => {
    const deep = text(typed, unit);
    const row: Row = { kind: met!.kind, point: name };
    if (deep) row.depth = deep;
    if (met!.kind === "empty" && met!.stopped) row.stopped = met!.stopped;
    if (met!.kind === "found") Object.assign(row, { target: met!.target, spot, feature, ...directionRow(direction) });
    const rows = [...placed!.rows(name), row];
    if (!(await sure(rows, { proposed: taken ? proposed : [] }))) return;
    const ids = await store.logged(job.id, rows, met!.kind === "found" ? words.log.metIn(name, met!.target) : rowText(row));
    if (met!.kind === "found" && isEvent(job, met!.target)) leave("found", job.id, ids.at(-1));
    else leave("plan", job.id);
  };
  const elsewhere = () => (place(null), go(null));

  let step;
  if (way && !taken) step = <Where way={way} state={state} unit={unit} done={put} />;
  else if (!met) {
    step = (
      <>
        {taken ? <Done says={taken.says} again={elsewhere} /> : <Ways next={next} busy={state.busy} unit={unit} go={go} />}
        {placed && (
          <What
            job={job}
            likely={next?.seeks ?? []}
            done={(m) => {
              meet(m);
              direct(noDirection);
              if (m.kind === "empty") return;
              setSpot(spotsOf(kindOf(m.target))[0].id);
              setFeature(usualFeature(kindOf(m.target)));
            }}
          />
        )}
      </>
    );
  } else {
    const target = met.kind === "found" ? met.target : "";
    const expected = belief?.spots.find((s) => s.part === target || s.kind === target);
    step = (
      <>
        <Done says={placed!.says} again={() => (meet(null), elsewhere())} />
        <Done says={met.kind === "found" ? words.log.met(partName(target, kindOf(target))) : words.log.metNothing} again={() => meet(null)} />
        {met.kind === "found" ? (
          <>
            <div class="two">
              <Pick names label={words.log.spot} value={spot} onChange={setSpot} options={spotsOf(kindOf(target))} />
              <Pick names label={words.log.downTo} value={feature} onChange={setFeature} options={features()} />
            </div>
            {isLine(kindOf(target)) && <Runs state={state} pipe={kindOf(target) === "header"} value={direction} onChange={direct} />}
            {expected?.depth != null && <p class="hint">{words.log.expected(depth(expected.depth, expected.depth_sigma, unit), words.parts.toThe(expected.depth_to ?? "top"))}</p>}
          </>
        ) : (
          <>
            <Stopped value={met.stopped} onChange={(stopped) => meet({ kind: "empty", stopped })} />
            <p class="hint">{words.log.howDeepGo}{next ? ` ${words.log.planEmpty(length(next.stop_depth, unit))}` : ""}</p>
          </>
        )}
        <Keypad unit={unit} value={typed} onInput={type} label={met.kind === "found" ? words.log.howDeep : words.log.emptyTo} done={shown(typed, unit) ? words.common.save : words.log.noDepth} onDone={save} />
        <Cautions />
      </>
    );
  }
  return (
    <Screen title={words.log.title(name)} back={to("plan", job.id)}>
      {step}
      {question}
    </Screen>
  );
}

/** What was entered in an earlier step, with a way back to it. */
function Done({ says, again }: { says: string; again: () => void }) {
  return (
    <p class="done">
      <span>✓ {says}</span>
      <button type="button" class="plain" onClick={again}>
        {words.common.change}
      </button>
    </p>
  );
}
