// What a job is made of: entries, which are only ever added. Any device makes
// them, in any order; together they make up the job.

/** One thing written down by somebody about one job. */
export interface Entry {
  id: string;
  job: string;
  kind: "sketch" | "settings" | "reading" | "file" | string;
  /** When, by the clock of the device: RFC 3339 with milliseconds. */
  at: string;
  by: string;
  body: unknown;
  /** The server's order of arrival; absent until it has come back from there. */
  seq?: number;
}

/** A row of the field log: column to text. */
export type Row = Record<string, string>;

/** A photo, scan or other file that is kept with the job. */
export interface Kept {
  sha256: string;
  name: string;
  type: string;
  size: number;
  for?: string;
}

/** A whole job, as the stages of the engine take it. */
export interface Job {
  id: string;
  sketch: Sketch | null;
  settings: Settings;
  rows: Row[];
  files: Kept[];
  /** When a corrected as-built was made last, RFC 3339. */
  record?: string;
}

export interface Settings {
  title?: string;
  permit?: string;
  unit?: string;
  seek?: string;
  [more: string]: unknown;
}

export interface Sketch {
  type: "FeatureCollection";
  sketch?: Record<string, unknown>;
  features: SketchFeature[];
}

export interface SketchFeature {
  type: "Feature";
  id?: string | number;
  geometry: { type: string; coordinates: unknown } | null;
  properties: Record<string, unknown> | null;
}

const crockford = "0123456789ABCDEFGHJKMNPQRSTVWXYZ";
let last = 0;
let turn = 0;

/**
 * A new id: 10 characters of time and 16 random ones in Crockford's base 32, so
 * that ids of one device sort in the order in which they were made.
 */
export function newID(now = Date.now()): string {
  // Two ids of one millisecond would sort at random: the second counts up from
  // the first.
  if (now <= last) turn++;
  else [last, turn] = [now, 0];
  let time = "";
  for (let t = last, i = 0; i < 10; i++, t = Math.floor(t / 32)) time = crockford[t % 32] + time;
  const chance = crypto.getRandomValues(new Uint8Array(16));
  // Four of the random characters are a counter within the millisecond.
  for (let t = turn, i = 3; i >= 0; i--, t = Math.floor(t / 32)) chance[i] = t % 32;
  let rest = "";
  for (const b of chance) rest += crockford[b % 32];
  return time + rest;
}

/** Orders entries by time, then id: the same on every device. */
export function compare(a: Entry, b: Entry): number {
  return a.at < b.at ? -1 : a.at > b.at ? 1 : a.id < b.id ? -1 : a.id > b.id ? 1 : 0;
}

/**
 * The job that entries make together. Order of arrival and duplicates do not
 * matter: of sketches and settings the latest applies, readings are in order.
 */
export function fold(id: string, entries: Entry[]): Job {
  const job: Job = { id, sketch: null, settings: {}, rows: [], files: [] };
  const seen = new Set<string>();
  const taken = new Set<string>();
  const nameless: [Row, string][] = [];
  for (const e of [...entries].sort(compare)) {
    if (e.job !== id || seen.has(e.id)) continue;
    seen.add(e.id);
    if (e.kind === "sketch") job.sketch = e.body as Sketch;
    else if (e.kind === "settings") job.settings = e.body as Settings;
    else if (e.kind === "paper") job.record = e.at;
    else if (e.kind === "file") job.files.push(e.body as Kept);
    else if (e.kind === "reading") {
      const row = { ...(e.body as Row) };
      // Of two rows with one id the earlier keeps it, as on the server.
      if (!row.id || taken.has(row.id)) nameless.push([row, e.id]);
      else taken.add(row.id);
      job.rows.push(row);
    }
  }
  for (const [row, own] of nameless) row.id = own;
  return job;
}

/** Ids of the readings that were withdrawn. */
export function voided(rows: Row[]): Set<string> {
  return new Set(rows.filter((r) => r.kind === "void").map((r) => r.target));
}
