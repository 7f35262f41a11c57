// How the map is drawn: every difference that matters shows in shape, dash or
// word as well as in colour, and everything is dark enough to be read in the
// sun.
import { CircleStyle, Fill, RegularShape, Stroke, Style } from "../vendor/ol.js";
import type { State } from "./answer";

export const colours = {
  ink: "#10201a", faint: "#6d7a74", part: "#0b4f3a", band: "rgba(11, 79, 58, 0.13)", tape: "#10201a",
  next: "#7a0c46", hole: "#10201a", danger: "#8a1010", me: "#0a3c8c", paper: "#ffffff",
};

const dashes: Record<State, number[] | undefined> = { seen: undefined, inferred: [14, 5], recorded: [4, 7] };

export const line = (color: string, width: number, lineDash?: number[]) => new Style({ stroke: new Stroke({ color, width, lineDash }) });

/** A line of a part: whole where seen, dashes where inferred, dots where only recorded. */
export const partLine = (state: State, width = 4) => line(colours.part, width, dashes[state]);

export const band = new Style({ fill: new Fill({ color: colours.band }), stroke: new Stroke({ color: colours.part, width: 1 }) });
export const region = line(colours.part, 2, [2, 5]);
export const old = line(colours.faint, 1.5, [6, 4]);
export const building = new Style({ fill: new Fill({ color: "rgba(16, 32, 26, 0.07)" }), stroke: new Stroke({ color: colours.ink, width: 2.5 }) });
export const context = line(colours.faint, 2, [10, 4, 2, 4]);

/** A hole that met something: a full disc. */
export const met = new Style({ image: new CircleStyle({ radius: 9, fill: new Fill({ color: colours.hole }), stroke: new Stroke({ color: "#ffffff", width: 2 }) }) });

/** A hole that met nothing: an open ring with a cross in it. */
export const empty = [
  new Style({ image: new CircleStyle({ radius: 9, fill: new Fill({ color: "#ffffff" }), stroke: new Stroke({ color: colours.hole, width: 3 }) }) }),
  new Style({ image: new RegularShape({ points: 4, radius: 8, radius2: 0, angle: Math.PI / 4, stroke: new Stroke({ color: colours.hole, width: 2.5 }) }) }),
];

/** A stake: set out or measured, not dug. */
export const stake = new Style({ image: new RegularShape({ points: 4, radius: 8, radius2: 0, stroke: new Stroke({ color: colours.hole, width: 2.5 }) }) });

/** A stab of a probe rod that is to be made. */
export const stab = new Style({ image: new CircleStyle({ radius: 3.5, fill: new Fill({ color: colours.next }), stroke: new Stroke({ color: "#ffffff", width: 1 }) }) });

const open = (stroke: Stroke) => new Style({ image: new RegularShape({ points: 4, radius: 22, stroke }) });

/** The hole to dig next: a standing square, open so that a box or a hole in it is seen. */
export const next = [open(new Stroke({ color: "#ffffff", width: 8 })), open(new Stroke({ color: colours.next, width: 4 })), new Style({ image: new CircleStyle({ radius: 4, fill: new Fill({ color: colours.next }) }) })];

/** How far each sign reaches from its place, pixels: names keep off it. */
export const reach = { next: 24, box: 13, hole: 11, later: 9, landmark: 10, me: 10 };

/** A hole of the plan for the case that those before it come up empty. */
export const later = new Style({ image: new RegularShape({ points: 4, radius: 8, fill: new Fill({ color: "#ffffff" }), stroke: new Stroke({ color: colours.next, width: 2 }) }) });

/** A landmark: a triangle, as on survey sheets. */
export const landmark = new Style({ image: new RegularShape({ points: 3, radius: 9, fill: new Fill({ color: colours.ink }), stroke: new Stroke({ color: "#ffffff", width: 2 }) }) });

export const boxMark = (state: State) =>
  new Style({ image: new RegularShape({ points: 4, angle: Math.PI / 4, radius: 11, fill: new Fill({ color: "#ffffff" }), stroke: new Stroke({ color: colours.part, width: 4, lineDash: dashes[state] && [4, 3] }) }) });

export const tapeLine = line(colours.next, 2, [1, 5]);
export const followLine = line(colours.next, 5, [12, 7]);

export const me = new Style({ image: new CircleStyle({ radius: 8, fill: new Fill({ color: colours.me }), stroke: new Stroke({ color: "#ffffff", width: 3 }) }) });
export const around = new Style({ fill: new Fill({ color: "rgba(10, 60, 140, 0.10)" }), stroke: new Stroke({ color: colours.me, width: 2 }) });

let hatch: CanvasPattern | null = null;

/** Where no hole may go: hatched, as wide as the clearance on either side. */
export function clearance(metres: number, resolution: number): Style {
  if (!hatch) {
    const c = Object.assign(document.createElement("canvas"), { width: 10, height: 10 });
    const g = c.getContext("2d")!;
    g.strokeStyle = "rgba(138, 16, 16, 0.6)";
    g.lineWidth = 1.6;
    for (const d of [-10, 0, 10]) {
      g.moveTo(d, 10);
      g.lineTo(d + 10, 0);
    }
    g.stroke();
    hatch = g.createPattern(c, "repeat");
  }
  return new Style({ stroke: new Stroke({ color: hatch!, width: Math.max((2 * metres) / resolution, 6) }) });
}

export const danger = line(colours.danger, 3, [12, 4]);
