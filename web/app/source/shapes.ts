// Shapes on the map from what is believed: plain geometry, metres.
import type { BeliefCorridor, Region, Vertex } from "./answer";

/** The outline of an ellipse; its bearing is clockwise from north. */
export function ellipse(east: number, north: number, r: Region, n = 48): Vertex[] {
  const [s, c] = [Math.sin((r.bearing * Math.PI) / 180), Math.cos((r.bearing * Math.PI) / 180)];
  return Array.from({ length: n + 1 }, (_, i) => {
    const t = (2 * Math.PI * i) / n;
    const [u, v] = [r.semi_major * Math.cos(t), r.semi_minor * Math.sin(t)];
    return [east + u * s + v * c, north + u * c - v * s];
  });
}

/** The strip round a line that is half as wide as stated at each vertex. */
export function strip(c: BeliefCorridor): Vertex[] {
  const p = c.line;
  const left: Vertex[] = [];
  const right: Vertex[] = [];
  p.forEach(([east, north], i) => {
    const [a, b] = [p[Math.max(i - 1, 0)], p[Math.min(i + 1, p.length - 1)]];
    const l = Math.hypot(b[0] - a[0], b[1] - a[1]) || 1;
    const [x, y] = [((b[1] - a[1]) / l) * c.half[i], (-(b[0] - a[0]) / l) * c.half[i]];
    // Beyond the ends the part may lie as far away as it may beside the line.
    const past = i === 0 ? -1 : i === p.length - 1 ? 1 : 0;
    const [e, n] = [east - past * y, north + past * x];
    right.push([e + x, n + y]);
    left.push([e - x, n - y]);
  });
  return [...right, ...left.reverse(), right[0]];
}

/** The bearing of the longest side of an outline, in degrees from north, 0 to 180. */
export function longSide(vertices: Vertex[]): number {
  let [best, bearing] = [0, 0];
  vertices.forEach(([x, y], i) => {
    const [u, v] = vertices[(i + 1) % vertices.length];
    const l = Math.hypot(u - x, v - y);
    if (l > best) [best, bearing] = [l, (Math.atan2(u - x, v - y) * 180) / Math.PI];
  });
  return ((bearing % 180) + 180) % 180;
}
