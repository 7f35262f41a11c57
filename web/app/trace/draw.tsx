// The drawing step: a kind of part is chosen, and its places are touched.

import { useState } from "preact/hooks";
import { Choice, Length } from "./fields";
import { metres } from "./length";
import { again, finish } from "./place";
import { type Shared, formWords, words } from "./state";
import { across, find, forms, kinds, removePart, vertices } from "./sketch";

export function Draw({ c }: { c: Shared }) {
  const t = c.tool;
  const kind = t.what === "part" ? t.kind : undefined;
  const f = find(c.sketch, c.selected);
  return (
    <div class="trace-panel trace-draw">
      <div class="trace-tools" role="group" aria-label="What to draw">
        <button type="button" aria-pressed={t.what === "move"} onClick={() => { c.setDraft([]); c.use({ what: "move" }); }}>Select</button>
        {kinds.map((k) => (
          <button type="button" key={k} aria-pressed={kind === k} onClick={() => { c.setDraft([]); c.select(undefined); c.use({ what: "part", kind: k, form: forms(k)[0] }); }}>
            {words[k]}
          </button>
        ))}
      </div>
      {t.what === "part" && (
        <>
          <p class="trace-hint" aria-live="polite">{hint(c)}</p>
          <div class="trace-row">
            {forms(t.kind).length > 1 && (
              <div class="trace-row" role="group" aria-label="Drawn as">
                {forms(t.kind).map((form) => (
                  <button type="button" key={form} aria-pressed={t.form === form} onClick={() => { c.setDraft([]); c.use({ ...t, form }); }}>{formWords[form]}</button>
                ))}
              </div>
            )}
            {c.draft.length > 0 && <button type="button" class="trace-main" onClick={() => finish(c, c.draft)}>Done</button>}
            {c.draft.length > 0 && <button type="button" onClick={() => c.setDraft(c.draft.slice(0, -1))}>Remove last place</button>}
          </div>
        </>
      )}
      {f && t.what !== "repeat" && (
        <div class="trace-row">
          <strong class="trace-name">{words[f.properties.part]} {f.id}</strong>
          {(f.properties.part === "lateral" || f.properties.part === "header") && f.geometry.type === "LineString" && (
            <button type="button" onClick={() => c.use({ what: "repeat", id: f.id, copies: 5 })}>Repeat…</button>
          )}
          <button type="button" onClick={() => { c.set(removePart(c.sketch, f.id)); c.select(undefined); c.say(`${f.id} is deleted.`); }}>Delete</button>
        </div>
      )}
      {t.what === "move" && !f && <p class="trace-hint">Touch a part to select it; drag its rings to move them. A ring with + pulls out a bend. Two fingers move the sheet.</p>}
      {t.what === "repeat" && <Repeat c={c} id={t.id} copies={t.copies} />}
    </div>
  );
}

function hint(c: Shared): string {
  if (c.tool.what !== "part") return "";
  const { kind, form } = c.tool;
  const n = c.draft.length;
  if (form === "Point") return kind === "landmark" ? "Touch what can still be seen today: house corners, posts, the well." : "Touch its middle.";
  if (kind === "lateral") return n === 0 ? "Touch its end at the box, then its far end." : "Now its far end.";
  if (form === "LineString") return n < 2 ? "Touch along it, in the direction of flow." : "Touch the next place, or the last one again to finish.";
  return n < 3 ? "Touch its corners, one after another." : "Touch the next corner, or the first one again to close it.";
}

function Repeat({ c, id, copies }: { c: Shared; id: string; copies: number }) {
  const [spacing, setSpacing] = useState("");
  const [side, setSide] = useState("right");
  const per = c.plane.metres;
  const m = metres(spacing, c.unit);
  const f = find(c.sketch, id);
  if (!f) return null;
  const v = vertices(f).map(c.plane.view);
  // Right and left as the sheet is read, whichever way the line was drawn.
  const step = per && m ? across(v, m / per, true) : undefined;
  const down = step && (Math.abs(step[1]) > Math.abs(step[0]) ? step[1] < 0 : step[0] > 0);
  return (
    <div class="trace-repeat">
      <p class="trace-hint" aria-live="polite">{id} again, {copies} times: touch where the last one starts{per ? ", or give the spacing" : ""}.</p>
      <div class="trace-row">
        <button type="button" aria-label="One less" disabled={copies < 2} onClick={() => c.use({ what: "repeat", id, copies: copies - 1 })}>−</button>
        <output class="trace-count">{copies} more</output>
        <button type="button" aria-label="One more" disabled={copies > 29} onClick={() => c.use({ what: "repeat", id, copies: copies + 1 })}>+</button>
        <button type="button" onClick={() => c.use({ what: "move" })}>Cancel</button>
      </div>
      {per && (
        <div class="trace-row">
          <Length label="Spacing" value={spacing} set={setSpacing} unit={c.unit} />
          <Choice label="Towards" value={side} set={setSide} options={[["right", "down or right on the sheet"], ["left", "up or left on the sheet"]]} />
          <button type="button" class="trace-main" disabled={!step} onClick={() => step && again(c, (side === "right") === down ? step : [-step[0], -step[1]])}>Repeat</button>
        </div>
      )}
    </div>
  );
}
