// Between the file's coordinates and the plane that the screen draws in: x to
// the right, y up, with the same unit on both axes.

import { type Vec, dist, times, add } from "./geometry";
import { isBare, metresPer } from "./length";
import { type Header, type Sketch, header, mapPlaces, vertices, withUnits } from "./sketch";

export interface Plane {
  /** view takes the file's coordinates to the screen's plane. */
  view(c: Vec): Vec;
  /** file takes the screen's plane to the file's coordinates. */
  file(v: Vec): Vec;
  /** metres of one unit of the screen's plane; undefined where the scale is unknown. */
  metres?: number;
}

// Metres of one degree of latitude and of longitude at the equator, rounded:
// good enough to draw by, and inverted exactly on the way back.
const degree = 111_200;

/** plane returns how the sketch's coordinates are drawn. */
export function plane(s: Sketch): Plane {
  const h = s.sketch;
  if (h.plane === "wgs84") {
    const first = s.features.map(vertices).find((v) => v.length)?.[0] ?? [0, 0];
    const k = Math.cos((first[1] * Math.PI) / 180);
    return {
      view: ([lon, lat]) => [(lon - first[0]) * degree * k, (lat - first[1]) * degree],
      file: ([x, y]) => [round(first[0] + x / degree / k, 1e-10), round(first[1] + y / degree, 1e-10)],
      metres: 1,
    };
  }
  const m = metresPer[h.unit ?? "px"];
  const step = m === undefined ? 0.01 : 10 ** Math.floor(Math.log10(0.001 / (m * ratio(h))));
  return { view: (c) => c, file: ([x, y]) => [round(x, step), round(y, step)], metres: m && m * ratio(h) };
}

/** round keeps whole steps: nobody draws finer than a millimetre on the ground. */
function round(x: number, step: number): number {
  return step < 1 ? Number(x.toFixed(Math.round(-Math.log10(step)))) : Math.round(x / step) * step;
}

/** ratio returns ground length over paper length of a header, 1 where there is none. */
export function ratio(h: Header): number {
  const t = String(h.ratio ?? 1).split(":");
  const r = t.length === 2 ? Number(t[1]) / Number(t[0]) : Number(t[0]);
  return r > 0 ? r : 1;
}

/**
 * rescale makes one unit of the drawing the given metres on the ground, in the
 * crew's unit, and takes the scan along. Bare numbers get the unit they were in.
 */
export function rescale(s: Sketch, metresPerUnit: number, unit: "ft" | "m"): Sketch {
  const old = s.sketch.unit ?? "px";
  if (old !== unit) s = withUnits(s, old === "px" ? unit : old);
  const k = metresPerUnit / metresPer[unit];
  const next = header(s, { unit, ratio: undefined, underlay: s.sketch.underlay && {
    ...s.sketch.underlay, at: times(s.sketch.underlay.at, k), per: s.sketch.underlay.per * k,
  } });
  const { file } = plane(next);
  return mapPlaces(next, (v) => file(times(v, k)));
}

/** scaleOf returns metres per unit from two places and the length written between them. */
export function scaleOf(a: Vec, b: Vec, metres: number): number | undefined {
  const d = dist(a, b);
  return d > 0 && metres > 0 ? metres / d : undefined;
}

/**
 * bearingUp returns the true bearing of the drawing's up, degrees, from an
 * arrow drawn from tail to head that points true north.
 */
export function bearingUp(tail: Vec, head: Vec): number | undefined {
  if (dist(tail, head) === 0) return undefined;
  const arrow = (Math.atan2(head[0] - tail[0], head[1] - tail[1]) * 180) / Math.PI;
  return (Math.round((360 - arrow) * 10) / 10) % 360;
}

/** northArrow returns the tip of an arrow from tail, of the given length, for an up of this bearing. */
export function northArrow(tail: Vec, length: number, bearing: number): Vec {
  const a = (-bearing * Math.PI) / 180;
  return add(tail, [Math.sin(a) * length, Math.cos(a) * length]);
}

/**
 * asWritten is what goes into the sketch for a typed length: the text as it is
 * written, except that a bare number gets the crew's unit where the sketch's
 * own unit would give it another meaning.
 */
export function asWritten(text: string, s: Sketch, unit: "ft" | "m"): string {
  const t = text.trim();
  return isBare(t) && (s.sketch.unit !== unit || ratio(s.sketch) !== 1) ? `${t} ${unit}` : t;
}
