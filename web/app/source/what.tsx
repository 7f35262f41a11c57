// What a hole met: one tap. Where on the part it was is asked together with the
// depth.
import type { Job } from "./entry";
import { Choice } from "./form";
import { words } from "./language";
import { partName, partsOf } from "./words";

/** What a hole met: a part, or a kind of part; nothing where it is empty. */
export type Met = { kind: "empty"; stopped: string } | { kind: "found"; target: string };

export function What({ job, likely, done }: { job: Job; likely: string[]; done: (m: Met) => void }) {
  const parts = partsOf(job.sketch, "box", "tank", "lateral", "header", "port");
  // What the plan expects here comes first, since it is usually right.
  const rank = (id: string) => (likely.includes(id) ? likely.indexOf(id) : 99);
  const sorted = [...parts].sort((a, b) => rank(a.id) - rank(b.id));
  const laterals = parts.filter((p) => p.part === "lateral");
  return (
    <>
      <h2>{words.log.whatMet}</h2>
      <div class="whats">
        <button type="button" class="way" onClick={() => done({ kind: "empty", stopped: "" })}>
          <b>{words.log.nothing}</b>
        </button>
        <button type="button" class="way" onClick={() => done({ kind: "empty", stopped: utility })}>
          <b>{words.log.other}</b>
        </button>
        {laterals.length > 1 && (
          <button type="button" class="way" onClick={() => done({ kind: "found", target: "lateral" })}>
            <b>{words.log.trench}</b>
          </button>
        )}
        {parts.some((p) => p.part === "box" || p.part === "header") && (
          <button type="button" class="way" onClick={() => done({ kind: "found", target: "header" })}>
            <b>{words.log.pipe}</b>
          </button>
        )}
        {sorted.map((p) => (
          <button type="button" class={likely.includes(p.id) ? "way first" : "way"} key={p.id} onClick={() => done({ kind: "found", target: p.id })}>
            <b>● {partName(p.id, p.part)}</b>
          </button>
        ))}
      </div>
    </>
  );
}

/** What stopped a hole on a line that is not of this system, or may not be. */
const utility = "utility";

/** Why a hole that met nothing of the system ended. */
export function Stopped({ value, onChange }: { value: string; onChange: (stopped: string) => void }) {
  return (
    <>
      <Choice label={words.log.why} value={value} onChange={onChange} options={[["", words.log.enough], ...Object.entries(words.parts.stops).map(([s, [choice]]): [string, string] => [s, choice])]} />
      {value === utility ? (
        <p class="warning" role="alert">{words.log.live}</p>
      ) : (
        value && <p class="hint">{words.log.noConclusion}</p>
      )}
    </>
  );
}

/** All that a hole may have met, in a list; the id of nothing is empty. */
export function meetable(job: Job): { id: string; name: string }[] {
  const parts = partsOf(job.sketch, "box", "tank", "lateral", "header", "port");
  const some = (...kinds: string[]) => parts.some((p) => kinds.includes(p.part));
  return [
    { id: "", name: words.log.nothingAtAll },
    ...parts.map((p) => ({ id: p.id, name: partName(p.id, p.part) })),
    ...(some("lateral") ? [{ id: "lateral", name: partName("lateral", "lateral") }] : []),
    ...(some("box", "header") ? [{ id: "header", name: partName("header", "header") }] : []),
  ];
}

/** What a depth may run down to. */
export const features = () => Object.entries(words.log.features).map(([id, name]) => ({ id, name }));

/** What the depth of a kind of part is usually measured to. */
export const usualFeature = (kind: string) => (kind === "header" ? "crown" : "top");

/** The spots of a kind of part that a hole may meet, the usual one first. */
export function spotsOf(kind: string): { id: string; name: string }[] {
  const w = words.log;
  if (isLine(kind)) return [{ id: "on", name: w.alongIt }, { id: "end", name: w.itsEnd }, { id: "start", name: w.itsStart }, { id: "edge", name: w.itsEdge }];
  const middle = { id: "center", name: w.itsMiddle };
  return kind === "port" ? [middle] : [{ id: "on", name: w.onIt }, middle, { id: "edge", name: w.anEdge }, { id: "corner", name: w.aCorner }];
}

/** Whether a kind of part is a line. */
export function isLine(kind: string): boolean {
  return kind === "lateral" || kind === "header";
}
