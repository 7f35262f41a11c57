// The step for scale and north, and for how far the sheet can be trusted.

import { useState } from "preact/hooks";
import { Choice, Length, Marks, Text } from "./fields";
import { odd } from "./drawn";
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
      <h2>Scale</h2>
      {earth ? <p>The drawing is in longitude and latitude: its scale and north are given.</p> : <SetScale c={c} />}
      {!earth && <North c={c} />}
      <h2>Trust</h2>
      <fieldset>
        <legend>How well does the sheet keep scale and angles?</legend>
        {([["to-scale", "To scale: drawn with a ruler, and the figures agree with it"], ["roughly", "Roughly: meant to scale, drawn by hand"],
          ["not-to-scale", "Not to scale: says NTS, or the figures contradict it"]] as const).map(([v, says]) => (
          <label class="trace-check" key={v}><input type="radio" name="trace-trust" checked={(h.trust ?? "roughly") === v} onChange={() => put({ trust: v })} /> {says}</label>
        ))}
        <label class="trace-check"><input type="checkbox" checked={h.mirrored === "unknown"} onChange={(e) => put({ mirrored: e.currentTarget.checked ? "unknown" : undefined })} /> It may have been drawn mirrored</label>
      </fieldset>
      <h2>The sheet</h2>
      <Text label="Drawn on" value={String(h.drawn ?? "")} set={(v) => put({ drawn: v || undefined })} hint="as written, or 1987-06-02" />
      <Text label="Drawn by" value={String(h.by ?? "")} set={(v) => put({ by: v || undefined })} />
      <Text label="Permit" value={String(h.permit ?? "")} set={(v) => put({ permit: v || undefined })} />
      <Text label="Note" area wide value={String(h.note ?? "")} set={(v) => put({ note: v || undefined })} />
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
    if (!perUnit || !(perUnit > 1e-7 && perUnit < 1e4)) return c.say("That gives no scale: mark two different places and type a length above zero.");
    c.set(rescale(c.sketch, perUnit, c.unit));
    c.setDraft([]);
    c.use({ what: "move" });
    c.say("The scale is set.");
  };
  const m = metres(text, c.unit);
  const marked = c.tool.what === "scale" && c.draft.length === 2;
  const wrong = odd(c.sketch, c.unit).scale;
  const perInch = u?.inches && (u.size[0] * u.per) / u.inches[0]; // units to an inch of paper
  return (
    <>
      <p class="trace-hint">{c.plane.metres && u
        ? `Set: the whole sheet is ${shown(u.size[0] * u.per * c.plane.metres, c.unit)} by ${shown(u.size[1] * u.per * c.plane.metres, c.unit)} on the ground.`
        : c.plane.metres ? `Set: one unit of the drawing is ${h.unit}.` : "Not set. A length written on the sheet, between two places on it, sets it."}</p>
      {wrong && <p class="trace-odd" role="status">⚠ {wrong}</p>}
      <div class="trace-row">
        <button type="button" aria-pressed={c.tool.what === "scale"} onClick={() => { c.setDraft([]); c.use(c.tool.what === "scale" ? { what: "move" } : { what: "scale" }); }}>Mark two places</button>
        {lines.length > 0 && <Choice label="Or a line's written length" value="" options={[["", "choose"], ...lines.map((f) => [f.id, `${f.id}: ${f.properties.length}`] as const)]}
          set={(id) => {
            const f = find(c.sketch, id);
            const written = f && metres(String(f.properties.length), h.unit === "m" ? "m" : "ft");
            const drawn = f ? pathLength(vertices(f).map(c.plane.view)) : 0;
            apply(written && drawn ? written / drawn : undefined);
          }} />}
      </div>
      {c.tool.what === "scale" && !marked && <p class="trace-hint" aria-live="polite">{c.draft.length === 0 ? "Touch one end of a written length." : "Now its other end."}</p>}
      {marked && (
        <div class="trace-row">
          <Length label="Length written between them" unit={c.unit} value={text} set={setText} />
          <button type="button" class="trace-main" onClick={() => apply(m && scaleOf(c.draft[0], c.draft[1], m))}>Set the scale</button>
        </div>
      )}
      <details>
        <summary>A scale note on the sheet</summary>
        <div class="trace-row">
          <Text label="Inches of paper" mode="decimal" value={inch} set={setInch} />
          <Text label="are feet on the ground" mode="decimal" value={feet} set={setFeet} />
          <button type="button" onClick={() => {
            const [i, f] = [Number(inch), Number(feet)];
            if (!(i > 0 && f > 0)) return c.say("A scale note has two numbers above zero, as in 1 in = 20 ft.");
            if (perInch) return apply(((f / i) * metresPer.ft) / perInch);
            const note = `scale note on the sheet: ${i} in = ${f} ft`;
            c.set(header(c.sketch, { note: [h.note, note].filter(Boolean).join("; ") }));
            c.say("The size of the paper is not known, so the note is only kept. Choose the paper under Sheet, or mark two places.");
          }}>Use the note</button>
        </div>
        {!perInch && <p class="trace-hint">Needs the size of the paper: choose it under Sheet when squaring up.</p>}
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
      <h2>North</h2>
      <p class="trace-hint" aria-live="polite">{arrow ? (c.draft.length ? "Now the tip of the arrow." : "Touch the foot of the north arrow.") : up ? `Up on the sheet bears ${up.bearing}° from true north.` : "Not set."}</p>
      <div class="trace-row">
        <button type="button" aria-pressed={arrow} onClick={() => { c.setDraft([]); c.use(arrow ? { what: "move" } : { what: "north" }); }}>Draw the arrow</button>
        {up && <button type="button" onClick={() => c.set(header(c.sketch, { up: undefined }))}>North is not known</button>}
      </div>
      <div class="trace-row">
        <Text label="Bearing of up, degrees" mode="decimal" value={up ? String(up.bearing) : ""} set={(v) => {
          const b = Number(v);
          if (v === "") return c.set(header(c.sketch, { up: undefined }));
          if (!(Math.abs(b) <= 360)) return c.say("A bearing: degrees clockwise from true north, 0 to 360.");
          put(((b % 360) + 360) % 360, up?.sigma ?? 10);
        }} />
        <Choice label="How sure" value={String(up?.sigma ?? 10)} set={(v) => up ? put(up.bearing, Number(v)) : c.say("Set north first.")}
          options={[["3", "surveyed: 3°"], ["10", "drawn with care: 10°"], ["30", "by guess, or plan north: 30°"],
            ...(up?.sigma && ![3, 10, 30].includes(up.sigma) ? [[String(up.sigma), `${up.sigma}°`] as const] : [])]} />
      </div>
    </>
  );
}
