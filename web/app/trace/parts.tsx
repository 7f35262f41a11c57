// The list step: every part with all that is known of it, and its places as
// numbers, so that nothing requires a pointer.

import { useState } from "preact/hooks";
import { Choice, Length, Marks, Text } from "./fields";
import type { Vec } from "./geometry";
import { decimal, words } from "./language";
import { asWritten } from "./plane";
import type { Shared } from "./state";
import { type Feature, type Form, type Kind, addPart, find, forms, kinds, landmarks, movePart, removePart, rename, reversed, setTies, tieSpots, vertices, write } from "./sketch";

const system = new Set(["tank", "box", "header", "lateral"]);

export function Parts({ c }: { c: Shared }) {
  return (
    <div class="trace-panel trace-parts">
      <h2>{words.parts.title}</h2>
      {c.sketch.features.length === 0 && <p>{words.parts.none}</p>}
      <ul class="trace-list">
        {c.sketch.features.map((f) => (
          <li key={f.id}>
            <button type="button" aria-expanded={f.id === c.selected} onClick={() => c.select(f.id === c.selected ? undefined : f.id)}>
              <strong>{f.id}</strong> {words.kinds[f.properties.part] ?? f.properties.part}{f.properties.name ? `, ${f.properties.name}` : ""}
            </button>
            {f.id === c.selected && <Part c={c} f={f} key={f.id} />}
          </li>
        ))}
      </ul>
      <AddByNumbers c={c} />
      <Marks unit={c.unit} />
    </div>
  );
}

function Part({ c, f }: { c: Shared; f: Feature }) {
  const part = f.properties.part;
  const text = (name: string) => String(f.properties[name] ?? "");
  const set = (name: string) => (v: string) => c.set(write(c.sketch, f.id, name, v));
  const length = (name: string, label: string) => (
    <Length label={label} unit={c.unit} value={text(name)} set={(v) => c.set(write(c.sketch, f.id, name, asWritten(v, c.sketch, c.unit)))} />
  );
  const ids = (kind: Kind) => [["", words.common.notStated], ...c.sketch.features.filter((g) => g.properties.part === kind).map((g) => [g.id, g.id])] as [string, string][];
  return (
    <div class="trace-part-form">
      <Text label={words.parts.id} value={f.id} set={(v) => {
        const next = rename(c.sketch, f.id, v);
        if (!next) return c.say(words.parts.taken(v, f.id));
        c.set(next);
        c.select(v.trim());
      }} />
      <Text label={part === "landmark" ? words.parts.onGround : words.parts.name} value={text("name")} set={set("name")} />
      {(part === "lateral" || part === "header") && length("length", words.parts.written)}
      {system.has(part) && length("cover", words.parts.cover)}
      {system.has(part) && length("invert", words.parts.invert)}
      {part === "lateral" && length("width", words.parts.width)}
      {part === "lateral" && <Choice label={words.parts.bed} value={text("bed")} set={set("bed")} options={[["", words.common.notStated], ["gravel", words.parts.gravel], ["chamber", words.parts.chamber], ["pipe", words.parts.pipe]]} />}
      {part === "lateral" && <Choice label={words.parts.fedBy} value={text("from")} set={set("from")} options={ids("box")} />}
      {part === "port" && <Choice label={words.parts.portOf} value={text("of")} set={set("of")} options={ids("lateral")} />}
      {part === "box" && <Choice label={words.parts.kindOfBox} value={text("kind")} set={set("kind")} options={[["", words.parts.distribution], ["drop", words.parts.drop]]} />}
      {part === "box" && <Text label={words.parts.outlets} mode="numeric" value={text("outlets")} set={(v) => {
        if (v && !/^[1-9]\d?$/.test(v)) return c.say(words.parts.wholeOutlets);
        c.set(write(c.sketch, f.id, "outlets", v === "" ? undefined : Number(v)));
      }} />}
      {part === "box" && length("size", words.parts.side)}
      {(part === "utility" || part === "no-dig") && length("clearance", words.parts.clearance)}
      <TieList c={c} f={f} />
      <Places c={c} f={f} />
      <div class="trace-row">
        {f.geometry.type === "LineString" && <button type="button" onClick={() => c.set(reversed(c.sketch, f.id))}>{words.parts.swap}</button>}
        <button type="button" onClick={() => { c.set(removePart(c.sketch, f.id)); c.select(undefined); c.say(words.common.removed(f.id)); }}>{words.common.removeThis(f.id)}</button>
      </div>
    </div>
  );
}

function TieList({ c, f }: { c: Shared; f: Feature }) {
  const ties = f.properties.ties ?? [];
  const from = landmarks(c.sketch).filter((l) => l.id !== f.id);
  const change = (i: number, t: Partial<(typeof ties)[number]>) => c.set(setTies(c.sketch, f.id, ties.map((u, j) => (i === j ? { ...u, ...t } : u))));
  const spots = tieSpots(f);
  return (
    <fieldset>
      <legend>{words.parts.ties}</legend>
      {ties.map((t, i) => (
        <div class="trace-row" key={i}>
          <Choice label={words.parts.toIts} value={t.at ?? "center"} set={(v) => change(i, { at: v })} options={[...new Set([...spots, t.at ?? "center"])].map((s) => [s, words.spots.names[s] ?? s] as const)} />
          <Choice label={words.parts.from} value={t.from} set={(v) => change(i, { from: v })} options={[...new Set([...from.map((l) => l.id), t.from])].map((s) => [s, s] as const)} />
          <Length label={words.parts.distance} unit={c.unit} value={String(t.distance ?? "")} set={(v) => change(i, { distance: asWritten(v, c.sketch, c.unit) })} />
          <button type="button" aria-label={words.parts.deleteTie(i + 1)} onClick={() => c.set(setTies(c.sketch, f.id, ties.filter((_, j) => j !== i)))}>✕</button>
        </div>
      ))}
      {from.length > 0
        ? <button type="button" onClick={() => c.set(setTies(c.sketch, f.id, [...ties, { at: spots[spots.length > 1 && spots[0] === "start" ? 1 : 0], from: (from.find((l) => !ties.some((t) => t.from === l.id)) ?? from[0]).id, distance: "" }]))}>{words.parts.addTie}</button>
        : <p class="trace-hint">{words.parts.needLandmark}</p>}
    </fieldset>
  );
}

function Places({ c, f }: { c: Shared; f: Feature }) {
  const v = vertices(f);
  if (v.length === 0) return <p class="trace-hint">{words.parts.pieces}</p>;
  const least = { Point: 1, LineString: 2, Polygon: 3 }[f.geometry.type as Form];
  const unit = c.sketch.sketch.plane === "wgs84" ? [words.parts.longitude, words.parts.latitude] : [words.parts.right(c.sketch.sketch.unit ?? ""), words.parts.up(c.sketch.sketch.unit ?? "")];
  const set = (i: number, p: Vec) => c.set(movePart(c.sketch, f.id, v.map((q, j) => (i === j ? p : q))));
  return (
    <details>
      <summary>{words.parts.places(v.length)}</summary>
      {v.map((q, i) => (
        <div class="trace-row" key={i}>
          {[0, 1].map((k) => (
            <Text key={k} label={words.parts.place(i + 1, unit[k])} mode="decimal" value={String(q[k])}
              set={(t) => Number.isFinite(decimal(t)) && t !== "" ? set(i, k ? [q[0], decimal(t)] : [decimal(t), q[1]]) : c.say(words.common.noNumber(t))} />
          ))}
          {v.length > least && <button type="button" aria-label={words.parts.deletePlace(i + 1)} onClick={() => c.set(movePart(c.sketch, f.id, v.filter((_, j) => j !== i)))}>✕</button>}
          {f.geometry.type !== "Point" && <button type="button" aria-label={words.parts.addAfter(i + 1)} onClick={() => {
            const n = v[i + 1] ?? (f.geometry.type === "Polygon" ? v[0] : ([2 * q[0] - v[i - 1][0], 2 * q[1] - v[i - 1][1]] as Vec));
            const mid: Vec = v[i + 1] || f.geometry.type === "Polygon" ? [(q[0] + n[0]) / 2, (q[1] + n[1]) / 2] : n;
            c.set(movePart(c.sketch, f.id, [...v.slice(0, i + 1), c.plane.file(c.plane.view(mid)), ...v.slice(i + 1)]));
          }}>+</button>}
        </div>
      ))}
    </details>
  );
}

/** readPlaces reads "10 20; 70 20" or "10,20 70,20": pairs of numbers. */
export function readPlaces(text: string): Vec[] | undefined {
  const n = text.trim().split(/[\s,;]+/).map(Number);
  if (n.length < 2 || n.length % 2 || !n.every(Number.isFinite)) return undefined;
  return Array.from({ length: n.length / 2 }, (_, i): Vec => [n[2 * i], n[2 * i + 1]]);
}

function AddByNumbers({ c }: { c: Shared }) {
  const [kind, setKind] = useState<Kind>("landmark");
  const [form, setForm] = useState<Form>("Point");
  const [text, setText] = useState("");
  const add = () => {
    const v = readPlaces(text);
    const least = { Point: 1, LineString: 2, Polygon: 3 }[form];
    if (!v || v.length < least || (form === "Point" && v.length > 1)) {
      return c.say(form === "Point" ? words.parts.onePair : words.parts.pairs(least));
    }
    const [next, id] = addPart(c.sketch, kind, form, v);
    c.set(next);
    c.select(id);
    setText("");
    c.say(words.parts.added(words.kinds[kind], id));
  };
  return (
    <details>
      <summary>{words.parts.byNumbers}</summary>
      <Choice label={words.parts.kind} value={kind} set={(v) => { setKind(v as Kind); setForm(forms(v as Kind)[0]); }} options={kinds.map((k) => [k, words.kinds[k]] as const)} />
      {forms(kind).length > 1 && <Choice label={words.parts.drawnAs} value={form} set={(v) => setForm(v as Form)} options={forms(kind).map((g) => [g, words.forms[g]] as const)} />}
      <Text label={words.parts.placesField} wide value={text} set={setText} hint={c.sketch.sketch.plane === "wgs84" ? words.parts.lonLat : words.parts.rightUp} />
      <button type="button" onClick={add}>{words.parts.add}</button>
    </details>
  );
}
