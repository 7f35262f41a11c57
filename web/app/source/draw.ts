// The features of the map, a list for each layer, from what is believed.
import { Circle, Feature, Geometry, LineString, Point, Polygon, Style, type StyleFunction } from "../vendor/ol.js";
import type { Belief, BeliefOutline, DigPlan, Proposal, Shape, Spot, Vertex } from "./answer";
import * as ink from "./ink";
import type { Rank } from "./labels";
import { words } from "./language";
import { ellipse, strip } from "./shapes";
import { tape, type Unit } from "./units";
import { percent } from "./words";
import { beforehand, holesOf } from "./steps";

export type Marks = Feature<Geometry>[];

/** What a thing is called on the map. */
export interface Name {
  text: string;
  /** Things of one kind are told apart by their names. */
  kind: string;
  rank: Rank;
  colour?: string;
  /** How far its sign reaches, pixels. */
  radius?: number;
  area?: boolean;
  /** Whether it is shown at a resolution, metres a pixel; always if left out. */
  shown?: (resolution: number) => boolean;
}

function name(f: Feature<Geometry>, n: Name): Feature<Geometry> {
  f.set("name", n);
  return f;
}

/** A feature; pick is the part, hole or proposal that a tap on it means. */
function mark(g: Geometry, style: Style | Style[] | StyleFunction, pick?: string): Feature<Geometry> {
  const f = new Feature<Geometry>(g);
  f.setStyle(style);
  if (pick) f.set("pick", pick);
  return f;
}

function geometry(s: Shape): Geometry {
  if (s.form === "Polygon") return new Polygon([[...s.vertices, s.vertices[0]]]);
  return s.form === "Point" ? new Point(s.vertices[0]) : new LineString(s.vertices);
}

const guarded = (o: BeliefOutline) => (o.clearance ?? 0) > 0 || o.kind === "utility" || o.kind === "no-dig";

/** The sketch as it was drawn, laid on the landmarks: faint. */
export function asDrawn(b: Belief): Marks {
  const out = b.outlines.flatMap((o) => o.old.filter((s) => s.form !== "Point").map((s) => mark(geometry(s), ink.old)));
  for (const s of b.spots) {
    if (s.kind === "box") out.push(mark(new Circle([s.old.east, s.old.north], 0.3), ink.old));
  }
  return out;
}

/** What an outline is called: its name, else what it is with its id. */
function called(o: BeliefOutline): string {
  if (o.name || o.kind === "building") return o.name || o.part;
  return words.parts.bare(o.part, o.kind);
}

/** The surroundings: buildings, landmarks, what must not be dug near. */
export function ground(b: Belief): Marks {
  const out: Marks = [];
  for (const o of b.outlines) {
    for (const s of o.now) {
      const named = { text: called(o), kind: o.kind, area: s.form === "Polygon" };
      if (guarded(o)) {
        const f = mark(geometry(s), (_, res) => [ink.clearance(o.clearance ?? 0.5, res), ink.danger], o.part);
        out.push(name(f, { ...named, kind: "guarded", rank: "guarded", colour: ink.colours.danger }));
      } else if (o.kind === "building") out.push(name(mark(geometry(s), ink.building, o.part), { ...named, rank: "building" }));
      else if (["well", "boundary", "water", "driveway"].includes(o.kind)) {
        // Everything lies within a boundary: its line is what is named.
        out.push(name(mark(geometry(s), ink.context, o.part), { ...named, area: named.area && o.kind !== "boundary", rank: "around", colour: ink.colours.faint }));
      }
    }
  }
  for (const s of b.spots) {
    if (s.kind !== "landmark") continue;
    out.push(name(mark(new Point([s.east, s.north]), ink.landmark, s.part), { text: s.part, kind: "landmark", rank: "landmark", radius: ink.reach.landmark }));
  }
  return out;
}

/** The parts as now believed: corridors, lines, regions, with their names. */
export function believed(b: Belief): Marks {
  const out: Marks = [];
  for (const c of b.corridors) {
    out.push(mark(new Polygon([strip(c)]), ink.band, c.part));
    const shape = new LineString(c.line);
    out.push(mark(shape, [ink.line("#ffffff", 7), ink.partLine(c.state, c.kind === "lateral" ? 4 : 2.5)], c.part));
    if (c.kind === "lateral") name(out.at(-1)!, { text: c.part, kind: "trench", rank: "trench", colour: ink.colours.part });
  }
  for (const o of b.outlines) {
    if (o.kind !== "tank") continue;
    for (const s of o.now) {
      if (s.form === "Polygon") out.push(mark(geometry(s), ink.partLine(o.state, 3), o.part));
    }
  }
  for (const s of b.spots) {
    if (!["box", "tank", "port", "lateral"].includes(s.kind)) continue;
    for (const r of regions(s)) out.push(mark(new Polygon([r]), ink.region, s.part));
  }
  return out;
}

/** Boxes, tanks and ports, each with its name: over everything else but holes. */
function structures(b: Belief): Marks {
  const out: Marks = [];
  for (const s of b.spots) {
    if (!["box", "tank", "port"].includes(s.kind)) continue;
    const box = s.kind === "box";
    const rank = box || s.part === b.sought?.part ? "sought" : "structure";
    // Each of several places is shown: their mean lies in none of them.
    for (const at of s.lobes ? [...s.lobes].reverse() : [s]) {
      const text = "share" in at ? `${words.parts.id(s.part)} ${percent(at.share)}` : words.parts.id(s.part);
      const f = mark(new Point([at.east, at.north]), box ? [ink.boxMark(s.state)] : [], s.part);
      out.push(name(f, { text, kind: "structure", rank, radius: box ? ink.reach.box : 1, colour: ink.colours.part }));
    }
  }
  return out;
}

/** What holds a spot with 95 %, relative to the landmarks: a ring for each place. */
function regions(s: Spot): Vertex[][] {
  return s.lobes?.map((l) => [...l.outline, l.outline[0]]) ?? [ellipse(s.east, s.north, s.from_landmarks)];
}

/**
 * The next holes with their tapes, and over them the box and the holes that were
 * dug, so that the next hole hides neither.
 */
export function holes(b: Belief, plan: DigPlan | null, unit: Unit): Marks {
  const out: Marks = [];
  const [first, ...later] = holesOf(plan);
  const colour = ink.colours.next;
  for (const t of first?.ties.slice(0, 2) ?? []) {
    const from = b.spots.find((s) => s.part === t.from);
    if (!from) continue;
    const shape = new LineString([[from.east, from.north], [first.east, first.north]]);
    out.push(name(mark(shape, ink.tapeLine, "next"), { text: tape(t.distance, unit), kind: "tape", rank: "tape", colour }));
  }
  later.slice(0, 3).forEach((p, i) => {
    // Signs that would lie over one another are not all shown: the sooner hole is.
    const apart = Math.min(...[first, ...later.slice(0, i)].map((q) => Math.hypot(p.east - q.east, p.north - q.north)));
    const shown = (res: number) => apart / res > ink.reach.next + ink.reach.later;
    const f = mark(new Point([p.east, p.north]), (_, res) => (shown(res) ? [ink.later] : []), "next");
    out.push(name(f, { text: String(p.rank), kind: "hole", rank: "later", radius: ink.reach.later, colour, shown }));
  });
  const follow = beforehand(plan);
  const way = follow && following(follow);
  if (way) out.push(name(mark(way, ink.followLine, "next"), { text: words.map.follow, kind: "follow", rank: "tape", colour }));
  for (const s of follow?.stabs ?? []) out.push(mark(new Point([s.east, s.north]), [ink.stab], "next"));
  if (first) {
    const text = way ? words.map.ifLost : follow?.stabs ? words.map.elseDig : words.map.dig;
    out.push(name(mark(new Point([first.east, first.north]), ink.next, "next"), { text, kind: "hole", rank: "next", radius: ink.reach.next, colour }));
  }
  out.push(...structures(b));
  for (const h of b.holes) {
    const text = h.result === "found" ? words.map.met(h.id, words.parts.id(h.target ?? "")) : h.result === "empty" ? words.map.empty(h.id) : h.id;
    const sign = h.result === "found" ? ink.met : h.result === "empty" ? ink.empty : ink.stake;
    out.push(name(mark(new Point([h.east, h.north]), sign, `hole ${h.id}`), { text, kind: "hole", rank: "hole", radius: ink.reach.hole }));
  }
  return out;
}

/** The way to follow a line from the hole that opened it, straight. */
function following(p: Proposal): LineString | undefined {
  return p.toward && new LineString([[p.east, p.north], [p.toward.east, p.toward.north]]);
}

/** Where this device is, with the circle that holds it 95 % of the time. */
export function self(at: [number, number], accuracy: number): Marks {
  return [mark(new Circle(at, accuracy), ink.around), name(mark(new Point(at), ink.me), { text: words.map.me, kind: "me", rank: "sought", radius: ink.reach.me, colour: ink.colours.me })];
}
