// How the scan lies under the drawing: from the picture as it was taken, turned
// and squared up, to the drawing's plane, and back.

import { type Vec, add, sub, times } from "./geometry";
import { apply, homography } from "./homography";
import type { Sketch, Underlay } from "./sketch";
import { header, mapPlaces } from "./sketch";

const whole: readonly Vec[] = [[0, 0], [1, 0], [1, 1], [0, 1]];

/** quarter turns a place, in fractions of the picture from its top left, clockwise. */
function quarter([x, y]: Vec, quarters: number): Vec {
  switch (((quarters % 4) + 4) % 4) {
    case 1: return [1 - y, x];
    case 2: return [1 - x, 1 - y];
    case 3: return [y, 1 - x];
  }
  return [x, y];
}

/** toPicture returns where a place of the plane lies in the untouched picture, in fractions of it. */
export function toPicture(u: Underlay, p: Vec): Vec | undefined {
  const [x, y] = times(sub(p, u.at), 1 / u.per);
  const f: Vec = [x / u.size[0], 1 - y / u.size[1]];
  const h = homography(whole, u.corners ?? whole);
  return h && quarter(apply(h, f), -u.turn);
}

/** toPlane returns the place of the plane over a place of the untouched picture. */
export function toPlane(u: Underlay, f: Vec): Vec | undefined {
  const h = homography(u.corners ?? whole, whole);
  if (!h) return undefined;
  const [x, y] = apply(h, quarter(f, u.turn));
  return add(u.at, times([x * u.size[0], (1 - y) * u.size[1]], u.per));
}

/**
 * lie repositions the scan and moves what was drawn over it along, so that
 * every part stays on the line of the picture that it was traced from.
 */
export function lie(s: Sketch, next: Underlay): Sketch {
  const old = s.sketch.underlay;
  const laid = header(s, { underlay: next });
  if (!old) return laid;
  return mapPlaces(laid, (v) => {
    const f = toPicture(old, v);
    return (f && toPlane(next, f)) ?? v;
  });
}

/** first lays a picture under a drawing that has none: its own pixels, or about what is drawn. */
export function first(size: Vec, drawn: readonly Vec[]): Pick<Underlay, "at" | "per" | "size"> {
  if (drawn.length < 2) return { size, at: [0, 0], per: 1 };
  const xs = drawn.map((v) => v[0]);
  const ys = drawn.map((v) => v[1]);
  const [left, low] = [Math.min(...xs), Math.min(...ys)];
  const per = Math.max((Math.max(...xs) - left) / size[0], (Math.max(...ys) - low) / size[1]) * 1.2;
  return { size, at: [left - 0.1 * per * size[0], low - 0.1 * per * size[1]], per };
}
