// The features of the map, a list for each layer, from what is believed.
import { Circle, Feature, Geometry, LineString, Point, Polygon, Style, type StyleFunction } from "../vendor/ol.js";
import type { Belief, BeliefOutline, DigPlan, Proposal, Shape, Spot, Vertex } from "./answer";
import * as ink from "./ink";
import { ellipse, strip } from "./shapes";
import { tape, type Unit } from "./units";
import { percent } from "./words";
import { beforehand, holesOf } from "./steps";

export type Marks = Feature<Geometry>[];

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

/** The surroundings: buildings, landmarks, what must not be dug near. */
export function ground(b: Belief): Marks {
  const out: Marks = [];
  for (const o of b.outlines) {
    for (const s of o.now) {
      if (guarded(o)) {
        out.push(mark(geometry(s), (_, res) => [ink.clearance(o.clearance ?? 0.5, res), ink.danger], o.part));
        out.push(mark(geometry(s), ink.label(o.name || o.part, ink.colours.danger, 0, 0, 13), o.part));
      } else if (o.kind === "building") out.push(mark(geometry(s), [ink.building, ink.label(o.name || o.part)], o.part));
      else if (["well", "boundary", "water", "driveway"].includes(o.kind)) out.push(mark(geometry(s), [ink.context, ink.label(o.name || o.part, ink.colours.faint)], o.part));
    }
  }
  for (const s of b.spots) {
    if (s.kind === "landmark") out.push(mark(new Point([s.east, s.north]), [ink.landmark, ink.label(s.part, ink.colours.ink, -17)], s.part));
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
    if (c.kind === "lateral") out.push(mark(new Point(shape.getCoordinateAt(0.62)), ink.label(c.part, ink.colours.part), c.part));
  }
  for (const o of b.outlines) {
    if (o.kind !== "tank") continue;
    for (const s of o.now) {
      if (s.form === "Polygon") out.push(mark(geometry(s), ink.partLine(o.state, 3), o.part));
    }
  }
  for (const s of b.spots) {
    const alone = ["box", "tank", "port"].includes(s.kind);
    if (!alone && s.kind !== "lateral") continue;
    for (const r of regions(s)) out.push(mark(new Polygon([r]), ink.region, s.part));
    if (!alone) continue;
    const sign = s.kind === "box" ? [ink.boxMark(s.state)] : [];
    // Each of several places is shown: their mean lies in none of them.
    if (!s.lobes) out.push(mark(new Point([s.east, s.north]), [...sign, ink.label(s.part, ink.colours.part, -20)], s.part));
    for (const l of s.lobes ?? []) {
      const name = ink.label(`${s.part}\n${percent(l.share)}`, ink.colours.part, -29, 0, 15, true);
      out.push(mark(new Point([l.east, l.north]), [...sign, name], s.part));
    }
  }
  return out;
}

/** What holds a spot with 95 %, relative to the landmarks: a ring for each place. */
function regions(s: Spot): Vertex[][] {
  return s.lobes?.map((l) => [...l.outline, l.outline[0]]) ?? [ellipse(s.east, s.north, s.from_landmarks)];
}

/** Holes that were dug, and the next ones with their tapes. */
export function holes(b: Belief, plan: DigPlan | null, unit: Unit): Marks {
  const out: Marks = [];
  const [first, ...later] = holesOf(plan);
  if (first) {
    for (const t of first.ties.slice(0, 2)) {
      const from = b.spots.find((s) => s.part === t.from);
      if (!from) continue;
      const shape = new LineString([[from.east, from.north], [first.east, first.north]]);
      out.push(mark(shape, ink.tapeLine, "next"));
      out.push(mark(new Point(shape.getCoordinateAt(0.4)), ink.label(tape(t.distance, unit), ink.colours.next, 0, 0, 15, true), "next"));
    }
  }
  for (const p of later.slice(0, 3)) {
    const signs = [ink.later, ink.label(String(p.rank), ink.colours.next, 0, 15, 13)];
    // At a small scale they would hide the hole that matters.
    out.push(mark(new Point([p.east, p.north]), (_, res) => (res < 0.05 ? signs : []), "next"));
  }
  for (const h of b.holes) {
    const at = new Point([h.east, h.north]);
    const words = h.result === "found" ? `${h.id}: ${h.target}` : h.result === "empty" ? `${h.id}: empty` : h.id;
    const sign = h.result === "found" ? [ink.met] : h.result === "empty" ? ink.empty : [ink.stake];
    out.push(mark(at, [...sign, ink.label(words, ink.colours.hole, 20)], `hole ${h.id}`));
  }
  const follow = beforehand(plan);
  const way = follow && following(follow);
  if (way) {
    out.push(mark(way, ink.followLine, "next"));
    out.push(mark(new Point(way.getCoordinateAt(0.5)), ink.label("follow", ink.colours.next, 0, 0, 15, true), "next"));
  }
  for (const s of follow?.stabs ?? []) out.push(mark(new Point([s.east, s.north]), [ink.stab], "next"));
  if (first) out.push(mark(new Point([first.east, first.north]), [...ink.next, ink.label(way ? "if lost, dig here" : follow?.stabs ? "else dig here" : "dig here", ink.colours.next, 30, 0, 15, true)], "next"));
  return out;
}

/** The way to follow a line from the hole that opened it, straight. */
function following(p: Proposal): LineString | undefined {
  return p.toward && new LineString([[p.east, p.north], [p.toward.east, p.toward.north]]);
}

/** Where this device is, with the circle that holds it 95 % of the time. */
export function self(at: [number, number], accuracy: number): Marks {
  return [mark(new Circle(at, accuracy), ink.around), mark(new Point(at), [ink.me, ink.label("me", ink.colours.me, -20)])];
}
