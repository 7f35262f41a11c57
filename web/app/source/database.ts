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

/**
 * Adds entries, all or none, durable when it returns. Entries that are already
 * here stay as they are, but are no longer marked unsent once they come from
 * the server.
 */
export async function add(db: Database, entries: Entry[], fromServer: boolean): Promise<Stored[]> {
  const tx = db.transaction("entries", "readwrite", { durability: "strict" });
  const fresh: Stored[] = [];
  for (const e of entries) {
    const here = await tx.store.get(e.id);
    if (!here) {
      const stored: Stored = { ...e, unsent: fromServer ? 0 : 1 };
      await tx.store.put(stored);
      fresh.push(stored);
    } else if (fromServer && here.unsent) {
      await tx.store.put({ ...here, seq: e.seq, unsent: 0, refused: undefined });
    }
  }
  await tx.done;
  return fresh;
}

/** Marks entries as sent, or as refused with the reason. */
export async function settle(db: Database, accepted: string[], refused: { id: string; error: string }[]) {
  const tx = db.transaction("entries", "readwrite");
  for (const id of accepted) {
    const e = await tx.store.get(id);
    if (e) await tx.store.put({ ...e, unsent: 0, refused: undefined });
  }
  for (const { id, error } of refused) {
    const e = await tx.store.get(id);
    if (e) await tx.store.put({ ...e, refused: error });
  }
  await tx.done;
}

/** Changes what is kept of a file that has not been dropped meanwhile. */
export async function mark(db: Database, sha256: string, change: Partial<Pick<StoredFile, "unsent" | "wrong" | "refused">>) {
  const tx = db.transaction("files", "readwrite");
  const f = await tx.store.get(sha256);
  if (f) await tx.store.put({ ...f, ...change });
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
