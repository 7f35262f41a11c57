// Parts of a picture, and which of a picture with coordinates shows a lot.
import { homography } from "../trace/homography";
import { back, through, type Lie, type Vec } from "./lay";

/** A part of a picture, pixels. */
export interface Window {
  left: number;
  top: number;
  width: number;
  height: number;
}

/** Metres beside the site that are kept of a larger picture. */
export const around = 60;

/** The corners of a picture of a size, upper left first and clockwise. */
export const cornersOf = ([w, h]: Vec): Vec[] => [[0, 0], [w, 0], [w, h], [0, h]];

/** The EPSG code that a world file is likely to be in: degrees, the job's own for export, or UTM on WGS 84. */
export function likely(world: Lie, exported: unknown, origin: { lon: number; lat: number } | null): string {
  if (Math.abs(world[2]) <= 180 && Math.abs(world[5]) <= 90) return "EPSG:4326";
  if (typeof exported === "string" && exported) return exported;
  return origin ? `EPSG:${(origin.lat < 0 ? 32700 : 32600) + (Math.floor((origin.lon + 180) / 6) % 60) + 1}` : "";
}

/**
 * The window of a picture that shows a box of the ground, with a margin in metres; nothing
 * where it shows none of the box. ground is where the corners of the picture lie.
 */
export function windowOf(size: Vec, ground: readonly Vec[], [west, south, east, north]: readonly number[], margin: number): Window | undefined {
  const lie = homography(cornersOf([1, 1]), ground); // in fractions of the picture, which may be very large
  const inverse = lie && back(lie);
  if (!inverse) return undefined;
  const clip = (m: number): Window => {
    const corners: Vec[] = [[west - m, south - m], [east + m, south - m], [east + m, north + m], [west - m, north + m]];
    const p = corners.map((c) => through(inverse, c));
    const [x, y] = [0, 1].map((i) => p.map((q) => q[i] * size[i]));
    const [left, top] = [Math.max(0, Math.floor(Math.min(...x))), Math.max(0, Math.floor(Math.min(...y)))];
    return { left, top, width: Math.min(size[0], Math.ceil(Math.max(...x))) - left, height: Math.min(size[1], Math.ceil(Math.max(...y))) - top };
  };
  const seen = clip(0);
  return seen.width > 0 && seen.height > 0 ? clip(margin) : undefined;
}
