// Where the names on the map stand: each beside its own thing, nearer to it than
// to any other of its kind, and over no other name, sign or key. A name that finds
// no such place is left out, the less important ones first; the next hole never.

export type Pixel = [number, number];

/** A rectangle on the screen: left, top, right, bottom. */
export type Box = [number, number, number, number];

/** Ranks of what is named, the most important first. */
export const ranks = ["next", "sought", "guarded", "tape", "landmark", "trench", "hole", "structure", "later", "building", "around"] as const;

export type Rank = (typeof ranks)[number];

/** A name as it is asked for, on the screen. */
export interface Wish {
  /** Things of one kind are told apart by their names. */
  kind: string;
  rank: Rank;
  /** Size of the words. */
  width: number;
  height: number;
  /** The thing: one place with a sign of a radius, or a line, or the edge of an area. */
  path: Pixel[];
  radius: number;
  area?: boolean;
}

/** Where a name was put: the middle of its words, and the place of its thing beside it. */
export interface Placed {
  at: Pixel;
  beside: Pixel;
  /** A line has to join the words to their thing: it is far off, or another is nearer. */
  leader?: boolean;
}

// Clear pixels between a sign and its name, each only where those before it have no room.
const rings = [3, 9, 16, 24];

// How much nearer to its own thing than to another, in pixels: the next hole has to
// be named where it is crowded too.
const nearer = (w: Wish) => (w.rank === "next" ? 0.5 : 2);

// Map makers put a name to the upper right first (Imhof, Positioning Names on
// Maps, The American Cartographer 2, 1975, from memory).
const sides: Pixel[] = [[1, -1], [1, 1], [-1, -1], [-1, 1], [1, 0], [-1, 0], [0, -1], [0, 1], [0.4, -1], [-0.4, -1], [0.4, 1], [-0.4, 1]];

// Along a line: shares of what is in view.
const shares = [0.62, 0.5, 0.75, 0.38, 0.86, 0.25, 0.94, 0.14, 0.06];

/**
 * Places names, the most important first, and of one rank those that are drawn over
 * the others; the answer has one for each wish, null where it is left out. taken are
 * rectangles that names keep off.
 */
export function place(wishes: Wish[], frame: Box, taken: Box[]): (Placed | null)[] {
  const order = wishes.map((_, i) => i).sort((i, j) => ranks.indexOf(wishes[i].rank) - ranks.indexOf(wishes[j].rank) || j - i);
  const signs = wishes.filter((w) => w.radius > 0 && w.rank !== "next").map((w) => square(w.path[0], w.radius));
  const kept = [...taken, ...signs];
  const next = wishes.filter((w) => w.rank === "next");
  const out: (Placed | null)[] = wishes.map(() => null);
  for (const i of order) {
    const w = wishes[i];
    const rivals = wishes.filter((r) => r !== w && r.kind === w.kind);
    const lines = wishes.filter((r) => r !== w && r.path.length > 1);
    let found = best(w, frame, kept, next, lines, rivals);
    if (!found && w.rank === "next") {
      found = best(w, frame, kept, next, lines, []);
      if (found) found.leader = true;
    }
    if (found && distance(about(found.at, w), w) > rings[rings.length - 1]) found.leader = true;
    if (!found) continue;
    out[i] = found;
    kept.push(about(found.at, w));
  }
  return out;
}

function best(w: Wish, frame: Box, kept: Box[], next: Wish[], lines: Wish[], rivals: Wish[]): Placed | null {
  let [least, found] = [Infinity, null as Placed | null];
  for (const [cost, p] of candidates(w, frame)) {
    if (cost >= least) continue;
    const r = about(p.at, w);
    if (!within(r, frame) || kept.some((k) => overlap(r, k)) || next.some((n) => distance(r, n) === 0)) continue;
    const own = distance(r, w);
    if (rivals.some((o) => distance(r, o) < own + nearer(w))) continue;
    const crossed = cost + (w.rank === "next" ? 1 : 3) * lines.filter((l) => crosses(r, l.path)).length;
    if (crossed < least) [least, found] = [crossed, p];
  }
  return found;
}

/** The places to try for a name, each with how little it is liked. */
function* candidates(w: Wish, frame: Box): Generator<[number, Placed]> {
  if (w.path.length === 1) {
    if (w.rank === "next" && inside(w.path[0], frame)) yield* everywhere(w);
    else yield* round(w, w.path[0], w.radius, frame);
    return;
  }
  if (w.area) {
    const middle = w.path.reduce<Pixel>(([x, y], p) => [x + p[0] / w.path.length, y + p[1] / w.path.length], [0, 0]);
    yield [0, { at: middle, beside: middle }];
    const reach = Math.max(...w.path.map(([x, y]) => Math.hypot(x - middle[0], y - middle[1])));
    if (reach < 30) yield* round(w, middle, reach, frame); // as small as a sign
  }
  // Beyond the far end, where it is in view.
  const [last, end] = w.path.slice(-2);
  const long = Math.hypot(end[0] - last[0], end[1] - last[1]);
  if (w.kind === "trench" && long > 0 && inside(end, frame)) {
    yield [0, aside(w, end, [(end[0] - last[0]) / long, (end[1] - last[1]) / long], 5)];
  }
  for (const [k, share] of shares.entries()) {
    const on = along(w.path, frame, share);
    if (!on) continue;
    const [at, [nx, ny]] = on;
    yield [1 + 0.3 * k, { at, beside: at }];
    // Beside it, on either side.
    const off = 5 + (Math.abs(nx) * w.width + Math.abs(ny) * w.height) / 2;
    for (const d of [off, -off]) yield [4 + 0.3 * k, { at: [at[0] + d * nx, at[1] + d * ny], beside: at }];
  }
}

/** The places round a sign. */
function* round(w: Wish, at: Pixel, radius: number, frame: Box): Generator<[number, Placed]> {
  if (!inside(at, frame)) return;
  for (const [k, off] of rings.entries()) {
    for (const [i, side] of sides.entries()) yield [4 * k + 0.2 * i, aside(w, at, side, radius + off)];
  }
}

/** Every place round the next hole, the nearest liked best, and those to the right. */
function* everywhere(w: Wish): Generator<[number, Placed]> {
  const [[x, y], room] = [w.path[0], 120];
  for (let dx = -w.width / 2 - room; dx <= w.width / 2 + room; dx += 2) {
    for (let dy = -w.height / 2 - room; dy <= w.height / 2 + room; dy += 2) {
      const at: Pixel = [x + dx, y + dy];
      const off = distance(about(at, w), w);
      if (off >= 1) yield [3 * off + (dx < 0 ? 1 : 0) + Math.abs(dy) / 60, { at, beside: w.path[0] }];
    }
  }
}

/** Words beside a place, off by some pixels on one side. */
function aside(w: Wish, at: Pixel, [sx, sy]: Pixel, off: number): Placed {
  const d = off / Math.max(Math.hypot(sx, sy), 1);
  return { at: [at[0] + sx * (d + w.width / 2), at[1] + sy * (d + w.height / 2)], beside: at };
}

/** The place at a share of the length of a path that lies in the frame, and which way is square off it. */
function along(path: Pixel[], frame: Box, share: number): [Pixel, Pixel] | null {
  const seen = path.slice(1).flatMap((b, i) => clip(path[i], b, frame) ?? []);
  let rest = share * seen.reduce((sum, [a, b]) => sum + Math.hypot(b[0] - a[0], b[1] - a[1]), 0);
  for (const [a, b] of seen) {
    const d = Math.hypot(b[0] - a[0], b[1] - a[1]);
    if (d > 0 && rest <= d) {
      const [ux, uy] = [(b[0] - a[0]) / d, (b[1] - a[1]) / d];
      return [[a[0] + ux * rest, a[1] + uy * rest], [-uy, ux]];
    }
    rest -= d;
  }
  return null;
}

/** What lies in a rectangle of a segment (Liang & Barsky 1984). */
function clip(a: Pixel, b: Pixel, [left, top, right, bottom]: Box): [Pixel, Pixel][] | null {
  let [t0, t1] = [0, 1];
  const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
  for (const [p, q] of [[-dx, a[0] - left], [dx, right - a[0]], [-dy, a[1] - top], [dy, bottom - a[1]]]) {
    if (p === 0 && q < 0) return null;
    if (p < 0) t0 = Math.max(t0, q / p);
    if (p > 0) t1 = Math.min(t1, q / p);
  }
  return t0 > t1 ? null : [[[a[0] + t0 * dx, a[1] + t0 * dy], [a[0] + t1 * dx, a[1] + t1 * dy]]];
}

const about = ([x, y]: Pixel, w: Wish): Box => [x - w.width / 2, y - w.height / 2, x + w.width / 2, y + w.height / 2];
const square = ([x, y]: Pixel, r: number): Box => [x - r, y - r, x + r, y + r];
const inside = ([x, y]: Pixel, [l, t, r, b]: Box) => x >= l && x <= r && y >= t && y <= b;
const within = (a: Box, b: Box) => a[0] >= b[0] && a[1] >= b[1] && a[2] <= b[2] && a[3] <= b[3];
const overlap = (a: Box, b: Box) => a[0] < b[2] && b[0] < a[2] && a[1] < b[3] && b[1] < a[3];
const crosses = (r: Box, path: Pixel[]) => path.slice(1).some((b, i) => clip(path[i], b, r));

/** From a rectangle to a thing: to the edge of its sign, or to its line. */
function distance(r: Box, w: Wish): number {
  if (w.path.length === 1) {
    const [x, y] = short(r, w.path[0]);
    // The next hole is a standing square.
    return Math.max(w.rank === "next" ? (x + y - w.radius) / Math.SQRT2 : Math.hypot(x, y) - w.radius, 0);
  }
  if (crosses(r, w.path) || (w.area && surrounds(w.path, [r[0], r[1]]))) return 0;
  const corners: Pixel[] = [[r[0], r[1]], [r[2], r[1]], [r[2], r[3]], [r[0], r[3]]];
  return Math.min(...w.path.map((p) => Math.hypot(...short(r, p))), ...corners.flatMap((c) => w.path.slice(1).map((b, i) => toSegment(c, w.path[i], b))));
}

/** How far a rectangle is from a place, across and down. */
function short([l, t, r, b]: Box, [x, y]: Pixel): Pixel {
  return [Math.max(l - x, 0, x - r), Math.max(t - y, 0, y - b)];
}

function toSegment([x, y]: Pixel, a: Pixel, b: Pixel): number {
  const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
  const t = Math.min(Math.max(((x - a[0]) * dx + (y - a[1]) * dy) / (dx * dx + dy * dy || 1), 0), 1);
  return Math.hypot(a[0] + t * dx - x, a[1] + t * dy - y);
}

/** Whether a closed path runs round a place: a ray to the right crosses it an odd number of times. */
function surrounds(path: Pixel[], [x, y]: Pixel): boolean {
  return path.slice(1).filter((b, i) => path[i][1] > y !== b[1] > y && x < ((b[0] - path[i][0]) * (y - path[i][1])) / (b[1] - path[i][1]) + path[i][0]).length % 2 === 1;
}
