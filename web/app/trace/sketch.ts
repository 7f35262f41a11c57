// The drawing as sketch.geojson has it, and how it is changed. Every change
// returns a new sketch and leaves members that are not known here as they are
// (RFC 7946, 6.1): what another program wrote must not be lost.

import { type Vec, signedArea, sub, unit, turnLeft, times, add } from "./geometry";
import { isBare } from "./length";

export const kinds = ["building", "landmark", "tank", "box", "header", "lateral", "port", "well",
  "boundary", "water", "driveway", "utility", "no-dig"] as const;
export type Kind = (typeof kinds)[number];
export type Form = "Point" | "LineString" | "Polygon";

export interface Tie {
  at?: string;
  from: string;
  distance: unknown;
  [foreign: string]: unknown;
}

export interface Feature {
  type: "Feature";
  id: string;
  geometry: { type: string; coordinates: any; [foreign: string]: unknown };
  properties: { part: Kind; ties?: Tie[]; [name: string]: unknown };
  [foreign: string]: unknown;
}

/** Underlay says how the scan lies under the drawing. */
export interface Underlay {
  page: number; // of a PDF, from 1
  turn: number; // quarter turns clockwise before the corners were set
  corners: Vec[] | null; // of the sheet, in fractions of the turned picture from its top left; null: all of it
  inches?: Vec; // size of the sheet, where it is known
  size: Vec; // of the squared picture, pixels
  at: Vec; // its lower left corner in the drawing's plane
  per: number; // drawing units to a pixel
}

export interface Header {
  plane?: string;
  unit?: string;
  ratio?: number | string;
  trust?: string;
  up?: { bearing: number; sigma?: number };
  mirrored?: string;
  drawn?: string;
  by?: string;
  permit?: string;
  scan?: string;
  note?: string;
  underlay?: Underlay;
  [foreign: string]: unknown;
}

export interface Sketch {
  type: "FeatureCollection";
  sketch: Header;
  features: Feature[];
  [foreign: string]: unknown;
}

/** blank is a drawing with nothing on it, in pixels: its scale is unknown. */
export const blank = (): Sketch => ({
  type: "FeatureCollection", sketch: { plane: "paper", unit: "px", trust: "roughly" }, features: [],
});

/** drawnAnew is a changed sketch without what a finished job knew of it (the member known),
 * once anything is drawn otherwise, or in another unit: it was known of the places as they were. */
export function drawnAnew(was: Sketch, next: Sketch): Sketch {
  const same = next.features === was.features && (["plane", "unit", "ratio", "up"] as const).every((m) => next.sketch[m] === was.sketch[m]);
  if (same || next.sketch.known === undefined) return next;
  const { known: _, ...sketch } = next.sketch;
  return { ...next, sketch };
}

/** forms gives the forms that a kind may be drawn in, the usual one first. */
export function forms(kind: Kind): Form[] {
  switch (kind) {
    case "building": return ["Polygon"];
    case "landmark": case "port": return ["Point"];
    case "header": case "lateral": return ["LineString"];
    case "tank": case "box": return ["Point", "Polygon"];
    case "well": return ["Point", "Polygon", "LineString"];
    case "boundary": case "utility": return ["LineString", "Polygon", "Point"];
  }
  return ["Polygon", "LineString", "Point"];
}

/** vertices returns the places of a plain part in the file's coordinates, a ring without its last. */
export function vertices(f: Feature): Vec[] {
  const { type, coordinates: c } = f.geometry;
  const pair = (p: number[]): Vec => [p[0], p[1]];
  switch (type) {
    case "Point": return [pair(c)];
    case "LineString": return c.map(pair);
    case "Polygon": return c[0].slice(0, -1).map(pair);
  }
  return [];
}

/** pieces returns every line, ring and point of a part, for drawing it. */
export function pieces(f: Feature): { form: Form; at: Vec[] }[] {
  const of = (type: string, coordinates: any): { form: Form; at: Vec[] }[] => {
    if (type === "Point" || type === "LineString" || type === "Polygon") {
      return [{ form: type, at: vertices({ ...f, geometry: { type, coordinates } }) }];
    }
    if (type.startsWith("Multi")) return coordinates.flatMap((c: any) => of(type.slice(5), c));
    return [];
  };
  const g = f.geometry as any;
  if (g.type === "GeometryCollection") return g.geometries.flatMap((p: any) => of(p.type, p.coordinates));
  return of(g.type, g.coordinates);
}

/** geometry returns the GeoJSON of places; rings are closed and run counter-clockwise (RFC 7946, 3.1.6). */
function geometry(form: Form, at: readonly Vec[], old?: Feature["geometry"]): Feature["geometry"] {
  const same = old?.type === form ? old : undefined;
  // The height of a place stays with it.
  const heights: number[][] | undefined = same && (form === "Point" ? [same.coordinates] : form === "Polygon" ? same.coordinates[0] : same.coordinates);
  const kept = heights && heights.length - (form === "Polygon" ? 1 : 0) === at.length;
  const c = at.map((p, i) => [...p, ...(kept ? heights[i].slice(2) : [])]);
  if (form === "Point") return { ...same, type: form, coordinates: c[0] };
  if (form === "LineString") return { ...same, type: form, coordinates: c };
  const ring = signedArea(at) < 0 ? [c[0], ...c.slice(1).reverse()] : c;
  return { ...same, type: form, coordinates: [[...ring, ring[0]], ...(same ? same.coordinates.slice(1) : [])] };
}

export const find = (s: Sketch, id: string | undefined): Feature | undefined => s.features.find((f) => f.id === id);
export const landmarks = (s: Sketch): Feature[] => s.features.filter((f) => f.properties.part === "landmark");

const stems: Partial<Record<Kind, string>> = { building: "house", lateral: "L", port: "P", boundary: "line", "no-dig": "keepout" };

/** newID returns an unused id as sketches name such parts: A, B; L1, L2; tank, tank2. */
export function newID(s: Sketch, kind: Kind): string {
  const used = new Set(s.features.map((f) => f.id));
  if (kind === "landmark") {
    for (const c of "ABCDEFGHIJKMNOPQRSTUVWXYZ") if (!used.has(c)) return c;
  }
  const stem = kind === "landmark" ? "M" : (stems[kind] ?? kind);
  const numbered = stem.length === 1;
  if (!numbered && !used.has(stem)) return stem;
  for (let n = numbered ? 1 : 2; ; n++) if (!used.has(stem + n)) return stem + n;
}

/** put returns the sketch with f in the place of the part of that id. */
const put = (s: Sketch, id: string, change: (f: Feature) => Feature): Sketch =>
  ({ ...s, features: s.features.map((f) => (f.id === id ? change(f) : f)) });

/** addPart adds a part and returns its id with the new sketch. */
export function addPart(s: Sketch, kind: Kind, form: Form, at: readonly Vec[], properties: Record<string, unknown> = {}): [Sketch, string] {
  const id = newID(s, kind);
  const f: Feature = { type: "Feature", id, geometry: geometry(form, at), properties: { ...properties, part: kind } };
  return [{ ...s, features: [...s.features, f] }, id];
}

/** movePart redraws a part through other places. */
export const movePart = (s: Sketch, id: string, at: readonly Vec[]): Sketch =>
  put(s, id, (f) => ({ ...f, geometry: geometry(f.geometry.type as Form, at, f.geometry) }));

/** removePart deletes a part and whatever names it: ties from it, feeds, ports. */
export function removePart(s: Sketch, id: string): Sketch {
  const features = s.features.filter((f) => f.id !== id).map((f) => {
    let p = f.properties;
    if (p.from === id || p.of === id) {
      p = { ...p };
      if (p.from === id) delete p.from;
      if (p.of === id) delete p.of;
    }
    return { ...f, properties: withTies(p, (p.ties ?? []).filter((t) => t.from !== id)) };
  });
  return { ...s, features };
}

/** rename gives a part another id, also where others name it. An id in use or empty is refused. */
export function rename(s: Sketch, id: string, to: string): Sketch | undefined {
  const name = to.trim();
  if (!name || (name !== id && find(s, name))) return undefined;
  const features = s.features.map((f) => {
    const p: Feature["properties"] = { ...f.properties };
    if (p.from === id) p.from = name;
    if (p.of === id) p.of = name;
    if (p.ties) p.ties = p.ties.map((t) => (t.from === id ? { ...t, from: name } : t));
    return { ...f, id: f.id === id ? name : f.id, properties: p };
  });
  return { ...s, features };
}

/** write sets a property of a part; empty text takes it away. */
export const write = (s: Sketch, id: string, name: string, value: unknown): Sketch =>
  put(s, id, (f) => {
    const p: Feature["properties"] = { ...f.properties };
    if (value === "" || value === undefined) delete p[name];
    else p[name] = value;
    return { ...f, properties: p };
  });

function withTies(p: Feature["properties"], ties: Tie[]): Feature["properties"] {
  if (ties.length === 0 && !p.ties) return p;
  const q = { ...p };
  if (ties.length) q.ties = ties;
  else delete q.ties;
  return q;
}

/** setTies replaces the ties of a part. */
export const setTies = (s: Sketch, id: string, ties: Tie[]): Sketch =>
  put(s, id, (f) => ({ ...f, properties: withTies(f.properties, ties) }));

/** tieSpots gives the spots of a part that a tie may run to. */
export function tieSpots(f: Feature): string[] {
  if (f.geometry.type === "LineString" || f.geometry.type === "MultiLineString") return ["start", "end"];
  if (f.properties.part === "box" || f.properties.part === "tank" || f.geometry.type === "Polygon") return ["center", "corner"];
  return ["center"];
}

const sameTie = (t: Tie, at: string, from: string) => (t.at ?? "center") === at && t.from === from;

/** tie returns what is written of the distance from a landmark to a spot, "" where nothing is. */
export const tie = (f: Feature, at: string, from: string): string =>
  String((f.properties.ties ?? []).find((t) => sameTie(t, at, from))?.distance ?? "");

/** writeTie sets or, with empty text, takes away the tie from a landmark to a spot. */
export function writeTie(s: Sketch, id: string, at: string, from: string, distance: string): Sketch {
  const f = find(s, id);
  if (!f) return s;
  const ties = [...(f.properties.ties ?? [])];
  const i = ties.findIndex((t) => sameTie(t, at, from));
  if (distance === "") { if (i >= 0) ties.splice(i, 1); }
  else if (i >= 0) ties[i] = { ...ties[i], distance };
  else ties.push({ at, from, distance });
  return setTies(s, id, ties);
}

/**
 * repeat copies a line n times, each a step further than the one before, with
 * what is written beside it except its ties and its invert, which are its own.
 */
export function repeat(s: Sketch, id: string, n: number, step: Vec, place: (v: Vec) => Vec = (v) => v): [Sketch, string[]] {
  const f = find(s, id);
  if (!f) return [s, []];
  const { ties: _t, invert: _i, name: _n, part, ...properties } = f.properties;
  const ids: string[] = [];
  for (let i = 1; i <= n; i++) {
    const [next, made] = addPart(s, part, f.geometry.type as Form,
      vertices(f).map((v) => place(add(v, times(step, i)))), structuredClone(properties));
    s = next;
    ids.push(made);
  }
  return [s, ids];
}

/** across returns the step square to a line by a spacing, to its left (y up) or right. */
export function across(v: readonly Vec[], spacing: number, left: boolean): Vec | undefined {
  const u = unit(sub(v[v.length - 1], v[0]));
  return u && times(turnLeft(u), left ? spacing : -spacing);
}

/** reversed draws a line from its other end: ties stay with the place, not with the name of the end. */
export function reversed(s: Sketch, id: string): Sketch {
  const f = find(s, id);
  if (!f || f.geometry.type !== "LineString") return s;
  const swap: Record<string, string> = { start: "end", end: "start" };
  const ties = (f.properties.ties ?? []).map((t) => ({ ...t, at: swap[t.at ?? ""] ?? t.at }));
  return setTies(put(s, id, (g) => ({ ...g, geometry: { ...g.geometry, coordinates: [...g.geometry.coordinates].reverse() } })), id, ties);
}

const lengths = ["length", "cover", "invert", "width", "size", "clearance"];

/**
 * withUnits writes the unit beside every bare number, so that the sketch's unit
 * may change without changing what anything says. bare is the unit they are in.
 */
export function withUnits(s: Sketch, bare: string): Sketch {
  const word = (v: unknown) => (typeof v === "number" || (typeof v === "string" && isBare(v)) ? `${v} ${bare}` : v);
  const features = s.features.map((f) => {
    const p: Feature["properties"] = { ...f.properties };
    for (const name of lengths) if (name in p) p[name] = word(p[name]);
    if (p.ties) p.ties = p.ties.map((t) => ({ ...t, distance: word(t.distance) }));
    return { ...f, properties: p };
  });
  return { ...s, features };
}

/** mapPlaces puts every place of the sketch through a function, heights kept. */
export function mapPlaces(s: Sketch, place: (v: Vec) => Vec): Sketch {
  const through = (c: any): any => (typeof c[0] === "number" ? [...place([c[0], c[1]]), ...c.slice(2)] : c.map(through));
  const one = (g: any): any => g.type === "GeometryCollection"
    ? { ...g, geometries: g.geometries.map(one) } : { ...g, coordinates: through(g.coordinates) };
  return { ...s, features: s.features.map((f) => ({ ...f, geometry: one(f.geometry) })) };
}

/** header changes members of sketch; undefined takes one away. */
export function header(s: Sketch, change: Partial<Header>): Sketch {
  const h: Header = { ...s.sketch, ...change };
  for (const k of Object.keys(h)) if (h[k] === undefined) delete h[k];
  return { ...s, sketch: h };
}

