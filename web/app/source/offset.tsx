// Along a line and square off it: two lengths and a side.
import { useState } from "preact/hooks";
import { Choice } from "./form";
import { Keypad } from "./keypad";
import { words } from "./language";
import { nothingTyped, shown, text, type Unit } from "./units";

export function Offset({ from, along, unit, end, done }: {
  from: string;
  along: string;
  unit: Unit;
  /** The label of the key that finishes. */
  end: string;
  done: (value: string, offset: string, says: string) => void;
}) {
  const [side, setSide] = useState<"right" | "left">("right");
  const [typed, type] = useState([nothingTyped, nothingTyped]);
  const [at, step] = useState(0);
  const forward = () => {
    const [value, off] = typed.map((t) => text(t, unit));
    if (at === 0) return value && step(1);
    if (!off) return;
    done(value, side === "left" ? `-${off}` : off, words.log.offset(shown(typed[0], unit), from, along, shown(typed[1], unit), side));
  };
  return (
    <>
      {at === 1 && (
        <>
          <p class="done">
            <span>{words.log.along(shown(typed[0], unit))}</span>
            <button type="button" class="plain" onClick={() => step(0)}>
              {words.common.change}
            </button>
          </p>
          <Choice label={words.log.lies(from, along)} value={side} onChange={setSide} options={[["left", words.log.left], ["right", words.log.right]]} />
        </>
      )}
      <Keypad
        unit={unit}
        label={at === 0 ? words.log.alongFrom(from) : words.log.square}
        value={typed[at]}
        onInput={(t) => type(at === 0 ? [t, typed[1]] : [typed[0], t])}
        done={at === 0 ? words.log.nextSquare : end}
        onDone={forward}
      />
    </>
  );
}
