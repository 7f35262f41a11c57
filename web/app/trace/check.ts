// What is still wrong or missing in a tracing, in plain words. The engine checks
// the file again when it is opened; this shows at once what it would refuse.

import { crossesItself } from "./geometry";
import { odd } from "./drawn";
import { words } from "./language";
import { metres } from "./length";
import { type Feature, type Sketch, vertices } from "./sketch";

export interface Finding {
  part?: string; // id
  says: string;
  stops: boolean; // the sketch would be refused
}

/** findings lists everything, in the order of the sketch. */
export function findings(s: Sketch, unit: "ft" | "m"): Finding[] {
  const all: Finding[] = [];
  const parts = s.features.map((f) => f.properties.part);
  if (!parts.includes("lateral") && !parts.includes("box")) {
    all.push({ says: words.check.nothing, stops: true });
  }
  for (const f of s.features) all.push(...ofPart(f, unit));
  const wrong = odd(s, unit);
  for (const o of wrong.odd) all.push({ part: o.part, says: words.check.odd(o.from ?? "", o.at && o.at !== "center" ? (words.spots.names[o.at] ?? o.at) : "", o.says), stops: false });
  if (wrong.scale) all.push({ says: wrong.scale, stops: false });
  const ties = s.features.flatMap((f) => f.properties.ties ?? []);
  if (ties.length === 0) all.push({ says: words.check.noTies, stops: false });
  if (s.sketch.unit === "px" && s.sketch.plane !== "wgs84") {
    all.push({ says: words.check.noScale, stops: false });
  }
  if (!s.sketch.up) all.push({ says: words.check.noNorth, stops: false });
  return all;
}

function ofPart(f: Feature, unit: "ft" | "m"): Finding[] {
  const all: Finding[] = [];
  const names = words.ties.properties;
  const stop = (says: string) => all.push({ part: f.id, says, stops: true });
  if (f.geometry.type === "Polygon" && crossesItself(vertices(f))) {
    stop(words.check.crosses);
  }
  for (const name of Object.keys(names)) {
    const v = f.properties[name];
    if (v === undefined || v === null || v === "") continue;
    const m = metres(String(v), unit);
    const least = name === "cover" || name === "clearance" ? 0 : name === "invert" ? -1e5 : 1e-6;
    if (m === undefined) stop(words.check.notLength(names[name], String(v)));
    else if (m < least || m > 1e5) stop(words.check.range(names[name], String(v)));
  }
  for (const t of f.properties.ties ?? []) {
    const m = metres(String(t.distance ?? ""), unit);
    if (!t.from) stop(words.check.noFrom);
    if (m === undefined || m <= 0) stop(words.check.tieNotLength(t.from || "?", String(t.distance ?? "")));
  }
  return all;
}
