// What the steps of the screen share.

import type { Vec } from "./geometry";
import type { Plane } from "./plane";
import type { Form, Kind, Sketch } from "./sketch";

export type Tool =
  | { what: "move" }
  | { what: "part"; kind: Kind; form: Form }
  | { what: "scale" }
  | { what: "north" }
  | { what: "repeat"; id: string; copies: number };

export interface Shared {
  sketch: Sketch;
  set: (next: Sketch) => void; // a step that can be undone
  plane: Plane;
  unit: "ft" | "m";
  selected?: string;
  select: (id: string | undefined) => void;
  tool: Tool;
  use: (t: Tool) => void;
  draft: Vec[]; // in the screen's plane
  setDraft: (v: Vec[]) => void;
  say: (text: string) => void; // to the crew, and to screen readers
}

/** words names kinds as the buttons do. */
export const words: Record<Kind, string> = {
  building: "Building", landmark: "Landmark", tank: "Tank", box: "Box", header: "Header", lateral: "Lateral", port: "Port",
  well: "Well", boundary: "Boundary", water: "Water", driveway: "Driveway", utility: "Utility", "no-dig": "No-dig",
};

export const formWords: Record<Form, string> = { Point: "Point", LineString: "Line", Polygon: "Outline" };
