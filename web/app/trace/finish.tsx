// The last step: what is still missing or wrong, and saving.

import type { Finding } from "./check";
import type { Shared } from "./state";

const of = (n: number, one: string, more = `${one}s`) => `${n} ${n === 1 ? one : more}`;

export function Finish({ c, found, refused, saving, save, go }: {
  c: Shared; found: Finding[]; refused: string[]; saving: boolean; save: () => void; go: (part: string) => void;
}) {
  const stops = found.some((f) => f.stops);
  const count = (kind: string) => c.sketch.features.filter((f) => f.properties.part === kind).length;
  const ties = c.sketch.features.reduce((n, f) => n + (f.properties.ties ?? []).length, 0);
  return (
    <div class="trace-panel trace-finish">
      <h2>Save</h2>
      <p>{of(c.sketch.features.length, "part")}: {of(count("landmark"), "landmark")}, {of(count("box"), "box", "boxes")}, {of(count("lateral"), "lateral")}; {of(ties, "tie")}.</p>
      <ul class="trace-findings">
        {refused.map((says) => <li key={says} class="trace-stop">⚠ Must be fixed: {says}</li>)}
        {found.map((f) => (
          <li key={`${f.part} ${f.says}`} class={f.stops ? "trace-stop" : undefined}>
            {f.stops ? "⚠ Must be fixed: " : "○ "}{f.part ? <strong>{f.part}: </strong> : ""}{f.says}
            {f.part && <button type="button" onClick={() => go(f.part!)}>Go to {f.part}</button>}
          </li>
        ))}
        {found.length === 0 && refused.length === 0 && <li>✓ Nothing is missing.</li>}
      </ul>
      <button type="button" class="trace-main" disabled={stops || saving} onClick={save}>{saving ? "Saving…" : "Save the sketch"}</button>
    </div>
  );
}
