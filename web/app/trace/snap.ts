// Where a touch was intended: at a place that is already drawn, on a line, or
// square to or along what is there.

import { type Vec, add, dist, dot, meet, nearestOn, sub, times, turnLeft, unit } from "./geometry";

export interface Around {
  places: readonly Vec[]; // of what is drawn
  sides: readonly (readonly [Vec, Vec])[];
  from?: Vec; // the place before, where a line goes on
  first?: Vec; // where an outline began
  reach: number; // how near counts as intended, in the plane's unit
}

export type Snapped = { at: Vec; to: "place" | "line" | "square" | "crossing" | "free"; guide?: readonly [Vec, Vec] };

// An angle this near to a right angle or a parallel is snapped to it. Sketches
// are drawn along a ruler or by hand; a hand keeps angles to a few degrees.
const angle = (4 * Math.PI) / 180;

/** snap returns where p was intended to be. */
export function snap(p: Vec, a: Around): Snapped {
  const place = nearest(p, a.places, a.reach);
  if (place) return { at: place, to: "place" };
  const ray = a.from && along(p, a.from, a);
  if (ray && a.from) {
    const square = sharpen(ray, a.from, a);
    return { ...square, guide: [a.from, square.at] };
  }
  let best: Vec | undefined;
  for (const [s, e] of a.sides) {
    const q = nearestOn(p, s, e);
    if (dist(p, q) <= a.reach && (!best || dist(p, q) < dist(p, best))) best = q;
  }
  return best ? { at: best, to: "line" } : { at: p, to: "free" };
}

function nearest(p: Vec, places: readonly Vec[], reach: number): Vec | undefined {
  let best: Vec | undefined;
  for (const q of places) if (dist(p, q) <= reach && (!best || dist(p, q) < dist(p, best))) best = q;
  return best;
}

/** along returns p brought onto the nearest usual direction from the place before. */
function along(p: Vec, from: Vec, a: Around): Vec | undefined {
  const d = sub(p, from);
  let best: Vec | undefined;
  const directions: Vec[] = [[1, 0]];
  for (const [s, e] of a.sides) {
    const u = unit(sub(e, s));
    if (u) directions.push(u);
  }
  for (const u of directions.flatMap((u): Vec[] => [u, turnLeft(u)])) {
    const q = add(from, times(u, dot(d, u)));
    const off = dist(p, q);
    if (off <= a.reach && off <= Math.tan(angle) * Math.abs(dot(d, u)) && (!best || off < dist(p, best))) best = q;
  }
  return best;
}

/** sharpen moves a place on a ray to where it meets a line, or squares with where the outline began. */
function sharpen(q: Vec, from: Vec, a: Around): Omit<Snapped, "guide"> {
  const d = sub(q, from);
  let best: Omit<Snapped, "guide"> = { at: q, to: "square" };
  let near = a.reach;
  const tryAt = (at: Vec | undefined, to: "crossing" | "square") => {
    if (at && dist(at, q) <= near && dist(at, from) > a.reach) [best, near] = [{ at, to }, dist(at, q)];
  };
  for (const [s, e] of a.sides) {
    const at = meet(from, d, s, sub(e, s));
    if (at && dist(at, nearestOn(at, s, e)) < 1e-9 * (1 + dist(s, e))) tryAt(at, "crossing");
  }
  if (a.first) tryAt(meet(from, d, a.first, turnLeft(d)), "square");
  return best;
}
