// The step of what is written: a table to type into from the sheet, part by
// part, with a column for each landmark that ties are taken from.

import { useMemo, useRef, useState } from "preact/hooks";
import { odd } from "./drawn";
import { Choice, Length, Marks } from "./fields";
import { words } from "./language";
import { asWritten } from "./plane";
import type { Shared } from "./state";
import { type Feature, type Sketch, landmarks, tie, tieSpots, write, writeTie } from "./sketch";

const tied = new Set(["tank", "box", "header", "lateral", "port"]);
const pause = 600; // ms
const most = 4; // landmarks with a column from the start

export function Ties({ c }: { c: Shared }) {
  const all = landmarks(c.sketch);
  const used = new Set(c.sketch.features.flatMap((f) => (f.properties.ties ?? []).map((t) => t.from)));
  const [more, setMore] = useState<string[]>([]);
  // What is being typed is compared before it is taken, once the fingers pause: a
  // figure that has just begun is no figure.
  const [typing, setTyping] = useState<{ was: Sketch; now: Sketch }>();
  const timer = useRef(0);
  const hear = (put: (v: string) => Sketch) => (v: string) => {
    clearTimeout(timer.current);
    timer.current = window.setTimeout(() => setTyping({ was: c.sketch, now: put(asWritten(v, c.sketch, c.unit)) }), pause);
  };
  const now = typing?.was === c.sketch ? typing.now : c.sketch;
  const found = useMemo(() => odd(now, c.unit), [now, c.unit]);
  const columns = all.filter((f, i) => i < most || used.has(f.id) || more.includes(f.id));
  const rest = all.filter((f) => !columns.includes(f));
  const parts = c.sketch.features.filter((f) => tied.has(f.properties.part) || (f.properties.ties ?? []).length > 0);
  const text = (f: Feature, name: string) => String(f.properties[name] ?? "");
  const laterals = c.sketch.features.filter((f) => f.properties.part === "lateral");
  const field = (label: string, value: string, put: (v: string) => Sketch) => (
    <Length bareLabel unit={c.unit} label={label} value={value} hear={hear(put)} set={(v) => c.set(put(asWritten(v, c.sketch, c.unit)))} />
  );
  return (
    <div class="trace-panel trace-ties">
      <h2>{words.ties.title}</h2>
      {parts.length === 0 && <p>{words.ties.drawFirst}</p>}
      {parts.length > 0 && all.length === 0 && <p>{words.ties.noLandmark}</p>}
      <p class="trace-hint">{words.ties.hint(c.unit === "ft" ? "feet" : "metres")}</p>
      {parts.length > 0 && (
        <div class="trace-scroll" tabIndex={0} role="region" aria-label={words.ties.table}>
          <table>
            <thead>
              <tr>
                <th scope="col">{words.ties.part}</th>
                {columns.map((l) => <th scope="col" key={l.id}>{words.ties.from(l.id)}</th>)}
                <th scope="col">{words.ties.length}</th><th scope="col">{words.ties.cover}</th><th scope="col">{words.ties.width}</th>
              </tr>
            </thead>
            <tbody>
              {parts.flatMap((f) => rows(f).flatMap((at, i) => [
                <tr key={`${f.id} ${at}`} class={f.id === c.selected ? "trace-on" : undefined} onFocusIn={() => f.id !== c.selected && c.select(f.id)}>
                  <th scope="row">{f.id} {at === "center" ? "" : spot(at)}</th>
                  {columns.map((l) => (
                    <td key={l.id}>
                      {field(words.ties.fieldFrom(f.id, spot(at), l.id), tie(f, at, l.id), (v) => writeTie(c.sketch, f.id, at, l.id, v))}
                    </td>
                  ))}
                  {["length", "cover", "width"].map((name) => (
                    <td key={name}>
                      {i === 0 && has(f, name) && field(words.ties.fieldOf(f.id, words.ties.properties[name]), text(f, name), (v) => write(c.sketch, f.id, name, v))}
                    </td>
                  ))}
                </tr>,
                ...found.odd.filter((o) => o.part === f.id && (o.at ?? rows(f)[0]) === at).map((o) => (
                  <tr class="trace-odd" key={`${f.id} ${at} ${o.from}`}>
                    <td colSpan={columns.length + 4}><span>{words.ties.odd(o.from ?? "", o.says)}</span></td>
                  </tr>
                )),
              ]))}
            </tbody>
          </table>
        </div>
      )}
      <p class="trace-unseen" role="status">{found.odd.map((o) => words.ties.oddOf(o.part, o.from ?? "", o.says)).join(". ")}</p>
      {found.scale && <p class="trace-odd">{words.ties.scaleOdd(found.scale)}</p>}
      <div class="trace-row">
        {laterals.length > 1 && (
          <button type="button" onClick={() => {
            const from = laterals[0];
            let s = c.sketch;
            for (const name of ["length", "cover", "width", "bed", "grade"]) {
              for (const f of laterals.slice(1)) {
                if (from.properties[name] !== undefined && f.properties[name] === undefined) s = write(s, f.id, name, from.properties[name]);
              }
            }
            c.set(s);
            c.say(words.ties.filled(from.id));
          }}>{words.ties.fill(laterals[0].id)}</button>
        )}
        {rest.length > 0 && <Choice label={words.ties.further} value="" set={(v) => v && setMore([...more, v])}
          options={[["", words.common.choose], ...rest.map((l) => [l.id, l.id] as const)]} />}
      </div>
      <Marks unit={c.unit} />
    </div>
  );
}

const spot = (at: string) => words.spots.names[at] ?? at;

/** rows gives the spots of a part that get a row: the usual ones, and whatever has a tie. */
function rows(f: Feature): string[] {
  const spots = tieSpots(f);
  return spots.includes("center") ? ["center", ...spots.filter((s) => s !== "center" && (f.properties.ties ?? []).some((t) => t.at === s))] : spots;
}

function has(f: Feature, name: string): boolean {
  const part = f.properties.part;
  if (name === "cover") return part !== "port";
  return name === "length" ? part === "lateral" || part === "header" : part === "lateral";
}
