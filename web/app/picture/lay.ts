// How a picture is laid on the ground: from its pixels, x to the right and y down from
// the upper left corner of the picture, to metres east and north in the frame of the job.
import { homography, type Homography } from "../trace/homography";
import { says } from "./language";

export type Vec = readonly [number, number];

/** A landmark that was tapped in the picture: where, and where it lies on the ground. */
export interface Tie {
  /** Pixels of the kept picture. */
  at: Vec;
  /** Metres in the frame of the job. */
  ground: Vec;
  /** How far the landmark may be off, one standard deviation, metres. */
  sigma: number;
}

/**
 * How the picture was taken. similar: from straight above, turned and scaled; affine:
 * stretched or skewed as well, such as a copy of a plan; oblique: at an angle.
 */
export type Kind = "similar" | "affine" | "oblique";

/** How many taps each kind takes at least. */
export const least: Record<Kind, number> = { similar: 2, affine: 3, oblique: 4 };

/** A finger on an enlarged picture, pixels; common practice, no published source. */
export const finger = 3;

/** Lie takes pixels to the ground: a matrix of three rows that takes [x, y, 1]. */
export type Lie = Homography;

export const through = (h: Lie, [x, y]: Vec): Vec => {
  const w = h[6] * x + h[7] * y + h[8];
  return [(h[0] * x + h[1] * y + h[2]) / w, (h[3] * x + h[4] * y + h[5]) / w];
};

/** The inverse of a lie, ground to pixels; nothing where there is none. */
export function back(h: Lie): Lie | undefined {
  const [a, b, c, d, e, f, g, i, j] = h;
  const m = [e * j - f * i, c * i - b * j, b * f - c * e, f * g - d * j, a * j - c * g, c * d - a * f, d * i - e * g, b * g - a * i, a * e - b * d];
  const det = a * m[0] + b * m[3] + c * m[6];
  return det !== 0 && Number.isFinite(det) ? m.map((x) => x / det) : undefined;
}

const mean = (v: readonly Vec[]): Vec => [v.reduce((s, p) => s + p[0], 0) / v.length, v.reduce((s, p) => s + p[1], 0) / v.length];

/**
 * The lie that fits taps by least squares of their misfits on the ground; nothing where
 * they do not determine it. Source: Ghilani & Wolf, Adjustment Computations, chapter on
 * coordinate transformations: two-dimensional conformal and affine. Four taps of a
 * picture at an angle fit exactly (Hartley & Zisserman, section 2.3).
 */
export function fit(kind: Kind, ties: readonly Tie[]): Lie | undefined {
  if (ties.length < least[kind]) return undefined;
  if (kind === "oblique") return ties.length === 4 ? homography(ties.map((t) => t.at), ties.map((t) => t.ground)) : undefined;
  // About the middles, so that the figures stay small.
  const p0 = mean(ties.map((t) => t.at));
  const g0 = mean(ties.map((t) => t.ground));
  const about = ties.map(({ at, ground }) => ({ x: at[0] - p0[0], y: at[1] - p0[1], e: ground[0] - g0[0], n: ground[1] - g0[1] }));
  const sum = (f: (t: (typeof about)[0]) => number) => about.reduce((s, t) => s + f(t), 0);
  const at = (a: number, b: number, d: number, e: number): Lie => [a, b, g0[0] - a * p0[0] - b * p0[1], d, e, g0[1] - d * p0[0] - e * p0[1], 0, 0, 1];
  const xx = sum((t) => t.x * t.x);
  const yy = sum((t) => t.y * t.y);
  if (kind === "similar") {
    // East = a·x + b·y, north = b·x − a·y: y runs down in the picture.
    const s = xx + yy;
    if (!(s > 0)) return undefined;
    const a = sum((t) => t.x * t.e - t.y * t.n) / s;
    const b = sum((t) => t.y * t.e + t.x * t.n) / s;
    return at(a, b, b, -a);
  }
  const xy = sum((t) => t.x * t.y);
  const det = xx * yy - xy * xy;
  if (!(det > 1e-6 * xx * yy)) return undefined; // in one line
  const row = (f: (t: (typeof about)[0]) => number) => {
    const [u, v] = [sum((t) => t.x * f(t)), sum((t) => t.y * f(t))];
    return [(u * yy - v * xy) / det, (v * xx - u * xy) / det];
  };
  const [a, b] = row((t) => t.e);
  const [d, e] = row((t) => t.n);
  return at(a, b, d, e);
}

/** Metres on the ground of one pixel at a place of the picture, the mean of both ways. */
export function pixel(h: Lie, at: Vec): number {
  const o = through(h, at);
  const far = (q: Vec) => Math.hypot(q[0] - o[0], q[1] - o[1]);
  return (far(through(h, [at[0] + 1, at[1]])) + far(through(h, [at[0], at[1] + 1]))) / 2;
}

/** Whether the picture is seen from its face: a lie never mirrors. */
export const upright = (h: Lie, at: Vec): boolean => {
  const [o, u, v] = [at, [at[0] + 1, at[1]] as const, [at[0], at[1] + 1] as const].map((p) => through(h, p));
  return (u[0] - o[0]) * (v[1] - o[1]) - (u[1] - o[1]) * (v[0] - o[0]) < 0;
};

/** What the taps say of a lie. */
export interface Judged {
  lie: Lie;
  /** How far each tap lies from its landmark, metres. */
  off: number[];
  /** One standard deviation of a tap, each way, metres, by the misfits alone; 0 where nothing checks them. */
  found: number;
  /** The same, by finger and landmarks alone. */
  own: number;
  /** The larger of the two. */
  sigma: number;
  /** Nothing checks the taps: they fit whatever they are. */
  unchecked: boolean;
  /** The taps do not agree with one another. */
  apart: boolean;
  /** The tap that disagrees with all others; −1 where none does or none can be named. */
  odd: number;
  /** How far off the worst of the others is without the odd one, metres. */
  without: number;
}

const spreadOf = (off: number[], freedom: number) => (freedom > 0 ? Math.sqrt(off.reduce((s, v) => s + v * v, 0) / freedom) : 0);

/**
 * Fits taps and judges them. They are apart where their misfit is three times what a
 * finger and the landmarks explain. One is odd where without it the others agree to a
 * third of that, which has to hold for no other; so it takes one tap more than the fit
 * needs, twice: with three taps from above any one could be the wrong one.
 */
export function judge(kind: Kind, ties: readonly Tie[]): Judged | undefined {
  const lie = fit(kind, ties);
  if (!lie) return undefined;
  const misfits = (h: Lie, all: readonly Tie[]) => all.map((t) => ((g) => Math.hypot(g[0] - t.ground[0], g[1] - t.ground[1]))(through(h, t.at)));
  const off = misfits(lie, ties);
  const freedom = 2 * (ties.length - least[kind]);
  const own = Math.max(...ties.map((t) => Math.hypot(finger * pixel(lie, t.at), t.sigma)));
  const found = spreadOf(off, freedom);
  const apart = found > 3 * own;
  const rest = ties.map((_, i) => ties.filter((_, j) => j !== i));
  let [odd, without] = [-1, 0];
  if (apart && freedom > 2) {
    const others = rest.map((r) => ((h) => (h ? misfits(h, r) : [Infinity]))(fit(kind, r)));
    const agree = others.map((o) => spreadOf(o, freedom - 2) < Math.max(own, found / 3));
    if (agree.filter(Boolean).length === 1) [odd, without] = [agree.indexOf(true), Math.max(...others[agree.indexOf(true)])];
  }
  return { lie, off, found, own, sigma: Math.max(own, found), unchecked: freedom === 0, apart, odd, without };
}

/**
 * One standard deviation, each way, metres, of where the picture shows a place of the
 * ground: by the law of propagation of variances, for a picture that is laid by taps with
 * the given spread. A picture at an angle is taken for an affine one there.
 */
export function spread(kind: Kind, ties: readonly Tie[], sigma: number, place: Vec): number {
  const c = mean(ties.map((t) => t.ground));
  const d = [place[0] - c[0], place[1] - c[1]];
  const about = ties.map((t) => [t.ground[0] - c[0], t.ground[1] - c[1]]);
  const sum = (f: (v: number[]) => number) => about.reduce((s, v) => s + f(v), 0);
  const [xx, yy, xy] = [sum((v) => v[0] * v[0]), sum((v) => v[1] * v[1]), sum((v) => v[0] * v[1])];
  if (kind === "similar") return sigma * Math.sqrt(1 / ties.length + (d[0] ** 2 + d[1] ** 2) / (xx + yy));
  const det = xx * yy - xy * xy;
  return sigma * Math.sqrt(1 / ties.length + (yy * d[0] ** 2 - 2 * xy * d[0] * d[1] + xx * d[1] ** 2) / det);
}

/** Two taps that are one spot of the picture, or two landmarks that are one on the ground; [−1, −1] where there are none. */
export function same(ties: readonly Tie[], size: Vec): readonly [number, number] {
  const near = Math.hypot(...size) / 100;
  for (let i = 0; i < ties.length; i++) {
    for (let j = 0; j < i; j++) {
      if (Math.hypot(ties[i].at[0] - ties[j].at[0], ties[i].at[1] - ties[j].at[1]) < near) return [j, i];
    }
  }
  return [-1, -1];
}

/**
 * The six numbers of a world file: A, D, B, E, C, F, a line each; x = A·column + B·row + C,
 * y = D·column + E·row + F, where column and row 0 are the middle of the upper left pixel
 * (ESRI, World files for raster datasets). Returned as a lie, so from the corner of that
 * pixel, half a pixel on. Throws why it is none.
 */
export function worldFile(text: string): Lie {
  const words = text.replace(/^\uFEFF/, "").trim().split(/\s+/);
  const n = words.map((w) => (/^[-+]?(\d+\.?\d*|\.\d+)([eE][-+]?\d+)?$/.test(w) ? Number(w) : NaN));
  if (n.length !== 6 || n.some(Number.isNaN)) throw new Error(says.worldFile(n.length === 6 ? `"${words[n.findIndex(Number.isNaN)]}"` : says.words(words.length)));
  const [a, d, b, e, c, f] = n;
  if (Math.abs(a * e - b * d) < 1e-24) throw new Error(says.noWidth);
  return [a, b, c - (a + b) / 2, d, e, f - (d + e) / 2, 0, 0, 1];
}
