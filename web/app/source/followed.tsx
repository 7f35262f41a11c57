// A pipe or trench that the crew kept to from one hole or stake to another: one line
// lies at both.
import { useState } from "preact/hooks";
import type { Believed } from "./believe";
import { useStore } from "./context";
import { voided, type Row } from "./entry";
import { Pick, Words } from "./form";
import { words } from "./language";
import { go } from "./route";
import { partName, partsOf, pointsOf, rowText } from "./words";

export function Followed({ state }: { state: Believed }) {
  const store = useStore();
  const { job } = state;
  const gone = voided(job.rows);
  const rows = job.rows.filter((r) => !gone.has(r.id));
  const marks = new Set(partsOf(job.sketch).map((p) => p.id));
  const holes = pointsOf(job.sketch, rows).filter((p) => !marks.has(p.id));
  const lines = partsOf(job.sketch, "lateral", "header");
  const unnamed = ["header", "lateral"].filter((kind) => lines.some((l) => l.part === kind) || (kind === "header" && partsOf(job.sketch, "box").length > 0));
  const targets = [...unnamed.map((kind) => ({ id: kind, name: partName(kind, kind) })), ...lines.map((l) => ({ id: l.id, name: partName(l.id, l.part) }))];
  // What a hole met is usually what was followed from there.
  const metAt = (hole: string) => rows.findLast((r) => r.kind === "found" && r.point === hole && targets.some((t) => t.id === r.target))?.target;
  const [from, setFrom] = useState(holes.at(-2)?.id ?? "");
  const [end, setEnd] = useState(holes.at(-1)?.id ?? "");
  const [chosen, choose] = useState("");
  const [note, say] = useState("");
  const target = chosen || (metAt(from) ?? metAt(end) ?? targets[0]?.id ?? "");
  if (holes.length < 2 || !targets.length) return <p class="hint">{words.measure.bothEnds}</p>;
  const save = async () => {
    const row: Row = { kind: "followed", from, to: end, target, ...(note && { note }) };
    await store.logged(job.id, [row], rowText(row));
    go("plan", job.id);
  };
  return (
    <>
      <div class="two">
        <Pick label={words.measure.followedFrom} value={from} options={holes} onChange={setFrom} />
        <Pick label={words.measure.followedTo} value={end} options={holes} onChange={setEnd} />
      </div>
      <Pick names label={words.measure.whatFollowed} value={target} options={targets} onChange={choose} />
      {from === end ? (
        <p class="warning">{words.measure.oneHole}</p>
      ) : (
        <p class="hint">{words.measure.unbroken}</p>
      )}
      <Words label={words.common.note} value={note} onInput={say} />
      <button type="button" class="go wide" disabled={!from || !end || from === end} onClick={save}>
        {words.common.save}
      </button>
    </>
  );
}
