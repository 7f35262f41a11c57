// The step of what is written: a table to type into from the sheet, part by
// part, with a column for each landmark that ties are taken from.

import { useMemo, useRef, useState } from "preact/hooks";
import { odd } from "./drawn";
import { Choice, Length, Marks } from "./fields";
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
      <h2>What is written on the sheet</h2>
      {parts.length === 0 && <p>Draw the tank, the box and the laterals first.</p>}
      {parts.length > 0 && all.length === 0 && <p>No landmark is drawn: ties need one. Draw the house corners as landmarks.</p>}
      <p class="trace-hint">Type as it is written: 43'6", 43.5 ft, 13.26 m. A bare number is {c.unit === "ft" ? "feet" : "metres"}. Leave empty what is not written.</p>
      {parts.length > 0 && (
        <div class="trace-scroll" tabIndex={0} role="region" aria-label="Table of written lengths">
          <table>
            <thead>
              <tr>
                <th scope="col">Part</th>
                {columns.map((l) => <th scope="col" key={l.id}>from {l.id}</th>)}
                <th scope="col">Length</th><th scope="col">Cover</th><th scope="col">Width</th>
              </tr>
            </thead>
            <tbody>
              {parts.flatMap((f) => rows(f).flatMap((at, i) => [
                <tr key={`${f.id} ${at}`} class={f.id === c.selected ? "trace-on" : undefined} onFocusIn={() => f.id !== c.selected && c.select(f.id)}>
                  <th scope="row">{f.id} {at === "center" ? "" : at}</th>
                  {columns.map((l) => (
                    <td key={l.id}>
                      {field(`${f.id} ${at}, from ${l.id}`, tie(f, at, l.id), (v) => writeTie(c.sketch, f.id, at, l.id, v))}
                    </td>
                  ))}
                  {["length", "cover", "width"].map((name) => (
                    <td key={name}>
                      {i === 0 && has(f, name) && field(`${f.id}, ${name}`, text(f, name), (v) => write(c.sketch, f.id, name, v))}
                    </td>
                  ))}
                </tr>,
                ...found.odd.filter((o) => o.part === f.id && (o.at ?? rows(f)[0]) === at).map((o) => (
                  <tr class="trace-odd" key={`${f.id} ${at} ${o.from}`}>
                    <td colSpan={columns.length + 4}><span>⚠ {o.from ? `from ${o.from}` : "length"}: {o.says}</span></td>
                  </tr>
                )),
              ]))}
            </tbody>
          </table>
        </div>
      )}
      <p class="trace-unseen" role="status">{found.odd.map((o) => `${o.part}${o.from ? ` from ${o.from}` : ""}: ${o.says}`).join(". ")}</p>
      {found.scale && <p class="trace-odd">⚠ {found.scale}</p>}
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
            c.say(`The values of ${from.id} are filled in where the other laterals have none.`);
          }}>Fill in all laterals as {laterals[0].id}</button>
        )}
        {rest.length > 0 && <Choice label="Further landmark" value="" set={(v) => v && setMore([...more, v])}
          options={[["", "choose"], ...rest.map((l) => [l.id, l.id] as const)]} />}
      </div>
      <Marks unit={c.unit} />
    </div>
  );
}

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
