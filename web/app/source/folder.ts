// A job as a folder of plain files, in and out, without a server.
import type { Book } from "./book";
import * as csv from "./csv";
import { newID, type Entry, type Row } from "./entry";
import { sha256 } from "./store";
import { fileBytes } from "./sync";
import { pack } from "./zip";

const columns =
  "id kind point from to target spot value offset rise north lon lat accuracy depth feature radius sigma unit time by note".split(" ");

const types: Record<string, string> = {
  png: "image/png", jpg: "image/jpeg", jpeg: "image/jpeg", webp: "image/webp", pdf: "application/pdf",
  gpx: "application/gpx+xml", nmea: "text/plain", txt: "text/plain", csv: "text/csv",
};

/** Reads the files of a folder into the book as a new job; returns its id. */
export async function bring(book: Book, files: Map<string, Uint8Array>): Promise<string> {
  const job = newID();
  const by = book.name || "this device";
  const at = new Date().toISOString();
  const made: Entry[] = [];
  const say = (kind: string, body: unknown) => made.push({ id: newID(), job, kind, at, by, body });
  const read = (name: string) => {
    const b = files.get(name);
    return b && new TextDecoder().decode(b).replace(/^\uFEFF/, "");
  };
  const sketch = read("sketch.geojson");
  if (sketch === undefined) throw new Error("There is no sketch.geojson among these files. A job needs one: trace a sketch instead.");
  say("sketch", json("sketch.geojson", sketch));
  const settings = read("job.json");
  if (settings !== undefined) say("settings", json("job.json", settings));
  const log = read("readings.csv");
  if (log !== undefined) for (const row of rows(log)) say("reading", row);
  for (const [name, data] of files) {
    if (["sketch.geojson", "job.json", "readings.csv"].includes(name)) continue;
    const type = types[name.split(".").pop()!.toLowerCase()];
    if (!type) continue;
    const blob = new Blob([data as BlobPart], { type });
    const sum = await sha256(blob);
    const kept = { sha256: sum, name, type, size: blob.size, for: "scan" };
    await book.db.put("files", { ...kept, job, blob, unsent: 1 });
    say("file", kept);
  }
  await book.take(made, false);
  return job;
}

function json(name: string, text: string): unknown {
  try {
    return JSON.parse(text);
  } catch (e) {
    throw new Error(`${name} is not JSON: ${(e as Error).message}`);
  }
}

/** The rows of a log. A row without an id is called after the line it stands on. */
export function rows(text: string): Row[] {
  const [header, ...records] = csv.parse(text);
  const names = header?.fields.map((f) => f.trim().toLowerCase()) ?? [];
  return records.map(({ line, fields }) => {
    const row: Row = {};
    names.forEach((n, i) => {
      const v = fields[i]?.trim();
      if (n && v) row[n] = v;
    });
    row.id ||= `r${line}`;
    return row;
  });
}

/** The whole job as a zip archive of its folder. */
export async function give(book: Book, id: string): Promise<Blob> {
  const job = book.job(id)!;
  const files = new Map<string, Uint8Array>();
  const put = (name: string, text: string) => files.set(name, new TextEncoder().encode(text));
  if (job.sketch) put("sketch.geojson", JSON.stringify(job.sketch, null, 1) + "\n");
  if (Object.keys(job.settings).length) put("job.json", JSON.stringify(job.settings, null, 1) + "\n");
  if (job.rows.length) put("readings.csv", csv.write(columns, job.rows));
  for (const f of job.files) {
    const blob = await fileBytes(book, id, f.sha256);
    if (blob) files.set(files.has(f.name) ? `${f.sha256.slice(0, 8)}-${f.name}` : f.name, new Uint8Array(await blob.arrayBuffer()));
  }
  return pack(files);
}

/** Offers a file for download. */
export function download(blob: Blob, name: string) {
  const url = URL.createObjectURL(blob);
  const a = Object.assign(document.createElement("a"), { href: url, download: name });
  a.click();
  setTimeout(() => URL.revokeObjectURL(url), 60_000);
}
