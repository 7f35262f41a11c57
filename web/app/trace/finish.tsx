// The last step: what is still missing or wrong, and saving.

import type { Finding } from "./check";
import { words } from "./language";
import type { Shared } from "./state";

export function Finish({ c, found, refused, saving, save, go }: {
  c: Shared; found: Finding[]; refused: string[]; saving: boolean; save: () => void; go: (part: string) => void;
}) {
  const stops = found.some((f) => f.stops);
  const count = (kind: string) => c.sketch.features.filter((f) => f.properties.part === kind).length;
  const ties = c.sketch.features.reduce((n, f) => n + (f.properties.ties ?? []).length, 0);
  return (
    <div class="trace-panel trace-finish" tabIndex={0} role="region" aria-label={words.finish.title}>
      <h2>{words.finish.title}</h2>
      <p>{words.finish.counts(c.sketch.features.length, count("landmark"), count("box"), count("lateral"), ties)}</p>
      <ul class="trace-findings">
        {refused.map((says) => <li key={says} class="trace-stop">{words.finish.mustFix} {says}</li>)}
        {found.map((f) => (
          <li key={`${f.part} ${f.says}`} class={f.stops ? "trace-stop" : undefined}>
            {f.stops ? `${words.finish.mustFix} ` : "○ "}{f.part ? <strong>{f.part}: </strong> : ""}{f.says}
            {f.part && <button type="button" onClick={() => go(f.part!)}>{words.finish.goTo(f.part)}</button>}
          </li>
        ))}
        {found.length === 0 && refused.length === 0 && <li>{words.finish.complete}</li>}
      </ul>
      <button type="button" class="trace-main" disabled={stops || saving} onClick={save}>{saving ? words.finish.saving : words.finish.save}</button>
    </div>
  );
}
