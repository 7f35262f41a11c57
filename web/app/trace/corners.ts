// The corners of a sheet in a photo, found where that is sure, for a person to
// check. A sheet is a bright quadrilateral on darker ground: at each of several
// levels of brightness the largest bright patch is taken, and its outline must be
// four straight sides with darker ground beyond each. All levels that give a sheet
// must give the same one. Nothing is said otherwise: a white table, a sheet that
// runs out of the picture, a hand over a corner.
//
// Sources: connected patches by flood filling; convex hull by Andrew's monotone
// chain (Information Processing Letters 9, 1979); the sides by least squares
// across the line. The limits are this project's own, from the invented photos of
// the tests.

import { type Vec, add, cross, dist, dot, meet, size, sub, times } from "./geometry";
import { aspect, convex } from "./homography";
import type { Pixels } from "./warp";

const coarse = 200; // pixels of the longer side, for the outline
const fine = 800; // for the sides
const levels = 16; // even steps, and as many between shares of the picture that are darker

// How much brighter the paper is than the ground beside it, of 255: to be offered,
// and to cast doubt on what is offered.
const sure = 18;
const perhaps = 7;

/** Grey is a picture of one brightness a pixel, 0 to 255. */
interface Grey {
  at: Float32Array;
  width: number;
  height: number;
}

const turn = 10; // ms that the page works on before it looks whether a finger is waiting

type Pause = () => Promise<void> | void;

/** pauses returns a function that lets the page do other work where its turn is over. */
function pauses(): Pause {
  let began = performance.now();
  return () => {
    if (performance.now() - began < turn) return;
    return new Promise((done) => setTimeout(() => { began = performance.now(); done(); }));
  };
}

/**
 * corners returns the corners of the sheet in fractions of the picture, from its
 * top left clockwise; nothing where it is not sure.
 */
export async function corners(from: Pixels): Promise<Vec[] | undefined> {
  const pause = pauses();
  const [small, large] = [await shrink(from, coarse, pause), soft(await shrink(from, fine, pause))];
  const sorted = Float32Array.from(small.at).sort();
  const share = (f: number) => sorted[Math.floor((sorted.length - 1) * f)];
  const [dark, bright] = [share(0.02), share(0.98)];
  if (bright - dark < 2 * sure) return undefined;
  const found: Vec[][] = [];
  const doubts: Vec[][] = [];
  const seen: { q: Vec[]; edges?: Vec[]; doubt?: Vec[] }[] = []; // most levels give one outline
  for (let i = 1; i <= levels; i++) {
    for (const level of [dark + ((bright - dark) * (i - 0.5)) / levels, (share((i - 1) / levels) + share(i / levels)) / 2]) {
      await pause();
      const q = outline(small, level)?.map(([x, y]): Vec => [(x * large.width) / small.width, (y * large.height) / small.height]);
      if (!q) continue;
      let one = seen.find((s) => s.q.every((c, k) => dist(c, q[k]) < 1.5 * fine / coarse));
      if (!one) {
        await pause();
        const edges = refine(large, q, sure);
        // A frame that is drawn on the sheet breaks it up at some levels: its edge is further out then.
        seen.push(one = { q, edges, doubt: edges ? undefined : refine(large, q, perhaps) ?? refine(large, q, perhaps, 4) });
      }
      if (one.edges) found.push(one.edges);
      if (one.doubt) doubts.push(one.doubt);
    }
  }
  if (found.length < 2) return undefined;
  const near = 0.01 * Math.max(large.width, large.height);
  if ([...found, ...doubts].some((q) => q.some((c, i) => dist(c, found[0][i]) > near))) return undefined;
  const mean = [0, 1, 2, 3].map((i) => times(found.reduce<Vec>((sum, q) => add(sum, q[i]), [0, 0]), 1 / found.length));
  return mean.map(([x, y]): Vec => [x / large.width, y / large.height]);
}

/** soft takes the mean of a pixel and the eight around it: less noise. */
function soft({ at, width, height }: Grey): Grey {
  const to = Float32Array.from(at);
  for (let y = 1; y < height - 1; y++) {
    for (let i = y * width + 1; i < (y + 1) * width - 1; i++) {
      let sum = 0;
      for (const r of [i - width, i, i + width]) sum += at[r - 1] + at[r] + at[r + 1];
      to[i] = sum / 9;
    }
  }
  return { at: to, width, height };
}

/** shrink averages the picture down to a longer side, as brightness (Rec. 601 weights). */
async function shrink(p: Pixels, longest: number, pause: Pause): Promise<Grey> {
  const k = Math.max(1, Math.max(p.width, p.height) / longest);
  const [width, height] = [Math.floor(p.width / k), Math.floor(p.height / k)];
  const at = new Float32Array(width * height);
  for (let y = 0; y < height; y++) {
    if (y % 16 === 0) await pause();
    const [top, end] = [Math.floor(y * k), Math.max(Math.floor(y * k) + 1, Math.floor((y + 1) * k))];
    for (let x = 0; x < width; x++) {
      const [left, right] = [Math.floor(x * k), Math.max(Math.floor(x * k) + 1, Math.floor((x + 1) * k))];
      let sum = 0;
      for (let v = top; v < end; v++) {
        for (let u = left, i = (v * p.width + left) * 4; u < right; u++, i += 4) {
          sum += 0.299 * p.data[i] + 0.587 * p.data[i + 1] + 0.114 * p.data[i + 2];
        }
      }
      at[y * width + x] = sum / ((end - top) * (right - left));
    }
  }
  return { at, width, height };
}

/** outline returns the quadrilateral of the largest patch that is brighter than a level. */
function outline(g: Grey, level: number): Vec[] | undefined {
  const patch = largest(g, level);
  if (patch.length < 0.1 * g.at.length) return undefined;
  const rows = Array.from({ length: g.height }, (): [number, number] => [Infinity, -Infinity]);
  for (const i of patch) {
    const r = rows[Math.floor(i / g.width)];
    r[0] = Math.min(r[0], i % g.width);
    r[1] = Math.max(r[1], i % g.width);
  }
  // A sheet that reaches the side of the picture may go on beyond it.
  if (rows[0][0] < Infinity || rows[g.height - 1][0] < Infinity || rows.some(([l, r]) => l === 0 || r === g.width - 1)) return undefined;
  const h = hull(rows.flatMap(([l, r], y): Vec[] => (l < Infinity ? [[l, y], [r + 1, y], [l, y + 1], [r + 1, y + 1]] : [])));
  const q = quadrilateral(h);
  // A sheet fills its outline, but for what is drawn on it.
  if (!q || area(q) < 0.93 * area(h) || patch.length < 0.8 * area(h)) return undefined;
  return clockwise(q);
}

/** largest returns the pixels of the largest connected patch above a level. */
function largest({ at, width, height }: Grey, level: number): number[] {
  const seen = new Uint8Array(at.length);
  let best: number[] = [];
  for (let s = 0; s < at.length; s++) {
    if (seen[s] || at[s] < level) continue;
    const patch = [s];
    seen[s] = 1;
    const visit = (i: number) => {
      if (!seen[i] && at[i] >= level) { seen[i] = 1; patch.push(i); }
    };
    for (let n = 0; n < patch.length; n++) {
      const i = patch[n];
      const x = i % width;
      if (x > 0) visit(i - 1);
      if (x < width - 1) visit(i + 1);
      if (i >= width) visit(i - width);
      if (i < width * (height - 1)) visit(i + width);
    }
    if (patch.length > best.length) best = patch;
  }
  return best;
}

function hull(points: Vec[]): Vec[] {
  points.sort((a, b) => a[0] - b[0] || a[1] - b[1]);
  const half = (list: Vec[]) => {
    const h: Vec[] = [];
    for (const p of list) {
      while (h.length > 1 && cross(sub(h[h.length - 1], h[h.length - 2]), sub(p, h[h.length - 1])) <= 0) h.pop();
      h.push(p);
    }
    return h.slice(0, -1);
  };
  return [...half(points), ...half(points.reverse())];
}

const area = (v: readonly Vec[]) => Math.abs(v.reduce((sum, p, i) => sum + cross(p, v[(i + 1) % v.length]), 0)) / 2;

/** quadrilateral leaves four corners of a hull, taking away the one that matters least until then. */
function quadrilateral(h: Vec[]): Vec[] | undefined {
  const v = [...h];
  while (v.length > 4) {
    let [least, at] = [Infinity, 0];
    for (let i = 0; i < v.length; i++) {
      const a = area([v[(i + v.length - 1) % v.length], v[i], v[(i + 1) % v.length]]);
      if (a < least) [least, at] = [a, i];
    }
    v.splice(at, 1);
  }
  return v.length === 4 ? v : undefined;
}

/** clockwise orders corners from the top left, as the screen names them (y down). */
function clockwise(q: Vec[]): Vec[] {
  const c = times(q.reduce((a, b) => add(a, b)), 1 / 4);
  const round = [...q].sort((a, b) => Math.atan2(a[1] - c[1], a[0] - c[0]) - Math.atan2(b[1] - c[1], b[0] - c[0]));
  const first = round.reduce((best, p, i) => (p[0] + p[1] < round[best][0] + round[best][1] ? i : best), 0);
  return [...round.slice(first), ...round.slice(0, first)];
}

/**
 * refine moves the sides to the edge of the paper; nothing where one is not
 * straight, where there is no edge, or where the ground beyond one side is another
 * than beyond the others, as it is where a shadow ends on the sheet.
 */
function refine(g: Grey, q: Vec[], least: number, far = 1): Vec[] | undefined {
  const lines = q.map((a, i) => side(g, a, q[(i + 1) % 4], least, far));
  const made: Vec[] = [];
  for (let i = 0; i < 4; i++) {
    const [a, b] = [lines[(i + 3) % 4], lines[i]];
    const c = a && b && meet(a.at, a.along, b.at, b.along);
    if (!c || dist(c, q[i]) > 0.03 * far * Math.max(g.width, g.height)) return undefined;
    made.push(c);
  }
  const grounds = lines.map((l) => l!.ground);
  if (Math.max(...grounds) > 1.3 * Math.min(...grounds)) return undefined;
  return plausible(made, g.width, g.height) ? made : undefined;
}

/** plausible holds the outline to what a person's photo of a sheet looks like. */
function plausible(q: Vec[], width: number, height: number): boolean {
  if (!convex(q) || area(q) < 0.12 * width * height) return false;
  const square = q.every((p, i) => {
    const [a, b] = [sub(q[(i + 3) % 4], p), sub(q[(i + 1) % 4], p)];
    return Math.abs(dot(a, b)) < Math.cos((50 * Math.PI) / 180) * size(a) * size(b);
  });
  const ratio = aspect(q, width, height);
  return square && ratio > 0.4 && ratio < 2.5;
}

/** side fits a line to the edge of the paper near the segment a–b; the inside is to its right, y down. */
function side(g: Grey, a: Vec, b: Vec, least: number, far: number): { at: Vec; along: Vec; ground: number } | undefined {
  const long = Math.max(g.width, g.height);
  const along = times(sub(b, a), 1 / dist(a, b));
  const out: Vec = [along[1], -along[0]];
  const reach = Math.round(0.015 * long);
  const places: Vec[] = [];
  const grounds: number[] = [];
  const n = 48;
  for (let i = 0; i < n; i++) {
    const p = add(a, times(sub(b, a), 0.06 + (0.88 * (i + 0.5)) / n));
    const row = Array.from({ length: (5 + far) * reach + 1 }, (_, d) => sample(g, add(p, times(out, d - 3 * reach))));
    let [best, where] = [0.6 * least, 0];
    for (let d = 2 * reach; d <= (3 + far) * reach; d++) {
      const fall = row[d - 2] - row[d + 2];
      // Darker all the way beyond, not just at the edge: a line that is drawn on the sheet has paper on both sides.
      if (fall > best && middle(row.slice(d - 2 * reach, d - 2)) - Math.max(...row.slice(d + 3, d + 2 * reach)) > least) [best, where] = [fall, d];
    }
    if (where) {
      const [bright, beyond] = [middle(row.slice(where - 2 * reach, where - 2)), middle(row.slice(where + 3, where + 2 * reach))];
      places.push(add(p, times(out, where - 3 * reach)));
      grounds.push((beyond + 8) / (bright + 8)); // of the same light; 8 is black to a camera
    }
  }
  if (places.length < 0.75 * n) return undefined;
  let kept = places;
  for (let round = 0; round < 3; round++) {
    const line = fit(kept);
    const off = (p: Vec) => Math.abs(cross(line.along, sub(p, line.at)));
    kept = places.filter((p) => off(p) < Math.max(1.5, 0.003 * long));
    if (kept.length < 0.7 * n) return undefined;
  }
  return { ...fit(kept), ground: middle(grounds) };
}

function sample(g: Grey, [x, y]: Vec): number {
  const u = Math.min(Math.max(Math.round(x - 0.5), 0), g.width - 1);
  const v = Math.min(Math.max(Math.round(y - 0.5), 0), g.height - 1);
  return g.at[v * g.width + u];
}

const middle = (v: number[]): number => [...v].sort((a, b) => a - b)[v.length >> 1];

/** fit returns the line that leaves the least squares across it. */
function fit(p: Vec[]): { at: Vec; along: Vec } {
  const at = times(p.reduce((a, b) => add(a, b)), 1 / p.length);
  let [xx, xy, yy] = [0, 0, 0];
  for (const [x, y] of p.map((q) => sub(q, at))) [xx, xy, yy] = [xx + x * x, xy + x * y, yy + y * y];
  const turn = Math.atan2(2 * xy, xx - yy) / 2;
  return { at, along: [Math.cos(turn), Math.sin(turn)] };
}
