// A bearing from one point to another, by compass or against true north.
import { useState } from "preact/hooks";
import type { Believed } from "./believe";
import { useStore } from "./context";
import { Choice, Pick } from "./form";
import { Keypad } from "./keypad";
import { words } from "./language";
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
    await store.logged(state.job.id, [{ kind: "bearing", from, to: end, value: String(degrees), north }], words.measure.bearingSaid(from, end, degrees));
    go("plan", state.job.id);
  };
  return (
    <>
      <Choice label={words.common.northIs} value={north} onChange={setNorth} options={[["magnetic", words.common.magnetic], ["true", words.common.trueNorth]]} />
      <div class="two">
        <Pick label={words.common.standingAt} value={from} options={points} onChange={setFrom} />
        <Pick label={words.measure.lookingAt} value={end} options={points} onChange={setEnd} />
      </div>
      {from === end && <p class="warning">{words.common.onePoint}</p>}
      {degrees > 360 && <p class="warning">{words.common.most360}</p>}
      <Keypad unit="°" label={words.common.bearing(from, end)} value={typed} onInput={type} done={words.common.save} onDone={save} />
    </>
  );
}
