// The pictures of a job: how each lies is a reading of the log, so that it can be
// withdrawn, restored and handed on like any other; its bytes are a file of the job.
import { live } from "../source/acts";
import type { Belief } from "../source/answer";
import type { StoredFile } from "../source/database";
import type { Job, Row } from "../source/entry";
import { toFrame } from "../source/position";
import type { Store } from "../source/store";
import { fileBytes } from "../source/sync";
import { homography } from "../trace/homography";
import { fit, least, type Kind, type Lie, type Tie, type Vec } from "./lay";
import { cornersOf } from "./window";

/** The column of the log that says how a picture lies. */
export const column = "picture";

/** The column of a reading that was read in a picture: the SHA-256 of its file. */
export const readFrom = "from_picture";

/** The readings that were read in a picture, however often it was laid. */
export const readIn = (job: Job, file: string): Row[] => live(job.rows).filter((r) => r[readFrom] === file);

/** How a picture lies. Places in it are pixels of the kept file. */
export interface Laid {
  /** SHA-256 of the kept file. */
  file: string;
  name: string;
  /** Pixels of the kept file. */
  size: Vec;
  /** Laid by taps: how it was taken, and which landmark each tap is on. It moves with them. */
  kind?: Kind;
  taps?: { at: Vec; on: string }[];
  /** Laid by coordinates: its corners, upper left first and clockwise, longitude before latitude, WGS 84. */
  corners?: Vec[];
  /** Or the same in metres of the job's plan. */
  plan?: Vec[];
}

export interface Picture extends Laid {
  row: Row;
}

const pair = (v: unknown): v is Vec => Array.isArray(v) && v.length === 2 && v.every(Number.isFinite);
const four = (v: unknown): boolean => Array.isArray(v) && v.length === 4 && v.every(pair);

/** What a row says of a picture; nothing where it is not about one, or cannot be read. */
function read(row: Row): Picture | undefined {
  try {
    const l = JSON.parse(row[column] ?? "") as Laid;
    const tapped = l.kind !== undefined && l.kind in least && Array.isArray(l.taps) && l.taps.every((t) => pair(t?.at) && typeof t.on === "string");
    if (typeof l.file === "string" && typeof l.name === "string" && pair(l.size) && (tapped || four(l.corners) || four(l.plan))) return { ...l, row };
  } catch {
    // It is shown in the log like any note.
  }
}

/** The pictures of a job that were not withdrawn, the oldest first. */
export const pictures = (job: Job): Picture[] => live(job.rows).flatMap((r) => read(r) ?? []);

/** What can be tapped in a picture: landmarks, then points of the log, where they are believed to be. */
export function places(b: Belief): Map<string, Omit<Tie, "at">> {
  const k = 1 / Math.sqrt(-2 * Math.log(0.05)); // from the circle that holds 95 % of a Gaussian
  const marks = b.spots.filter((s) => s.kind === "landmark").map((s): [string, Omit<Tie, "at">] => [s.part, { ground: [s.east, s.north], sigma: k * s.from_landmarks.radius95 }]);
  return new Map([...marks, ...b.holes.map((h): [string, Omit<Tie, "at">] => [h.id, { ground: [h.east, h.north], sigma: k * h.radius95 }])]);
}

/** Where a picture lies now in the frame of the job; nothing where that is not known any more. */
export function lieOf(p: Laid, b: Belief): Lie | undefined {
  if (p.taps && p.kind) {
    const known = places(b);
    const ties = p.taps.flatMap((t) => (known.has(t.on) ? { at: t.at, ...known.get(t.on)! } : []));
    return fit(p.kind, ties);
  }
  const origin = b.origin;
  const corners = p.plan ?? (b.frame.kind === "geodetic" && origin && p.corners?.map(([lon, lat]) => toFrame({ lon, lat }, origin)));
  return corners ? homography(cornersOf(p.size), corners) : undefined;
}

/** The bytes of a picture. Those from the server are kept: the plan is looked at without a network. */
export async function bytes(store: Store, job: Job, sha256: string): Promise<Blob | null> {
  const blob = await fileBytes(store, job.id, sha256);
  const kept = job.files.find((f) => f.sha256 === sha256);
  if (blob && kept && !(await store.db.get("files", sha256))) {
    const file: StoredFile = { ...kept, job: job.id, blob, unsent: 0 };
    await store.db.put("files", file).catch(() => {}); // a full device shows it all the same
  }
  return blob;
}

/** What this device shows of a job's pictures. */
export interface Shown {
  /** SHA-256 of the file; empty: the picture that was laid last. */
  file: string;
  off: boolean;
  /** From 0, not seen, to 1. */
  strength: number;
}

const known = new Map<string, Shown>();
const usual: Shown = { file: "", off: false, strength: 0.7 };

/** What this device shows of a job; it is read once. */
export async function recall(store: Store, job: string) {
  if (known.has(job)) return;
  const was = (await store.db.get("words", `picture ${job}`)) as Shown | undefined;
  if (!known.has(job)) known.set(job, was ?? usual);
  store.changed();
}

export const shown = (job: string): Shown => known.get(job) ?? { ...usual, off: true };

export function show(store: Store, job: string, change: Partial<Shown>) {
  const next = { ...shown(job), ...change };
  known.set(job, next);
  store.changed();
  void store.db.put("words", next, `picture ${job}`);
}
