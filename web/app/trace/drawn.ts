// What is written on the sheet, compared with what is drawn: a figure that was
// misread, or a corner that was touched in the wrong place, shows at once. It is
// asked about, never refused: sheets contradict themselves.

import { type Vec, dist, middle, pathLength } from "./geometry";
import { words } from "./language";
import { metres, shown } from "./length";
import { plane } from "./plane";
import { type Feature, type Sketch, find, vertices } from "./sketch";

/**
 * spread is how far a length between two things of a sheet of each trust is off
 * its drawing, as standard deviations: a share of it, and metres beside that. They
 * are those of the engine (survey/drawing, DraftingOf), the errors put together
 * that a tie from the house to the field has: share of stretch, size and drift;
 * metres of shift, box and landmark. scale is that of the logarithm of the scale.
 * A test holds them to the engine's, as they are where no finished jobs say better. None is published.
 */
export const spread: Record<string, { share: number; metres: number; scale: number }> = {
  "to-scale": { share: 0.017, metres: 0.37, scale: 0.02 },
  roughly: { share: 0.075, metres: 0.97, scale: 0.1 },
  "not-to-scale": { share: 0.185, metres: 1.84, scale: 0.35 },
};

// A figure is asked about beyond two standard deviations: one good one in twenty
// is looked at once more for nothing, which takes a second; a wrong one that is
// missed takes a hole.
const far = 2;

/** Written is a figure of the sheet beside the line that it belongs to. */
export interface Written {
  part: string; // id
  at?: string; // spot that a tie runs to; left out for a length
  from?: string; // landmark of a tie
  text: string;
  metres: number;
  drawn: number; // in the screen's plane
}

/** figures gives every written length and tie that can be measured in the drawing. */
export function figures(s: Sketch, unit: "ft" | "m"): Written[] {
  const view = plane(s).view;
  const all: Written[] = [];
  const put = (part: string, text: unknown, drawn: number | undefined, tie?: { at: string; from: string }) => {
    const m = metres(String(text ?? ""), unit);
    if (m && m > 0 && drawn) all.push({ part, text: String(text), metres: m, drawn, ...tie });
  };
  for (const f of s.features) {
    if (f.geometry.type === "LineString") put(f.id, f.properties.length, pathLength(vertices(f).map(view)));
    for (const t of f.properties.ties ?? []) {
      const from = find(s, t.from);
      const [a, b] = [from && spot(from, "center"), spot(f, t.at ?? "center")];
      put(f.id, t.distance, a && b && dist(view(a), view(b)), { at: t.at ?? "center", from: t.from });
    }
  }
  return all;
}

/** spot gives the place of a part that a tie runs to; of a corner, nobody says which. */
function spot(f: Feature, at: string): Vec | undefined {
  const v = vertices(f);
  if (v.length === 0) return undefined;
  switch (at) {
    case "start": return v[0];
    case "end": return v[v.length - 1];
    case "center": return middle(v);
  }
  return undefined;
}

/** Odd is a figure that its drawing contradicts. */
export type Odd = Written & { says: string };

/**
 * odd returns the figures that the drawing contradicts, and a sentence where they
 * agree with each other and not with the scale that was set. Each is judged by the
 * others, by the middle of what they say of the scale where there are two or more
 * of them, else by the scale that was set.
 */
export function odd(s: Sketch, unit: "ft" | "m"): { odd: Odd[]; scale?: string } {
  const all = figures(s, unit);
  const by = spread[s.sketch.trust ?? "roughly"] ?? spread.roughly;
  const set = plane(s).metres;
  const per = (without?: Written) => all.length >= 3 ? median(all.filter((w) => w !== without).map((w) => w.metres / w.drawn)) : set;
  const found = all.flatMap((w) => {
    const drawn = w.drawn * (per(w) ?? NaN); // no scale: nothing is odd
    const off = Math.abs(w.metres - drawn);
    return off > far * Math.hypot(by.share * drawn, by.metres) ? [{ ...w, says: words.ties.oddSays(w.text, shown(drawn, unit)) }] : [];
  });
  const said = per();
  const wrong = set !== undefined && said !== undefined && Math.abs(Math.log(said / set)) > far * by.scale;
  return { odd: found, ...(wrong ? { scale: words.ties.scale((said / set).toFixed(2)) } : {}) };
}

/** median returns the middle of some numbers, as the engine's own does. */
function median(v: number[]): number {
  v = [...v].sort((a, b) => a - b);
  return (v[(v.length - 1) >> 1] + v[v.length >> 1]) / 2;
}
