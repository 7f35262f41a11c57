// What part of the plane the board shows: pan and zoom.

import type { Vec } from "./geometry";

/** View takes the plane (y up) to the board's pixels (y down). */
export interface View {
  k: number; // pixels to a unit
  x: number; // of the plane's origin on the board, pixels
  y: number;
}

export const toBoard = (v: View, p: Vec): Vec => [v.x + v.k * p[0], v.y - v.k * p[1]];
export const toPlane = (v: View, s: Vec): Vec => [(s[0] - v.x) / v.k, (v.y - s[1]) / v.k];

/** fit shows all the points, with a margin in pixels. */
export function fit(points: readonly Vec[], board: Vec, margin = 24): View {
  const xs = points.map((p) => p[0]);
  const ys = points.map((p) => p[1]);
  const [left, right, low, high] = points.length
    ? [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)] : [0, 100, 0, 100];
  const room = (n: number) => Math.max(n - 2 * margin, 40);
  const k = Math.min(room(board[0]) / Math.max(right - left, 1e-6), room(board[1]) / Math.max(high - low, 1e-6));
  const safe = Number.isFinite(k) && k > 0 && k < 1e5 ? k : 1;
  return { k: safe, x: board[0] / 2 - (safe * (left + right)) / 2, y: board[1] / 2 + (safe * (low + high)) / 2 };
}

/** zoom magnifies by a factor about a place on the board. */
export function zoom(v: View, by: number, about: Vec): View {
  return { k: v.k * by, x: about[0] + (v.x - about[0]) * by, y: about[1] + (v.y - about[1]) * by };
}

/** pan moves what is shown by pixels. */
export const pan = (v: View, by: Vec): View => ({ ...v, x: v.x + by[0], y: v.y + by[1] });

/** pinch keeps what lay under two fingers under them. */
export function pinch(v: View, from: readonly [Vec, Vec], to: readonly [Vec, Vec]): View {
  const d = (p: readonly [Vec, Vec]) => Math.hypot(p[1][0] - p[0][0], p[1][1] - p[0][1]);
  const mid = (p: readonly [Vec, Vec]): Vec => [(p[0][0] + p[1][0]) / 2, (p[0][1] + p[1][1]) / 2];
  const [a, b] = [mid(from), mid(to)];
  return pan(zoom(v, d(from) > 0 ? d(to) / d(from) : 1, a), [b[0] - a[0], b[1] - a[1]]);
}
