// Exchange with the server: what is unsent goes out, what others wrote comes
// in. Every step may be repeated: entries have ids, and the server ignores ids
// that it has already.
import type { Store } from "./store";
import type { Logged, Page } from "./answer";
import type { Entry } from "./entry";
import { ask, session } from "./session";
import { words } from "./language";

const batch = 200; // entries of one request
const everybody = [401, 403, 429]; // refusals of this device, not of what it sent
const pause = 15_000; // milliseconds between polls while nothing happens

/** Exchanges from now on: at once, whenever something was written, and from time to time. */
export class Sync {
  private busy = false;
  private again = false;
  private seen = -1;

  constructor(private store: Store) {
    addEventListener("online", () => this.run());
    addEventListener("offline", () => this.reach(false));
    document.addEventListener("visibilitychange", () => document.hidden || this.run());
    setInterval(() => document.hidden || this.run(), pause);
    // New entries must not wait for the next poll.
    store.watch(() => {
      const n = store.unsent().length;
      if (n > this.seen && this.seen >= 0) this.run();
      this.seen = n;
    });
  }

  private reach(online: boolean) {
    if (online === this.store.online) return;
    this.store.online = online;
    this.store.changed();
  }

  /** Exchanges once; a call while another runs makes that one run again. */
  async run() {
    if (this.busy) {
      this.again = true;
      return;
    }
    this.busy = true;
    try {
      do {
        this.again = false;
        await this.round();
      } while (this.again);
    } finally {
      this.busy = false;
    }
  }

  private async round() {
    const who = await session();
    this.reach(who !== undefined);
    if (who === undefined) return;
    if (typeof who === "string") {
      // Until now it was let in: it was revoked, or not seen for too long.
      if (this.store.session) await this.store.be(null, who);
      return;
    }
    if (JSON.stringify(who) !== JSON.stringify(this.store.session ?? null)) await this.store.be(who);
    // Each step by itself: what fails in one holds up no other. A damaged store is
    // read, and keeps nothing.
    const steps = who.damaged
      ? [() => this.fetch()]
      : [() => this.send(), async () => { if (await this.fetch()) await this.send(); }, () => this.sendFiles(who.max_file)];
    await this.store.compareClock(who.server_time);
    let trouble = "";
    for (const step of steps) {
      try {
        await step();
      } catch (e) {
        // A missing answer is not an error: it is tried again, and the count of
        // unsent entries shows it.
        if (e instanceof TypeError) return this.reach(false);
        trouble ||= (e as Error).message;
      }
    }
    this.say(trouble);
  }

  private say(trouble: string) {
    if (trouble === this.store.trouble) return;
    this.store.trouble = trouble;
    this.store.changed();
  }

  private async send() {
    const unsent = this.store.unsent().filter((e) => !e.refused);
    for (let i = 0; i < unsent.length; i += batch) {
      await this.post(unsent.slice(i, i + batch).map(({ unsent, refused, seq, arrived, device, sender, ...e }) => e));
    }
  }

  /** Sends entries; those that are refused as a whole are sent in halves, until it is one that is meant. */
  private async post(entries: Entry[]): Promise<void> {
    try {
      await this.store.settle(await ask<Logged>("POST", "/api/entries", { entries }));
    } catch (e) {
      const { status, message } = e as Error & { status?: number };
      if (status !== 400 && status !== 413) throw e;
      const half = entries.length >> 1;
      if (!half) return this.store.settle({ accepted: [], refused: [{ id: entries[0].id, error: message }], different: [] });
      await this.post(entries.slice(0, half));
      await this.post(entries.slice(half));
    }
  }

  /** Fetches what arrived since; says whether the store had gone back, so that all of this device is to be sent again. */
  private async fetch(): Promise<boolean> {
    const { db } = this.store;
    for (let back = false; ; ) {
      const after = ((await db.get("words", "next")) as number | undefined) ?? 0;
      const known = await db.get("words", "generation");
      const r = await ask<Page>("GET", `/api/entries?after=${after}&limit=500`);
      if ((known && known !== r.generation) || r.last < after) {
        // Everything is fetched first: what is there need not be sent.
        await this.store.wentBack(r.generation);
        back = true;
        continue;
      }
      if (!known) {
        await db.put("words", r.generation, "generation");
        if (after > 0) {
          // An older version of this app has fetched, and did not note when what is here had arrived.
          await db.put("words", 0, "next");
          continue;
        }
      }
      if (r.entries.length) await this.store.take(r.entries, true);
      // The position is stored only after the entries before it: an
      // interruption fetches some entries twice and loses none.
      await db.put("words", r.next, "next");
      if (!r.entries.length) return back;
    }
  }

  /**
   * Sends the bytes of files. What is wrong with one belongs to that one: the others go
   * on. Those that failed before go last, and those that the server will never take as
   * they are wait for a person.
   */
  private async sendFiles(most: number) {
    const { store } = this;
    const all = (await store.db.getAllFromIndex("files", "unsent", 1)).filter((f) => !f.refused);
    let broken = 0; // connections that broke, one after another
    for (const f of [...all.filter((f) => !f.wrong), ...all.filter((f) => f.wrong)]) {
      if (f.size > most) {
        await store.mark(f.sha256, { wrong: words.wrong.fileLarge(f.size, most), refused: 1 });
        continue;
      }
      try {
        const path = `/api/jobs/${f.job}/files/${f.sha256}`;
        if (!f.again || !(await fetch(path, { method: "HEAD" })).ok) await ask("PUT", path, f.blob);
        await store.mark(f.sha256, { unsent: 0, wrong: undefined, refused: 0, again: undefined });
        broken = 0;
      } catch (e) {
        const { status, message } = e as Error & { status?: number };
        if (e instanceof TypeError) {
          // It may be this file that breaks the connection: a second one tells.
          if (++broken > 1) throw e;
          continue;
        }
        if (!status || everybody.includes(status)) throw e;
        await store.mark(f.sha256, { wrong: message, refused: status < 500 && status !== 408 ? 1 : 0 });
      }
    }
    if (broken) throw new TypeError();
  }
}

/** The bytes of a kept file: from this device, else from the server. */
export async function fileBytes(store: Store, job: string, sha256: string): Promise<Blob | null> {
  const here = await store.db.get("files", sha256);
  if (here) return here.blob;
  try {
    const r = await fetch(`/api/jobs/${job}/files/${sha256}`);
    return r.ok ? await r.blob() : null;
  } catch {
    return null;
  }
}
