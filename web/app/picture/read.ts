// What a picture tells of a place that is tapped in it: a baseline reading from two of the
// landmarks that the picture was laid by, with an honest spread.
import { judge, least, spread, through, type Kind, type Tie, type Vec } from "./lay";

/**
 * The most places that are read in one picture. They share the error of its laying, and the
 * log has no way to say so. With variances own² + most · laying² they are safe to be taken
 * for independent: for any weights w, (Σ wᵢ layingᵢ)² ≤ most · Σ wᵢ² layingᵢ² (Cauchy and
 * Schwarz), which is the most that errors in common can make of Σ wᵢ xᵢ.
 */
export const most = 4;

// Each way, metres: a corner of a roof is not that of the wall, and a lid has a width;
// common practice, no published source.
const edge = 0.3;

// What stands above the ground leans away from below the camera by its height over the
// height of flight (Wolf & Dewitt, Elements of Photogrammetry, relief displacement:
// d = r·h/H): eaves of 3.5 m from 400 ft, the most for a small unmanned aircraft (14 CFR
// 107.51). The camera is taken to have been over the middle of the picture.
const lean = 0.03;

// How many times the spread that few misfits show it may be, with 95 %, by the equations
// that are left over: √(n / χ²), with the 5 % quantiles of χ² (NIST/SEMATECH e-Handbook,
// 1.3.6.7.4: 0.103 of two, 0.711 of four).
const mayBe: Record<number, number> = { 2: Math.sqrt(2 / 0.103), 4: Math.sqrt(4 / 0.711) };

const mean = (v: number[]) => v.reduce((s, x) => s + x, 0) / v.length;

export interface Read {
  /** Of the landmarks that the picture is laid by: the line that the place is set off from. */
  from: number;
  to: number;
  /** Along the line, and to its right, metres. */
  station: number;
  offset: number;
  /** One standard deviation, each way, metres. */
  sigma: number;
}

/**
 * What a tap says; nothing for a picture at an angle, whose spread is not known. middle is
 * that of the picture, pixels; high says that the place may stand above the ground, as the
 * corner of a roof does.
 */
export function read(kind: Kind, ties: readonly Tie[], at: Vec, middle: Vec, high: boolean): Read | undefined {
  const judged = kind === "oblique" ? undefined : judge(kind, ties);
  if (!judged) return undefined;
  const far = (a: Vec, b: Vec) => Math.hypot(a[0] - b[0], a[1] - b[1]);
  let [from, to, long] = [0, 0, 0];
  ties.forEach((a, i) => ties.forEach((b, j) => i < j && far(a.ground, b.ground) > long && ([from, to, long] = [i, j, far(a.ground, b.ground)])));
  const [p, a, b] = [through(judged.lie, at), ties[from].ground, ties[to].ground];
  const e = [(b[0] - a[0]) / long, (b[1] - a[1]) / long];
  const d = [p[0] - a[0], p[1] - a[1]];
  const centre: Vec = [mean(ties.map((t) => t.ground[0])), mean(ties.map((t) => t.ground[1]))];
  const below = through(judged.lie, middle);
  const reach = Math.max(...[p, ...ties.map((t) => t.ground)].map((q) => far(q, below)));
  const finger = Math.hypot(judged.own, edge);
  // The landmarks lean too; where misfits show how much, no more than they allow.
  const freedom = 2 * (ties.length - least[kind]);
  const tap = Math.hypot(finger, Math.min(lean * reach, freedom > 0 ? judged.found * mayBe[freedom] : Infinity));
  // Roofs that lean alike change the scale, which no misfit shows.
  const laying = Math.hypot(spread(kind, ties, tap, p), lean * far(p, centre));
  const own = high ? Math.hypot(finger, lean * reach) : finger;
  return { from, to, station: d[0] * e[0] + d[1] * e[1], offset: d[0] * e[1] - d[1] * e[0], sigma: Math.hypot(own, Math.sqrt(most) * laying) };
}
