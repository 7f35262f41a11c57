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
  /** Of a sketch or settings: the entry in whose place it was made. */
  over?: string;
  /** The server's order of arrival; absent until it has come back from there, as are the next three. */
  seq?: number;
  /** When it arrived, by the server's clock. */
  arrived?: string;
  /** The id of the device that sent it, as the server knows it. */
  device?: string;
  /** The name by which that device joined. */
  sender?: string;
}

/** The body of an entry that sets aside all that one device sent, or the whole job, or takes it up again. */
export interface Aside {
  device?: string;
  aside: boolean;
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
  /** The lead has set the whole job aside. */
  aside?: boolean;
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

/** Orders entries by arrival at the server, which a wrong clock cannot bend; those not there yet come after. */
export function compareArrival(a: Entry, b: Entry): number {
  const [p, q] = [a.seq || Infinity, b.seq || Infinity];
  return p === q ? compare(a, b) : p - q;
}

/** What is set aside: ids of devices, "" for the whole job. The entry that arrived last decides. */
export function setAside(entries: Entry[]): Set<string> {
  const aside = new Set<string>();
  for (const e of entries.filter((e) => e.kind === "aside").sort(compareArrival)) {
    const { device = "", aside: away } = e.body as Aside;
    if (away) aside.add(device);
    else aside.delete(device);
  }
  return aside;
}

/**
 * The job that entries make together. Order of arrival and duplicates do not
 * matter: of sketches and settings the one that reached the server last applies,
 * readings are in order, and what was set aside is left out.
 */
export function fold(id: string, entries: Entry[]): Job {
  const job: Job = { id, sketch: null, settings: {}, rows: [], files: [] };
  const seen = new Set<string>();
  const taken = new Set<string>();
  const nameless: [Row, string][] = [];
  const own = entries.filter((e) => e.job === id);
  const aside = setAside(own);
  if (aside.has("")) job.aside = true;
  const last = (kind: string) => own.filter((e) => e.kind === kind && !(e.device && aside.has(e.device))).sort(compareArrival).at(-1)?.body;
  job.sketch = (last("sketch") as Sketch | undefined) ?? null;
  job.settings = (last("settings") as Settings | undefined) ?? {};
  for (const e of own.sort(compare)) {
    if (seen.has(e.id) || (e.device && aside.has(e.device))) continue;
    seen.add(e.id);
    if (e.kind === "paper") job.record = e.at;
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
