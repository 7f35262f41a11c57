// A job as a folder of plain files, in and out, without a server.
import { words } from "./language";
import type { Store } from "./store";
import * as csv from "./csv";
import { newID, type Entry, type Job, type Row, type Sketch } from "./entry";
import { sha256 } from "./database";
import { fileBytes } from "./sync";
import { typed } from "./type";
import { pack } from "./zip";

const columns =
  "id kind point from to target spot value offset rise north lon lat accuracy depth feature stopped runs facing flow radius sigma unit time by note".split(" ");

/** Reads the files of a folder into the store as a new job; returns its id. */
export async function bring(store: Store, files: Map<string, Uint8Array>): Promise<string> {
  const job = newID();
  const by = store.by;
  const at = new Date().toISOString();
  const made: Entry[] = [];
  const say = (kind: string, body: unknown) => made.push({ id: newID(), job, kind, at, by, body });
  const read = (name: string) => {
    const b = files.get(name);
    return b && new TextDecoder().decode(b).replace(/^\uFEFF/, "");
  };
  const sketch = read("sketch.geojson");
  if (sketch === undefined) throw new Error(words.wrong.noSketchFile);
  say("sketch", json("sketch.geojson", sketch));
  const settings = read("job.json");
  if (settings !== undefined) say("settings", json("job.json", settings));
  const log = read("readings.csv");
  if (log !== undefined) for (const row of rows(log)) say("reading", row);
  const scan = (made[0].body as Sketch).sketch?.scan;
  const shown = photos(made);
  for (const [name, data] of files) {
    if (["sketch.geojson", "job.json", "readings.csv"].includes(name) || hidden(name)) continue;
    const blob = await typed(new Blob([data as BlobPart]));
    const sum = await sha256(blob);
    const kept = { sha256: sum, name, type: blob.type, size: blob.size, for: name === scan ? "scan" : (shown.get(name) ?? "") };
    await store.db.put("files", { ...kept, job, blob, unsent: 1 });
    say("file", kept);
  }
  await store.take(made, false);
  return job;
}

/** The job of this device that began with the sketch of a folder, if there is one. */
export function twin(store: Store, files: Map<string, Uint8Array>): Job | undefined {
  const sketch = files.get("sketch.geojson");
  if (!sketch) return;
  let same = "";
  try {
    same = JSON.stringify(JSON.parse(new TextDecoder().decode(sketch)));
  } catch {
    return; // said when it is read
  }
  return store.jobs().find(({ job }) => store.entriesOf(job.id).some((e) => e.kind === "sketch" && JSON.stringify(e.body) === same))?.job;
}

/** Files left in a folder by other programs, not by the crew. */
const hidden = (name: string) => name.split("/").some((s) => s.startsWith(".") || s === "__MACOSX");

/** The reading that each photo shows, by the column photo of the log. */
function photos(made: Entry[]): Map<string, string> {
  const shown = new Map<string, string>();
  for (const e of made) {
    if (e.kind !== "reading") continue;
    const row = e.body as Row;
    for (const name of row.photo?.split("; ") ?? []) shown.set(name, row.id);
  }
  return shown;
}

function json(name: string, text: string): unknown {
  try {
    return JSON.parse(text);
  } catch (e) {
    throw new Error(words.wrong.notJson(name, (e as Error).message));
  }
}

/**
 * The rows of a log, cells unchanged. A row without an id is named after its
 * line.
 */
export function rows(text: string): Row[] {
  const [header, ...records] = csv.parse(text);
  const names = header?.fields.map(column) ?? [];
  const out: Row[] = [];
  for (const { line, fields } of records) {
    const row: Row = {};
    fields.forEach((v, i) => {
      if (v.trim()) row[names[i] ?? `column ${i + 1}`] = v;
    });
    if (!Object.keys(row).length) continue;
    row.id ||= `r${line}`;
    out.push(row);
  }
  return out;
}

/** A column's name: a known one in lower case, others as they were written. */
function column(head: string, i: number): string {
  const name = head.trim();
  const low = name.toLowerCase();
  return columns.includes(low) ? low : name || `column ${i + 1}`;
}

/** Rows from a GPX or NMEA file of the folder are not written a second time. */
const inFile = (r: Row, job: Job) =>
  /\.(gpx|nmea)$/i.test(r.file ?? "") && (r.id === r.file || r.id.startsWith(`${r.file}:`)) && job.files.some((f) => f.name === r.file);

/** The whole job as a zip archive of its folder, and the files that are not available here. */
export async function give(store: Store, id: string): Promise<{ zip: Blob; missing: string[] }> {
  const job = store.job(id)!;
  const missing: string[] = [];
  const files = new Map<string, Uint8Array>();
  const put = (name: string, text: string) => files.set(name, new TextEncoder().encode(text));
  if (job.sketch) put("sketch.geojson", JSON.stringify(job.sketch, null, 1) + "\n");
  if (Object.keys(job.settings).length) put("job.json", JSON.stringify(job.settings, null, 1) + "\n");
  const log = job.rows.filter((r) => !inFile(r, job)).map((r) => {
    const photo = job.files.filter((f) => f.for === r.id).map((f) => f.name).join("; ");
    return photo ? { ...r, photo } : r;
  });
  if (log.length) put("readings.csv", csv.write(columns, log));
  for (const f of job.files) {
    const blob = await fileBytes(store, id, f.sha256);
    if (!blob) missing.push(f.name);
    else files.set(files.has(f.name) ? `${f.sha256.slice(0, 8)}-${f.name}` : f.name, new Uint8Array(await blob.arrayBuffer()));
  }
  return { zip: pack(files), missing };
}

/** Offers a file for download. */
export function download(blob: Blob, name: string) {
  const url = URL.createObjectURL(blob);
  const a = Object.assign(document.createElement("a"), { href: url, download: name });
  a.click();
  setTimeout(() => URL.revokeObjectURL(url), 60_000);
}
