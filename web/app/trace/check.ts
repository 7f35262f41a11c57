// What is still wrong or missing in a tracing, in plain words. The engine checks
// the file again when it is opened; this shows at once what it would refuse.

import { crossesItself } from "./geometry";
import { odd } from "./drawn";
import { metres } from "./length";
import { type Feature, type Sketch, vertices } from "./sketch";

export interface Finding {
  part?: string; // id
  says: string;
  stops: boolean; // the sketch would be refused
}

const names: Record<string, string> = { length: "length", cover: "cover", invert: "invert", width: "width", size: "size", clearance: "clearance" };

/** findings lists everything, in the order of the sketch. */
export function findings(s: Sketch, unit: "ft" | "m"): Finding[] {
  const all: Finding[] = [];
  const parts = s.features.map((f) => f.properties.part);
  if (!parts.includes("lateral") && !parts.includes("box")) {
    all.push({ says: "There is no lateral and no box: draw at least one, or there is nothing to look for.", stops: true });
  }
  for (const f of s.features) all.push(...ofPart(f, unit));
  const wrong = odd(s, unit);
  for (const o of wrong.odd) all.push({ part: o.part, says: `${o.from ? `${o.at === "center" ? "" : `${o.at} `}from ${o.from}` : "length"}: ${o.says}.`, stops: false });
  if (wrong.scale) all.push({ says: wrong.scale, stops: false });
  const ties = s.features.flatMap((f) => f.properties.ties ?? []);
  if (ties.length === 0) all.push({ says: "No tie is written. Ties are usually better than the drawing: type those on the sheet.", stops: false });
  if (s.sketch.unit === "px" && s.sketch.plane !== "wgs84") {
    all.push({ says: "The scale is not set. The sketch can still be used; the scale then comes from the written lengths alone.", stops: false });
  }
  if (!s.sketch.up) all.push({ says: "North is not set. The sketch can still be used; the field readings then give its orientation.", stops: false });
  return all;
}

function ofPart(f: Feature, unit: "ft" | "m"): Finding[] {
  const all: Finding[] = [];
  const stop = (says: string) => all.push({ part: f.id, says, stops: true });
  if (f.geometry.type === "Polygon" && crossesItself(vertices(f))) {
    stop("The outline crosses itself: move or remove a corner.");
  }
  for (const name of Object.keys(names)) {
    const v = f.properties[name];
    if (v === undefined || v === null || v === "") continue;
    const m = metres(String(v), unit);
    const least = name === "cover" || name === "clearance" ? 0 : name === "invert" ? -1e5 : 1e-6;
    if (m === undefined) stop(`${names[name]}: “${v}” is not a length. Write 43'6", 43.5 ft or 13.26 m.`);
    else if (m < least || m > 1e5) stop(`${names[name]}: “${v}” is out of range.`);
  }
  for (const t of f.properties.ties ?? []) {
    const m = metres(String(t.distance ?? ""), unit);
    if (!t.from) stop("a tie does not say which landmark it is from.");
    if (m === undefined || m <= 0) stop(`tie from ${t.from || "?"}: “${t.distance ?? ""}” is not a length. Write 43'6", 43.5 ft or 13.26 m.`);
  }
  return all;
}
