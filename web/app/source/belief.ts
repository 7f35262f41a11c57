// What the engine answers. Lengths are metres in the job's own frame, x east
// and y north; angles are degrees clockwise from north.

export type Vertex = [number, number];
export type State = "seen" | "inferred" | "recorded";

export interface Region {
  semi_major: number;
  semi_minor: number;
  bearing: number;
  radius95?: number;
}

export interface Lobe extends Region {
  east: number;
  north: number;
  weight: number;
}

/** Where one spot of one part lies. */
export interface Spot extends Region {
  part: string;
  kind: string;
  spot: string;
  state: State;
  east: number;
  north: number;
  radius95: number;
  from_landmarks?: Region;
  lobes?: Lobe[];
  old?: { east: number; north: number };
  depth: number | null;
  depth_sigma: number | null;
  depth_to?: string;
}

export interface Place {
  east: number;
  north: number;
}

/** The strip of ground that a lateral or header lies in. */
export interface Corridor {
  part: string;
  kind: string;
  state: State;
  line: Vertex[];
  /** Half the strip's width at each vertex, the trench's own included. */
  half: number[];
  width: number;
  depth?: number[];
}

export interface Shape {
  form: "Point" | "LineString" | "Polygon";
  vertices: Vertex[];
}

/** A part with a shape: as believed now, and as drawn. */
export interface Outline {
  part: string;
  kind: string;
  name?: string;
  state: State;
  now: Shape[];
  old: Shape[] | null;
  clearance?: number;
  sigma?: number;
}

/** A hole that was dug, or only set out. */
export interface Hole extends Place {
  id: string;
  radius95: number;
  radius: number;
  result: "found" | "empty" | "none";
  target?: string;
  spot?: string;
  depth: number | null;
  depth_to?: string;
  readings: string[];
}

export interface Suspect {
  reading: string;
  statistic: number;
  says: string;
}

export interface Residual {
  reading: string;
  kind: string;
  what: string;
  unit: string;
  observed: number | null;
  fitted: number | null;
  /** Observed less fitted. */
  residual: number | null;
  sigma: number | null;
  redundancy: number | null;
  /** The residual over its own standard deviation. */
  w: number | null;
}

export interface Fit {
  readings: number;
  unknowns: number;
  redundancy: number;
  variance_factor: number;
  scale: number;
  scale_sigma: number;
  rotation: number;
  rotation_sigma: number;
  mirrored: boolean;
  suspects?: Suspect[];
  warnings?: string[];
  residuals?: Residual[];
  doubtful?: string;
}

export interface Sought extends Place {
  part: string;
  kind: string;
  spot: string;
  state: State;
  radius95: number;
  depth: number | null;
  depth_sigma: number | null;
  depth_to?: string;
}

export interface Step {
  after: string;
  met?: string;
  radius95: number;
}

export interface Belief {
  unit: string;
  frame: { kind: string; origin?: { lon: number; lat: number }; note?: string };
  origin?: { lon: number; lat: number } | null;
  fit: Fit;
  spots: Spot[];
  corridors: Corridor[];
  outlines: Outline[];
  holes: Hole[];
  fill?: unknown;
  sought: Sought | null;
  history?: Step[];
  /** False: there is more of the history to be asked for. */
  whole: boolean;
  plan?: Plan;
  levels?: { reading: string; what: string; observed: number; fitted: number; w: number }[];
  cautions: string[];
  /** Rows of the log that could not be read, and why. */
  problems?: Problem[];
}

export interface Tie {
  from: string;
  distance: number;
  sigma: number;
}

export interface Proposal {
  rank: number;
  east: number;
  north: number;
  lon?: number;
  lat?: number;
  chance: number;
  seeks: string[];
  depth: number | null;
  depth_sigma: number | null;
  depth_to?: string;
  stop_depth: number;
  ties: Tie[];
  side?: string;
  tool?: string;
  minutes?: number | null;
  cautions?: string[];
}

/** A hole of the tree, and what to do after each thing that it may meet. */
export interface TreeStep {
  label: string;
  hole: Proposal;
  branches: { met: string; says: string; parts?: string[]; chance: number; then?: string; next?: TreeStep }[];
}

export interface Plan {
  seek: string;
  expected_holes: number | null;
  chance_next: number | null;
  holes: Proposal[];
  /** The first holes for every case. */
  tree?: TreeStep;
  /** False: the engine is still at it. */
  whole?: boolean;
  cautions?: string[];
  remark?: string;
  doubtful?: string;
}

/** What is wrong with a job, as the engine says it. */
export interface Problem {
  says?: string;
  file?: string;
  reading?: string;
  [more: string]: unknown;
}
