// A stake, taped from two landmarks or holes: what was located or seen from above lies
// under stakes.
import { useState } from "preact/hooks";
import type { Believed } from "./believe";
import { useStore } from "./context";
import type { Row } from "./entry";
import { Pick } from "./form";
import { Keypad } from "./keypad";
import { words } from "./language";
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
    await store.logged(job.id, rows, words.measure.stakeSaid(name));
    done(name);
  };
  return (
    <>
      <p class="hint">{words.measure.stakeFrom(name)}</p>
      <div class="two">
        <Pick label={words.common.from} value={from[0]} options={points} onChange={(p) => pick([p, from[1]])} />
        <Pick label={words.measure.andFrom} value={from[1]} options={points} onChange={(p) => pick([from[0], p])} />
      </div>
      {from[0] === from[1] && <p class="warning">{words.common.onePoint}</p>}
      {at === 1 && (
        <p class="done">
          <span>{words.measure.lengthFrom(shown(typed[0], unit), from[0])}</span>
          <button type="button" class="plain" onClick={() => step(0)}>
            {words.common.change}
          </button>
        </p>
      )}
      <Keypad
        unit={unit}
        label={words.common.fromTo(from[at], name)}
        value={typed[at]}
        onInput={(t) => type(at === 0 ? [t, typed[1]] : [typed[0], t])}
        done={at === 0 ? words.measure.nextOther : words.measure.saveStake}
        onDone={forward}
      />
    </>
  );
}
