// A tape, or a cable pushed through a pipe, between two points.
import { useState } from "preact/hooks";
import type { Believed } from "./believe";
import { useStore } from "./context";
import { Choice, Pick } from "./form";
import { Keypad } from "./keypad";
import { useQuestion } from "./question";
import { go } from "./route";
import { nothingTyped, shown, text, unitOf } from "./units";
import { partName, partsOf, pointsOf } from "./words";

type Kind = "tape" | "slope" | "cable";

/** Where a cable may begin or stop: tanks, boxes, ports and far ends. */
const pipeEnds = (state: Believed) => [
  ...["tank", "box", "port"].flatMap((kind) => partsOf(state.job.sketch, kind)).map((p) => ({ id: p.id, name: partName(p.id, p.part) })),
  ...partsOf(state.job.sketch, "lateral").map((p) => ({ id: `${p.id}.end`, name: `far end of ${p.id}` })),
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
    await store.logged(state.job.id, [row], `${row.kind} ${from} to ${end}: ${shown(typed[0], unit)}`);
    go("plan", state.job.id);
  };
  return (
    <>
      <Choice
        label="With"
        value={kind}
        onChange={(k) => {
          setKind(k);
          step(0);
          const ends = k === "cable" ? pipeEnds(state) : pointsOf(state.job.sketch, state.job.rows);
          setFrom(ends[0]?.id ?? "");
          setEnd(ends[1]?.id ?? "");
        }}
        options={[["tape", "tape, level"], ["slope", "tape on a slope"], ["cable", "cable in the pipe"]]}
      />
      <div class="two">
        <Pick label="From" value={from} options={points} onChange={setFrom} />
        <Pick label="To" value={end} options={points} onChange={setEnd} />
      </div>
      {from === end && <p class="warning">▲ From and to are one point.</p>}
      {at === 1 && (
        <p class="done">
          <span>✓ {shown(typed[0], unit)} along the slope</span>
          <button type="button" class="plain" onClick={() => step(0)}>
            change
          </button>
        </p>
      )}
      <Keypad
        unit={unit}
        label={at === 0 ? `${from} to ${end}` : "How much higher one end is"}
        value={typed[at]}
        onInput={(t) => type(at === 0 ? [t, typed[1]] : [typed[0], t])}
        done={rising && at === 0 ? "Next: how steep" : "Save"}
        onDone={forward}
      />
      {question}
    </>
  );
}
