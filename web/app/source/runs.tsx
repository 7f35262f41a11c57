// Which way a pipe or trench runs, as it is seen in a hole: a time on the face of a
// clock whose 12 is a landmark.
import type { Believed } from "./believe";
import { Pick } from "./form";
import { words } from "./language";
import { pointsOf } from "./words";

/** A direction as it was seen; an empty time: it was not. */
export interface Direction {
  time: string;
  facing: string;
  flow: string;
}

export const noDirection: Direction = { time: "", facing: "", flow: "" };

const times = Array.from({ length: 24 }, (_, i) => `${Math.floor(i / 2) || 12}:${i % 2 ? "30" : "00"}`);

export function Runs({ state, pipe, value, onChange }: { state: Believed; pipe: boolean; value: Direction; onChange: (d: Direction) => void }) {
  const points = pointsOf(state.job.sketch, state.job.rows);
  const facing = value.facing || points[0]?.id || "";
  const change = (part: Partial<Direction>) => onChange({ ...value, facing, ...part });
  const unseen = { id: "", name: words.common.notSeen };
  const flows = [unseen, { id: "along", name: words.log.thatWay }, { id: "against", name: words.log.otherWay }];
  return (
    <>
      <div class="two">
        <Pick names label={pipe ? words.log.pipeRuns : words.log.trenchRuns} value={value.time} onChange={(time) => change({ time })} options={[unseen, ...times.map((t) => ({ id: t, name: t }))]} />
        <Pick label={words.log.twelve} value={facing} onChange={(facing) => change({ facing })} options={points} />
      </div>
      {pipe && value.time && <Pick names label={words.log.flows} value={value.flow} onChange={(flow) => change({ flow })} options={flows} />}
      <p class="hint">{value.time ? words.log.runsToward(facing, value.time) : words.log.stand}</p>
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
