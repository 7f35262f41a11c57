// Which way a pipe or trench runs, as it is seen in a hole: a time on the face of a
// clock whose 12 is a landmark.
import type { Believed } from "./believe";
import { Pick } from "./form";
import { pointsOf } from "./words";

/** A direction as it was seen; an empty time: it was not. */
export interface Direction {
  time: string;
  facing: string;
  flow: string;
}

export const noDirection: Direction = { time: "", facing: "", flow: "" };

const times = Array.from({ length: 24 }, (_, i) => `${Math.floor(i / 2) || 12}:${i % 2 ? "30" : "00"}`);
const timeOptions = [{ id: "", name: "not seen" }, ...times.map((t) => ({ id: t, name: t }))];
const flows = [{ id: "", name: "not seen" }, { id: "along", name: "that way" }, { id: "against", name: "the other way" }];

export function Runs({ state, pipe, value, onChange }: { state: Believed; pipe: boolean; value: Direction; onChange: (d: Direction) => void }) {
  const points = pointsOf(state.job.sketch, state.job.rows);
  const facing = value.facing || points[0]?.id || "";
  const change = (part: Partial<Direction>) => onChange({ ...value, facing, ...part });
  return (
    <>
      <div class="two">
        <Pick names label={pipe ? "The pipe runs toward" : "The trench runs toward"} value={value.time} onChange={(time) => change({ time })} options={timeOptions} />
        <Pick label="where 12 o'clock is" value={facing} onChange={(facing) => change({ facing })} options={points} />
      </div>
      {pipe && value.time && <Pick names label="Water flows" value={value.flow} onChange={(flow) => change({ flow })} options={flows} />}
      <p class="hint">{value.time ? `Standing at the hole and facing ${facing}, it runs toward ${value.time}.` : "Stand at the hole and face the landmark. Either end of the line will do."}</p>
    </>
  );
}

/** The columns of the log for a direction. */
export function directionRow(d: Direction): Record<string, string> {
  if (!d.time) return {};
  const row: Record<string, string> = { runs: d.time, facing: d.facing };
  if (d.flow) row.flow = d.flow;
  return row;
}
