// A keypad for lengths and bearings: large keys for gloves, feet and inches with
// eighths, or a decimal number. A keyboard works too.
import { useLayoutEffect, useRef, useState } from "preact/hooks";
import { words } from "./language";
import { faulty, length, metres, nothingTyped, shown, type Typed, type Unit } from "./units";

type Part = "feet" | "inches";

/** One length being typed; the parent holds what was typed. */
export function Keypad({ unit, value, onInput, label, done, onDone }: {
  unit: Unit | "°";
  value: Typed;
  onInput: (t: Typed) => void;
  label: string;
  /** The label of the large key. */
  done: string;
  onDone: () => void;
}) {
  const [tenths, setTenths] = useState(unit !== "ft");
  const [part, setPart] = useState<Part>("feet");
  const pad = useRef<HTMLDivElement>(null);
  // A new length begins with its feet, one that is mended with its end: before the
  // first key is pressed and not a frame later.
  useLayoutEffect(() => setPart(value.inches || value.eighths ? "inches" : "feet"), [label]);

  // No key is without effect: what is not taken is said.
  const [refused, refuse] = useState("");
  const digit = (d: string) => {
    refuse("");
    const full = (what: "length" | Part, most: number, t: string) => t.length >= most && (refuse(words.keypad.refused(d, what, most)), true);
    if (tenths) {
      if (d === "." && value.decimal.includes(".")) refuse(words.keypad.onePointer);
      else if (!full("length", 7, value.decimal)) onInput({ ...nothingTyped, decimal: value.decimal + d });
    } else if (d === ".") setPart("inches");
    else if (part === "feet") {
      const feet = value.feet.replace(/^0+(?=\d)/, "");
      if (!full("feet", 3, feet)) onInput({ ...value, decimal: "", feet: (feet + d).replace(/^0+(?=\d)/, "") });
    } else if (!full("inches", 3, value.inches)) onInput({ ...value, decimal: "", inches: value.inches + d });
  };
  const back = () => {
    refuse("");
    if (tenths) onInput({ ...value, decimal: value.decimal.slice(0, -1) });
    else if (part === "inches" && value.eighths) onInput({ ...value, eighths: 0 });
    else if (part === "inches" && value.inches) onInput({ ...value, inches: value.inches.slice(0, -1) });
    else if (part === "inches") setPart("feet");
    else onInput({ ...value, feet: value.feet.slice(0, -1) });
  };
  const eighths = (n: number) => {
    setPart("inches");
    onInput({ ...value, decimal: "", eighths: value.eighths === n ? 0 : n });
  };
  const key = (e: KeyboardEvent) => {
    if (/^[0-9.]$/.test(e.key)) digit(e.key);
    else if (e.key === ",") digit(".");
    else if (e.key === "'" || e.key === '"' || e.key === " ") setPart(e.key === "'" || part === "feet" ? "inches" : "feet");
    else if (e.key === "Backspace") back();
    else if (e.key === "Enter" && (e.target as HTMLElement).tagName !== "BUTTON") finish();
    else return;
    e.preventDefault();
  };

  const says = shown(value, unit);
  const wrong = faulty(value);
  const finish = () => !wrong && onDone();
  const inchesAlone = !wrong && value.feet === "" && Number(value.inches) >= 12;
  return (
    <div class="keypad" ref={pad} onKeyDown={key} role="group" aria-label={label}>
      <div class="typed" tabIndex={0} role="textbox" aria-readonly="true" aria-label={words.keypad.says(label, says)}>
        {tenths ? (
          <output aria-live="polite">{value.decimal || "–"} {unit === "°" ? unit : words.units.signs[unit]}</output>
        ) : (
          <output aria-live="polite">
            <span class={part === "feet" ? "here" : ""}>{value.feet || "–"}′</span>{" "}
            <span class={part === "inches" ? "here" : ""}>
              {value.inches || (value.eighths ? "" : "–")}
              {["", "⅛", "¼", "⅜", "½", "⅝", "¾", "⅞"][value.eighths]}″
            </span>
          </output>
        )}
      </div>
      {(wrong || refused) && <p class="warning" role="alert">▲ {wrong || refused}</p>}
      {inchesAlone && <p class="hint" role="status">{words.keypad.equals(says, length(metres(value, "ft")!, "ft"))}</p>}
      <div class="keys">
        {["1", "2", "3", "4", "5", "6", "7", "8", "9"].map((d) => (
          <button type="button" class="key" key={d} onClick={() => digit(d)}>
            {d}
          </button>
        ))}
        {tenths ? (
          <button type="button" class="key" aria-label={words.keypad.point} onClick={() => digit(".")}>
            .
          </button>
        ) : (
          <button type="button" class="key word" aria-pressed={part === "inches"} onClick={() => setPart(part === "feet" ? "inches" : "feet")}>
            {words.keypad[part]}
          </button>
        )}
        <button type="button" class="key" onClick={() => digit("0")}>
          0
        </button>
        <button type="button" class="key" aria-label={words.keypad.erase} onClick={back}>
          ⌫
        </button>
      </div>
      {!tenths && (
        <div class="fractions" role="group" aria-label={words.keypad.partOfInch}>
          {["¼", "½", "¾"].map((f, i) => (
            <button type="button" class="key" key={f} aria-pressed={value.eighths === 2 * (i + 1)} onClick={() => eighths(2 * (i + 1))}>
              {f}
            </button>
          ))}
          <button type="button" class="key" aria-label={words.keypad.eighth} onClick={() => eighths((value.eighths + 1) % 8)}>
            +⅛
          </button>
        </div>
      )}
      <div class="padfoot">
        {unit === "ft" && (
          <button type="button" class="plain" onClick={() => (setTenths(!tenths), onInput(nothingTyped))}>
            {tenths ? words.keypad.feetInches : words.keypad.feetTenths}
          </button>
        )}
        <button type="button" class="go" disabled={!!wrong} onClick={finish}>
          {done}
        </button>
      </div>
    </div>
  );
}
