// A bearing from one point to another, by compass or against true north.
import { useState } from "preact/hooks";
import type { Believed } from "./believe";
import { useStore } from "./context";
import { Choice, Pick } from "./form";
import { Keypad } from "./keypad";
import { go } from "./route";
import { nothingTyped } from "./units";
import { pointsOf } from "./words";

export function Bearing({ state }: { state: Believed }) {
  const store = useStore();
  const points = pointsOf(state.job.sketch, state.job.rows);
  const [from, setFrom] = useState(points[0]?.id ?? "");
  const [end, setEnd] = useState(points[1]?.id ?? "");
  const [north, setNorth] = useState<"magnetic" | "true">("magnetic");
  const [typed, type] = useState(nothingTyped);
  const degrees = typed.decimal === "" ? NaN : Number(typed.decimal);
  const save = async () => {
    if (!(degrees >= 0 && degrees <= 360) || from === end) return;
    await store.logged(state.job.id, [{ kind: "bearing", from, to: end, value: String(degrees), north }], `bearing ${from} to ${end}: ${degrees}°`);
    go("plan", state.job.id);
  };
  return (
    <>
      <Choice label="North is" value={north} onChange={setNorth} options={[["magnetic", "magnetic, by compass"], ["true", "true"]]} />
      <div class="two">
        <Pick label="Standing at" value={from} options={points} onChange={setFrom} />
        <Pick label="looking at" value={end} options={points} onChange={setEnd} />
      </div>
      {from === end && <p class="warning">▲ These are one point.</p>}
      {degrees > 360 && <p class="warning">▲ A bearing has 360° at most.</p>}
      <Keypad unit="°" label={`bearing ${from} to ${end}`} value={typed} onInput={type} done="Save" onDone={save} />
    </>
  );
}
