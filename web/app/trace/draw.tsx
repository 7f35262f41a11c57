// The drawing step: a kind of part is chosen, and its places are touched.

import { useState } from "preact/hooks";
import { Choice, Length } from "./fields";
import { words } from "./language";
import { metres } from "./length";
import { again, finish } from "./place";
import type { Shared } from "./state";
import { across, find, forms, kinds, removePart, vertices } from "./sketch";

export function Draw({ c }: { c: Shared }) {
  const t = c.tool;
  const kind = t.what === "part" ? t.kind : undefined;
  const f = find(c.sketch, c.selected);
  return (
    <div class="trace-panel trace-draw">
      <div class="trace-tools" role="group" aria-label={words.draw.what}>
        <button type="button" aria-pressed={t.what === "move"} onClick={() => { c.setDraft([]); c.use({ what: "move" }); }}>{words.draw.select}</button>
        {kinds.map((k) => (
          <button type="button" key={k} aria-pressed={kind === k} onClick={() => { c.setDraft([]); c.select(undefined); c.use({ what: "part", kind: k, form: forms(k)[0] }); }}>
            {words.kinds[k]}
          </button>
        ))}
      </div>
      {t.what === "part" && (
        <>
          <p class="trace-hint" aria-live="polite">{hint(c)}</p>
          <div class="trace-row">
            {forms(t.kind).length > 1 && (
              <div class="trace-row" role="group" aria-label={words.draw.drawnAs}>
                {forms(t.kind).map((form) => (
                  <button type="button" key={form} aria-pressed={t.form === form} onClick={() => { c.setDraft([]); c.use({ ...t, form }); }}>{words.forms[form]}</button>
                ))}
              </div>
            )}
            {c.draft.length > 0 && <button type="button" class="trace-main" onClick={() => finish(c, c.draft)}>{words.draw.done}</button>}
            {c.draft.length > 0 && <button type="button" onClick={() => c.setDraft(c.draft.slice(0, -1))}>{words.draw.removeLast}</button>}
          </div>
        </>
      )}
      {f && t.what !== "repeat" && (
        <div class="trace-row">
          <strong class="trace-name">{words.kinds[f.properties.part]} {f.id}</strong>
          {(f.properties.part === "lateral" || f.properties.part === "header") && f.geometry.type === "LineString" && (
            <button type="button" onClick={() => c.use({ what: "repeat", id: f.id, copies: 5 })}>{words.draw.repeatAsk}</button>
          )}
          <button type="button" onClick={() => { c.set(removePart(c.sketch, f.id)); c.select(undefined); c.say(words.common.removed(f.id)); }}>{words.common.remove}</button>
        </div>
      )}
      {t.what === "move" && !f && <p class="trace-hint">{words.draw.hint}</p>}
      {t.what === "repeat" && <Repeat c={c} id={t.id} copies={t.copies} />}
    </div>
  );
}

function hint(c: Shared): string {
  if (c.tool.what !== "part") return "";
  const { kind, form } = c.tool;
  const n = c.draft.length;
  if (form === "Point") return kind === "landmark" ? words.draw.landmark : words.draw.middle;
  if (kind === "lateral") return n === 0 ? words.draw.endAtBox : words.draw.farEnd;
  if (form === "LineString") return n < 2 ? words.draw.along : words.draw.nextPlace;
  return n < 3 ? words.draw.corners : words.draw.nextCorner;
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
      <p class="trace-hint" aria-live="polite">{words.draw.again(id, copies, !!per)}</p>
      <div class="trace-row">
        <button type="button" aria-label={words.draw.less} disabled={copies < 2} onClick={() => c.use({ what: "repeat", id, copies: copies - 1 })}>−</button>
        <output class="trace-count">{words.draw.copies(copies)}</output>
        <button type="button" aria-label={words.draw.more} disabled={copies > 29} onClick={() => c.use({ what: "repeat", id, copies: copies + 1 })}>+</button>
        <button type="button" onClick={() => c.use({ what: "move" })}>{words.draw.cancel}</button>
      </div>
      {per && (
        <div class="trace-row">
          <Length label={words.draw.spacing} value={spacing} set={setSpacing} unit={c.unit} />
          <Choice label={words.draw.towards} value={side} set={setSide} options={[["right", words.draw.downRight], ["left", words.draw.upLeft]]} />
          <button type="button" class="trace-main" disabled={!step} onClick={() => step && again(c, (side === "right") === down ? step : [-step[0], -step[1]])}>{words.draw.repeat}</button>
        </div>
      )}
    </div>
  );
}
