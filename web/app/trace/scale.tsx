// The step for scale and north, and for how far the sheet can be trusted.

import { useState } from "preact/hooks";
import { Choice, Length, Marks, Text } from "./fields";
import { odd } from "./drawn";
import { decimal, words } from "./language";
import { metres, metresPer, shown } from "./length";
import { pathLength, type Vec } from "./geometry";
import { asWritten, rescale, scaleOf } from "./plane";
import type { Shared } from "./state";
import { find, header, vertices, type Header } from "./sketch";

export function Scale({ c }: { c: Shared }) {
  const h = c.sketch.sketch;
  const put = (change: Partial<Header>) => c.set(header(c.sketch, change));
  const earth = h.plane === "wgs84";
  return (
    <div class="trace-panel trace-scale">
      <h2>{words.scale.title}</h2>
      {earth ? <p>{words.scale.earth}</p> : <SetScale c={c} />}
      {!earth && <North c={c} />}
      <h2>{words.scale.trust}</h2>
      <fieldset>
        <legend>{words.scale.howWell}</legend>
        {Object.entries(words.scale.trusts).map(([v, says]) => (
          <label class="trace-check" key={v}><input type="radio" name="trace-trust" checked={(h.trust ?? "roughly") === v} onChange={() => put({ trust: v })} /> {says}</label>
        ))}
        <label class="trace-check"><input type="checkbox" checked={h.mirrored === "unknown"} onChange={(e) => put({ mirrored: e.currentTarget.checked ? "unknown" : undefined })} /> {words.scale.mirrored}</label>
      </fieldset>
      <h2>{words.scale.sheet}</h2>
      <Text label={words.scale.drawnOn} value={String(h.drawn ?? "")} set={(v) => put({ drawn: v || undefined })} hint={words.scale.drawnHint} />
      <Text label={words.scale.drawnBy} value={String(h.by ?? "")} set={(v) => put({ by: v || undefined })} />
      <Text label={words.scale.permit} value={String(h.permit ?? "")} set={(v) => put({ permit: v || undefined })} />
      <Text label={words.scale.note} area wide value={String(h.note ?? "")} set={(v) => put({ note: v || undefined })} />
      <Marks unit={c.unit} />
    </div>
  );
}

function SetScale({ c }: { c: Shared }) {
  const [text, setText] = useState("");
  const [inch, setInch] = useState("1");
  const [feet, setFeet] = useState("");
  const h = c.sketch.sketch;
  const u = h.underlay;
  const lines = c.sketch.features.filter((f) => f.properties.length !== undefined && f.geometry.type === "LineString");
  const apply = (perUnit: number | undefined) => {
    if (!perUnit || !(perUnit > 1e-7 && perUnit < 1e4)) return c.say(words.scale.noScale);
    c.set(rescale(c.sketch, perUnit, c.unit));
    c.setDraft([]);
    c.use({ what: "move" });
    c.say(words.scale.isSet);
  };
  const m = metres(text, c.unit);
  const marked = c.tool.what === "scale" && c.draft.length === 2;
  const wrong = odd(c.sketch, c.unit).scale;
  const perInch = u?.inches && (u.size[0] * u.per) / u.inches[0]; // units to an inch of paper
  return (
    <>
      <p class="trace-hint">{c.plane.metres && u
        ? words.scale.whole(shown(u.size[0] * u.per * c.plane.metres, c.unit), shown(u.size[1] * u.per * c.plane.metres, c.unit))
        : c.plane.metres ? words.scale.oneUnit(h.unit ?? "") : words.scale.unset}</p>
      {wrong && <p class="trace-odd" role="status">{words.ties.scaleOdd(wrong)}</p>}
      <div class="trace-row">
        <button type="button" aria-pressed={c.tool.what === "scale"} onClick={() => { c.setDraft([]); c.use(c.tool.what === "scale" ? { what: "move" } : { what: "scale" }); }}>{words.scale.mark}</button>
        {lines.length > 0 && <Choice label={words.scale.orLine} value="" options={[["", words.common.choose], ...lines.map((f) => [f.id, `${f.id}: ${f.properties.length}`] as const)]}
          set={(id) => {
            const f = find(c.sketch, id);
            const written = f && metres(String(f.properties.length), h.unit === "m" ? "m" : "ft");
            const drawn = f ? pathLength(vertices(f).map(c.plane.view)) : 0;
            apply(written && drawn ? written / drawn : undefined);
          }} />}
      </div>
      {c.tool.what === "scale" && !marked && <p class="trace-hint" aria-live="polite">{c.draft.length === 0 ? words.scale.oneEnd : words.scale.otherEnd}</p>}
      {marked && (
        <div class="trace-row">
          <Length label={words.scale.between} unit={c.unit} value={text} set={setText} />
          <button type="button" class="trace-main" onClick={() => apply(m && scaleOf(c.draft[0], c.draft[1], m))}>{words.scale.set}</button>
        </div>
      )}
      <details>
        <summary>{words.scale.scaleNote}</summary>
        <div class="trace-row">
          <Text label={words.scale.inches} mode="decimal" value={inch} set={setInch} />
          <Text label={words.scale.areFeet} mode="decimal" value={feet} set={setFeet} />
          <button type="button" onClick={() => {
            const [i, f] = [decimal(inch), decimal(feet)];
            if (!(i > 0 && f > 0)) return c.say(words.scale.twoNumbers);
            if (perInch) return apply(((f / i) * metresPer.ft) / perInch);
            const note = `scale note on the sheet: ${i} in = ${f} ft`;
            c.set(header(c.sketch, { note: [h.note, note].filter(Boolean).join("; ") }));
            c.say(words.scale.onlyKept);
          }}>{words.scale.useNote}</button>
        </div>
        {!perInch && <p class="trace-hint">{words.scale.needsPaper}</p>}
      </details>
    </>
  );
}

function North({ c }: { c: Shared }) {
  const up = c.sketch.sketch.up;
  const put = (bearing: number, sigma: number) => c.set(header(c.sketch, { up: { ...up, bearing, sigma } }));
  const arrow = c.tool.what === "north";
  return (
    <>
      <h2>{words.scale.north}</h2>
      <p class="trace-hint" aria-live="polite">{arrow ? (c.draft.length ? words.scale.tip : words.scale.foot) : up ? words.scale.bears(up.bearing) : words.scale.noNorth}</p>
      <div class="trace-row">
        <button type="button" aria-pressed={arrow} onClick={() => { c.setDraft([]); c.use(arrow ? { what: "move" } : { what: "north" }); }}>{words.scale.arrow}</button>
        {up && <button type="button" onClick={() => c.set(header(c.sketch, { up: undefined }))}>{words.scale.unknownNorth}</button>}
      </div>
      <div class="trace-row">
        <Text label={words.scale.bearing} mode="decimal" value={up ? String(up.bearing) : ""} set={(v) => {
          const b = decimal(v);
          if (v === "") return c.set(header(c.sketch, { up: undefined }));
          if (!(Math.abs(b) <= 360)) return c.say(words.scale.badBearing);
          put(((b % 360) + 360) % 360, up?.sigma ?? 10);
        }} />
        <Choice label={words.scale.howSure} value={String(up?.sigma ?? 10)} set={(v) => up ? put(up.bearing, Number(v)) : c.say(words.scale.northFirst)}
          options={[...Object.entries(words.scale.sure),
            ...(up?.sigma && ![3, 10, 30].includes(up.sigma) ? [[String(up.sigma), `${up.sigma}°`] as const] : [])]} />
      </div>
    </>
  );
}
