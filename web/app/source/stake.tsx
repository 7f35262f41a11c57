// A stake, taped from two landmarks or holes: what was located or seen from above lies
// under stakes.
import { useState } from "preact/hooks";
import type { Believed } from "./believe";
import { useStore } from "./context";
import type { Row } from "./entry";
import { Pick } from "./form";
import { Keypad } from "./keypad";
import { nothingTyped, shown, text, unitOf } from "./units";
import { freeName, pointsOf } from "./words";

export function Stake({ state, done }: { state: Believed; done: (name: string) => void }) {
  const store = useStore();
  const { job } = state;
  const unit = unitOf(job.settings);
  const points = pointsOf(job.sketch, job.rows);
  const [name] = useState(() => freeName("S", store.tag, job.sketch, job.rows));
  const [from, pick] = useState([points[0]?.id ?? "", points[1]?.id ?? ""]);
  const [typed, type] = useState([nothingTyped, nothingTyped]);
  const [at, step] = useState(0);
  const forward = async () => {
    const values = typed.map((t) => text(t, unit));
    if (!values[at] || from[0] === from[1]) return;
    if (at === 0) return step(1);
    const rows: Row[] = from.map((f, i) => ({ kind: "tape", from: f, to: name, value: values[i] }));
    await store.logged(job.id, rows, `stake ${name}`);
    done(name);
  };
  return (
    <>
      <p class="hint">Stake {name}: tape it from two points.</p>
      <div class="two">
        <Pick label="From" value={from[0]} options={points} onChange={(p) => pick([p, from[1]])} />
        <Pick label="and from" value={from[1]} options={points} onChange={(p) => pick([from[0], p])} />
      </div>
      {from[0] === from[1] && <p class="warning">▲ These are one point.</p>}
      {at === 1 && (
        <p class="done">
          <span>
            ✓ {shown(typed[0], unit)} from {from[0]}
          </span>
          <button type="button" class="plain" onClick={() => step(0)}>
            change
          </button>
        </p>
      )}
      <Keypad
        unit={unit}
        label={`${from[at]} to ${name}`}
        value={typed[at]}
        onInput={(t) => type(at === 0 ? [t, typed[1]] : [typed[0], t])}
        done={at === 0 ? "Next: the other tape" : "Save the stake"}
        onDone={forward}
      />
    </>
  );
}
