// What this device stores: every entry it has made or received, the bytes of
// photos, and a few values about itself. All of it is available without a
// network.
import { openDB, type DBSchema, type IDBPDatabase } from "../vendor/idb.js";
import type { Entry, Kept } from "./entry";

/** An entry, and whether the server has it. */
export interface Stored extends Entry {
  /** 1 until the server has acknowledged it: IndexedDB cannot index booleans. */
  unsent: 0 | 1;
  refused?: string;
}

export interface StoredFile extends Kept {
  job: string;
  blob: Blob;
  unsent: 0 | 1;
  /** It was sent once, to a store that went back: the server may have it still. */
  again?: boolean;
  /** Why the server did not take it the last time. */
  wrong?: string;
  /** 1 where that will not change by itself: it is sent again only when a person says so. */
  refused?: 0 | 1;
}

interface Shape extends DBSchema {
  entries: { key: string; value: Stored; indexes: { job: string; unsent: number } };
  files: { key: string; value: StoredFile; indexes: { unsent: number } };
  words: { key: string; value: unknown };
}

export type Database = IDBPDatabase<Shape>;

/** Opens the database of this device. */
export function open(): Promise<Database> {
  return openDB<Shape>("asfound", 1, {
    upgrade(db) {
      const entries = db.createObjectStore("entries", { keyPath: "id" });
      entries.createIndex("job", "job");
      entries.createIndex("unsent", "unsent");
      const files = db.createObjectStore("files", { keyPath: "sha256" });
      files.createIndex("unsent", "unsent");
      db.createObjectStore("words");
    },
    // Another tab runs a newer version: give way rather than block it.
    blocking(_now, _wanted, event) {
      (event.target as IDBDatabase).close();
    },
  });
}

/** Whether two entries of one id say the same, by whichever way they came. */
const same = (a: Entry, b: Entry) =>
  a.job === b.job && a.kind === b.kind && a.at === b.at && a.by === b.by && JSON.stringify(a.body) === JSON.stringify(b.body);

/**
 * Adds entries, all or none, durable when it returns. Entries that are already
 * here stay as they are, until they come from the server, which says when they
 * arrived. Those that say something else there are replaced, and returned.
 */
export async function add(db: Database, entries: Entry[], fromServer: boolean): Promise<{ fresh: Stored[]; clashes: Entry[] }> {
  const tx = db.transaction("entries", "readwrite", { durability: "strict" });
  const fresh: Stored[] = [];
  const clashes: Entry[] = [];
  for (const e of entries) {
    const here = await tx.store.get(e.id);
    if (here && !(fromServer && (here.unsent || here.seq !== e.seq))) continue;
    const stored: Stored = { ...e, unsent: fromServer ? 0 : 1 };
    if (here && !same(here, e)) clashes.push(plain(here));
    await tx.store.put(stored);
    fresh.push(stored);
  }
  await tx.done;
  return { fresh, clashes };
}

/** An entry without what this device notes of it. */
export const plain = ({ unsent, refused, ...e }: Stored): Entry => e;

/** Marks entries as sent, or as refused with the reason; those that the server has something else for are taken out and returned. */
export async function settle(db: Database, accepted: string[], refused: { id: string; error: string }[], different: string[]): Promise<Entry[]> {
  const tx = db.transaction("entries", "readwrite");
  const clashes: Entry[] = [];
  for (const id of accepted) {
    const e = await tx.store.get(id);
    if (e) await tx.store.put({ ...e, unsent: 0, refused: undefined });
  }
  for (const { id, error } of refused) {
    const e = await tx.store.get(id);
    if (e) await tx.store.put({ ...e, refused: error });
  }
  for (const id of different) {
    const e = await tx.store.get(id);
    if (e) clashes.push(plain(e)), await tx.store.delete(id);
  }
  await tx.done;
  return clashes;
}

/** Marks everything as not sent, and the server's entries as not fetched, all or none: the store went back. */
export async function unsend(db: Database, generation: string) {
  const tx = db.transaction(["entries", "files", "words"], "readwrite");
  for (let c = await tx.objectStore("entries").openCursor(); c; c = await c.continue()) await c.update({ ...c.value, unsent: 1 });
  for (let c = await tx.objectStore("files").openCursor(); c; c = await c.continue()) await c.update({ ...c.value, unsent: 1, again: true });
  await tx.objectStore("words").put(0, "next");
  await tx.objectStore("words").put(generation, "generation");
  await tx.done;
}

/** Changes what is kept of a file that has not been dropped meanwhile. */
export async function mark(db: Database, sha256: string, change: Partial<Pick<StoredFile, "unsent" | "wrong" | "refused" | "again">>) {
  const tx = db.transaction("files", "readwrite");
  const f = await tx.store.get(sha256);
  if (f) await tx.store.put({ ...f, ...change });
  await tx.done;
}

/** Deletes a file, and entries that name it, all or none. */
export async function drop(db: Database, sha256: string, entries: string[]) {
  const tx = db.transaction(["entries", "files"], "readwrite");
  await tx.objectStore("files").delete(sha256);
  for (const id of entries) await tx.objectStore("entries").delete(id);
  await tx.done;
}

/** The SHA-256 of bytes in hexadecimal, under which files are stored. */
export async function sha256(blob: Blob): Promise<string> {
  const sum = await crypto.subtle.digest("SHA-256", await blob.arrayBuffer());
  return Array.from(new Uint8Array(sum), (b) => b.toString(16).padStart(2, "0")).join("");
}

/** Asks the browser not to clear what is kept here when space runs short. */
export async function persist(): Promise<boolean> {
  if (!navigator.storage?.persist) return false;
  return (await navigator.storage.persisted()) || navigator.storage.persist();
}
