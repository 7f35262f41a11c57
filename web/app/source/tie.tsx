// A tape, or a cable pushed through a pipe, between two points.
import { useState } from "preact/hooks";
import type { Believed } from "./believe";
import { useStore } from "./context";
import { Choice, Pick } from "./form";
import { Keypad } from "./keypad";
import { words } from "./language";
import { useQuestion } from "./question";
import { go } from "./route";
import { nothingTyped, shown, text, unitOf } from "./units";
import { partName, partsOf, pointsOf } from "./words";

type Kind = "tape" | "slope" | "cable";

/** Where a cable may begin or stop: tanks, boxes, ports and far ends. */
const pipeEnds = (state: Believed) => [
  ...["tank", "box", "port"].flatMap((kind) => partsOf(state.job.sketch, kind)).map((p) => ({ id: p.id, name: partName(p.id, p.part) })),
  ...partsOf(state.job.sketch, "lateral").map((p) => ({ id: `${p.id}.end`, name: words.common.farEndOf(p.id) })),
];

export function Tie({ state }: { state: Believed }) {
  const store = useStore();
  const unit = unitOf(state.job.settings);
  const [kind, setKind] = useState<Kind>("tape");
  const points = [...(kind === "cable" ? pipeEnds(state) : []), ...pointsOf(state.job.sketch, state.job.rows)];
  const [from, setFrom] = useState(points[0]?.id ?? "");
  const [end, setEnd] = useState(points[1]?.id ?? "");
  const [typed, type] = useState([nothingTyped, nothingTyped]);
  const [at, step] = useState(0);
  const [value, rise] = typed.map((t) => text(t, unit));
  const rising = kind === "slope";
  const { sure, question } = useQuestion(state.job);
  const forward = async () => {
    if (!(at === 0 ? value : rise) || from === end) return;
    if (rising && at === 0) return step(1);
    const row = { kind: kind === "cable" ? "cable" : "tape", from, to: end, value, ...(rising && { rise }) };
    if (!(await sure([row]))) return;
    await store.logged(state.job.id, [row], (kind === "cable" ? words.measure.cableSaid : words.measure.tapeSaid)(from, end, shown(typed[0], unit)));
    go("plan", state.job.id);
  };
  return (
    <>
      <Choice
        label={words.measure.with}
        value={kind}
        onChange={(k) => {
          setKind(k);
          step(0);
          const ends = k === "cable" ? pipeEnds(state) : pointsOf(state.job.sketch, state.job.rows);
          setFrom(ends[0]?.id ?? "");
          setEnd(ends[1]?.id ?? "");
        }}
        options={[["tape", words.measure.tapeLevel], ["slope", words.measure.tapeSlope], ["cable", words.measure.cable]]}
      />
      <div class="two">
        <Pick label={words.common.from} value={from} options={points} onChange={setFrom} />
        <Pick label={words.common.to} value={end} options={points} onChange={setEnd} />
      </div>
      {from === end && <p class="warning">{words.common.fromToOnePoint}</p>}
      {at === 1 && (
        <p class="done">
          <span>{words.measure.alongSlope(shown(typed[0], unit))}</span>
          <button type="button" class="plain" onClick={() => step(0)}>
            {words.common.change}
          </button>
        </p>
      )}
      <Keypad
        unit={unit}
        label={at === 0 ? words.common.fromTo(from, end) : words.measure.higher}
        value={typed[at]}
        onInput={(t) => type(at === 0 ? [t, typed[1]] : [typed[0], t])}
        done={rising && at === 0 ? words.measure.nextSteep : words.common.save}
        onDone={forward}
      />
      {question}
    </>
  );
}
