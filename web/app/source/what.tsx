// What a hole met: one tap, after where on the part if that is not the usual.
import { useState } from "preact/hooks";
import type { Job } from "./entry";
import { Choice } from "./form";
import { partName, partsOf } from "./words";

export type Met = { kind: "empty" } | { kind: "found"; target: string; spot: string };

type On = "on" | "end" | "edge";

export function What({ job, likely, done }: { job: Job; likely: string[]; done: (m: Met) => void }) {
  const [on, set] = useState<On>("on");
  const parts = partsOf(job.sketch, "box", "tank", "lateral", "header", "port");
  // What the plan expects here comes first: usually it is that.
  const rank = (id: string) => (likely.includes(id) ? likely.indexOf(id) : 99);
  const sorted = [...parts].sort((a, b) => rank(a.id) - rank(b.id));
  const laterals = parts.filter((p) => p.part === "lateral");
  const found = (target: string, part: string) => {
    const line = part === "lateral" || part === "header";
    done({ kind: "found", target, spot: on === "edge" ? "edge" : on === "end" && line ? "end" : line ? "on" : "center" });
  };
  return (
    <>
      <h2>What did it meet?</h2>
      <div class="whats">
        <button type="button" class="way" onClick={() => done({ kind: "empty" })}>
          <b>○ Nothing</b>
        </button>
        {laterals.length > 1 && (
          <button type="button" class="way" onClick={() => found("lateral", "lateral")}>
            <b>A trench, not sure which</b>
          </button>
        )}
        {sorted.map((p) => (
          <button type="button" class={likely.includes(p.id) ? "way first" : "way"} key={p.id} onClick={() => found(p.id, p.part)}>
            <b>● {partName(p.id, p.part)}</b>
          </button>
        ))}
      </div>
      <Choice
        label="Where on it (say so before you tap)"
        value={on}
        onChange={set}
        options={[["on", "the usual: along or over it"], ["end", "its far end"], ["edge", "its edge"]]}
      />
    </>
  );
}
