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
