// Plane geometry of the tracing screen. Points are [x, y]; the caller decides
// what x and y are: pixels of a photo, or the drawing's own plane with y up.

export type Vec = readonly [number, number];

export const add = (a: Vec, b: Vec): Vec => [a[0] + b[0], a[1] + b[1]];
export const sub = (a: Vec, b: Vec): Vec => [a[0] - b[0], a[1] - b[1]];
export const times = (a: Vec, k: number): Vec => [a[0] * k, a[1] * k];
export const dot = (a: Vec, b: Vec): number => a[0] * b[0] + a[1] * b[1];
export const cross = (a: Vec, b: Vec): number => a[0] * b[1] - a[1] * b[0];
export const size = (a: Vec): number => Math.hypot(a[0], a[1]);
export const dist = (a: Vec, b: Vec): number => size(sub(a, b));

/** unit returns a scaled to length 1, or nothing where a has no length. */
export function unit(a: Vec): Vec | undefined {
  const l = size(a);
  return l > 0 ? [a[0] / l, a[1] / l] : undefined;
}

/** turnLeft returns a turned by a right angle, counter-clockwise where y is up. */
export const turnLeft = (a: Vec): Vec => [-a[1], a[0]];

/** nearestOn returns the point of the segment a–b that is nearest to p. */
export function nearestOn(p: Vec, a: Vec, b: Vec): Vec {
  const ab = sub(b, a);
  const l2 = dot(ab, ab);
  if (l2 === 0) return a;
  const t = Math.min(1, Math.max(0, dot(sub(p, a), ab) / l2));
  return add(a, times(ab, t));
}

/**
 * meet returns where the infinite lines through a along u and through b along v
 * cross; nothing where they are parallel.
 */
export function meet(a: Vec, u: Vec, b: Vec, v: Vec): Vec | undefined {
  const d = cross(u, v);
  if (Math.abs(d) < 1e-9 * size(u) * size(v)) return undefined;
  return add(a, times(u, cross(sub(b, a), v) / d));
}

/** pathLength returns the length along the points. */
export function pathLength(v: readonly Vec[]): number {
  let l = 0;
  for (let i = 1; i < v.length; i++) l += dist(v[i - 1], v[i]);
  return l;
}

/** middle returns the mean of the points, [0, 0] of none. */
export function middle(v: readonly Vec[]): Vec {
  let m: Vec = [0, 0];
  for (const p of v) m = add(m, p);
  return times(m, 1 / Math.max(1, v.length));
}

/** signedArea is above zero where the ring runs counter-clockwise, y up. */
export function signedArea(ring: readonly Vec[]): number {
  let a = 0;
  for (let i = 0; i < ring.length; i++) a += cross(ring[i], ring[(i + 1) % ring.length]);
  return a / 2;
}

/** inside reports whether p lies within the ring (crossing number). */
export function inside(p: Vec, ring: readonly Vec[]): boolean {
  let odd = false;
  for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
    const [a, b] = [ring[i], ring[j]];
    if (a[1] > p[1] !== b[1] > p[1] && p[0] < ((b[0] - a[0]) * (p[1] - a[1])) / (b[1] - a[1]) + a[0]) odd = !odd;
  }
  return odd;
}

/** crossesItself reports whether a ring meets itself other than where its sides join. */
export function crossesItself(ring: readonly Vec[]): boolean {
  const n = ring.length;
  for (let i = 0; i < n; i++) {
    if (dist(ring[i], ring[(i + 1) % n]) === 0) return true;
    for (let j = i + 1; j < n; j++) {
      const next = j === i + 1 || (i === 0 && j === n - 1);
      if (next) continue;
      if (segmentsMeet(ring[i], ring[(i + 1) % n], ring[j], ring[(j + 1) % n])) return true;
    }
    // A spike that runs back along the side before it.
    const [a, b, c] = [ring[i], ring[(i + 1) % n], ring[(i + 2) % n]];
    if (n > 2 && cross(sub(b, a), sub(c, b)) === 0 && dot(sub(b, a), sub(c, b)) < 0) return true;
  }
  return false;
}

function segmentsMeet(a: Vec, b: Vec, c: Vec, d: Vec): boolean {
  const side = (p: Vec, q: Vec, r: Vec) => Math.sign(cross(sub(q, p), sub(r, p)));
  const on = (p: Vec, q: Vec, r: Vec) => side(p, q, r) === 0 && dot(sub(r, p), sub(r, q)) <= 0;
  if (side(a, b, c) !== side(a, b, d) && side(c, d, a) !== side(c, d, b)) return true;
  return on(a, b, c) || on(a, b, d) || on(c, d, a) || on(c, d, b);
}
