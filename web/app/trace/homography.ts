// The plane projective transformation between a photo and the sheet on it.
// Source: Hartley & Zisserman, Multiple View Geometry in Computer Vision, 2nd
// ed., section 2.3 (a homography from four points) and 8.3 (what a camera with
// square pixels makes of a plane).

import { type Vec, cross, dist, sub } from "./geometry";

/** Homography is a 3×3 matrix by rows; it takes [x, y, 1]. */
export type Homography = readonly number[];

/**
 * homography returns the matrix that takes each of four points to its
 * counterpart; nothing where three of either four lie on one line.
 */
export function homography(from: readonly Vec[], to: readonly Vec[]): Homography | undefined {
  const rows: number[][] = [];
  for (let i = 0; i < 4; i++) {
    const [x, y] = from[i];
    const [u, v] = to[i];
    rows.push([x, y, 1, 0, 0, 0, -u * x, -u * y, u], [0, 0, 0, x, y, 1, -v * x, -v * y, v]);
  }
  const h = solve(rows);
  return h && [...h, 1];
}

/** solve returns x of a linear system whose rows end with the right side. */
function solve(rows: number[][]): number[] | undefined {
  const n = rows.length;
  const scale = Math.max(...rows.flat().map(Math.abs));
  for (let c = 0; c < n; c++) {
    let p = c;
    for (let r = c + 1; r < n; r++) if (Math.abs(rows[r][c]) > Math.abs(rows[p][c])) p = r;
    if (!(Math.abs(rows[p][c]) > 1e-12 * scale)) return undefined;
    [rows[c], rows[p]] = [rows[p], rows[c]];
    for (let r = 0; r < n; r++) {
      if (r === c) continue;
      const f = rows[r][c] / rows[c][c];
      for (let k = c; k <= n; k++) rows[r][k] -= f * rows[c][k];
    }
  }
  return rows.map((row, i) => row[n] / row[i]);
}

/** apply takes a point through h. */
export function apply(h: Homography, [x, y]: Vec): Vec {
  const w = h[6] * x + h[7] * y + h[8];
  return [(h[0] * x + h[1] * y + h[2]) / w, (h[3] * x + h[4] * y + h[5]) / w];
}

/**
 * convex reports whether four corners form a convex outline, as the picture of
 * a flat sheet always does.
 */
export function convex(c: readonly Vec[]): boolean {
  const turns = c.map((p, i) => Math.sign(cross(sub(c[(i + 1) % 4], p), sub(c[(i + 2) % 4], c[(i + 1) % 4]))));
  return turns[0] !== 0 && turns.every((t) => t === turns[0]);
}

/**
 * aspect returns width over height of the sheet whose corners (top left, top
 * right, bottom right, bottom left) are seen in a photo of the given size,
 * taken by a camera with square pixels that looks through the middle of it.
 * Source: Zhang & He, Whiteboard scanning and image enhancement, Digital Signal
 * Processing 17 (2007), section 3. Where the sheet was taken nearly square on,
 * the focal length cannot be found and the mean of opposite sides is used.
 */
export function aspect(corners: readonly Vec[], width: number, height: number): number {
  const sides = (dist(corners[0], corners[1]) + dist(corners[3], corners[2])) /
    (dist(corners[0], corners[3]) + dist(corners[1], corners[2]));
  const h = homography([[0, 0], [1, 0], [1, 1], [0, 1]],
    corners.map((c): Vec => [c[0] - width / 2, c[1] - height / 2]));
  if (!h) return sides;
  // The columns are the pictures of the sheet's directions: their third members
  // are the vanishing points' weights. Both must tilt, or f falls out.
  const [a, b] = [[h[0], h[3], h[6]], [h[1], h[4], h[7]]];
  const long = Math.max(width, height);
  if (Math.abs(a[2] * b[2]) < 1e-3) return sides;
  const f2 = -(a[0] * b[0] + a[1] * b[1]) / (a[2] * b[2]);
  // No phone's focal length is more than six times, or less than 0.4 times, the
  // size of its picture.
  if (!(f2 > (0.4 * long) ** 2 && f2 < (6 * long) ** 2)) return sides;
  const len = (c: number[]) => Math.sqrt((c[0] ** 2 + c[1] ** 2) / f2 + c[2] ** 2);
  return len(a) / len(b);
}

/** Paper is a size of sheet that permits are drawn on, in inches, upright. */
export interface Paper {
  name: string;
  width: number;
  height: number;
}

/**
 * papers lists usual sheets. Sources: ANSI/ASME Y14.1 (A: letter, B: ledger),
 * ISO 216 (A3, A4: 297 × 420, 210 × 297 mm); legal is 8½ × 14 by practice.
 */
export const papers: readonly Paper[] = [
  { name: "Letter, 8½ × 11 in", width: 8.5, height: 11 },
  { name: "Legal, 8½ × 14 in", width: 8.5, height: 14 },
  { name: "Ledger, 11 × 17 in", width: 11, height: 17 },
  { name: "A4, 210 × 297 mm", width: 210 / 25.4, height: 297 / 25.4 },
  { name: "A3, 297 × 420 mm", width: 297 / 25.4, height: 420 / 25.4 },
];
