// The store of this device: its entries in memory, the jobs that they make up,
// and what has not been sent. Screens watch it; everything written goes through
// it.
import { copy, undoing, type Act } from "./acts";
import { compare, fold, newID, type Entry, type Job, type Kept, type Row } from "./entry";
import type { Session } from "./answer";
import * as database from "./database";
import { words } from "./language";
import { notes } from "./notes";
import { typed } from "./type";

export class Store {
  private entries = new Map<string, Map<string, database.Stored>>();
  private folded = new Map<string, Job>();
  private watchers = new Set<() => void>();
  /** A counter of changes, so that a screen notices one. */
  turn = 0;
  session: Session | null | undefined = undefined;
  name = "";
  /** Why the server no longer lets this device in; empty where it does, or never did. */
  out = "";
  /** Two characters that distinguish holes named here from those of other devices. */
  tag = "";
  online = navigator.onLine;
  trouble = "";
  kept = false;
  /** Photos and scans whose bytes the server does not have yet. */
  filesUnsent = 0;
  /** Those of them that the server did not take. */
  filesWrong: database.StoredFile[] = [];
  /** What was done last, to be said and undone. */
  last: Act | null = null;
  private acts = new Map<string, Act[]>();

  private constructor(readonly db: database.Database) {}

  /** Opens the store with everything that is on this device. */
  static async open(): Promise<Store> {
    const b = new Store(await database.open());
    for (const e of await b.db.getAll("entries")) b.hold(e);
    b.session = ((await b.db.get("words", "session")) as Session | undefined) ?? undefined;
    b.name = ((await b.db.get("words", "name")) as string | undefined) ?? "";
    b.out = ((await b.db.get("words", "out")) as string | undefined) ?? "";
    b.tag = ((await b.db.get("words", "tag")) as string | undefined) ?? "";
    if (!b.tag) {
      b.tag = newID().slice(-2);
      await b.db.put("words", b.tag, "tag");
    }
    for (const key of await b.db.getAllKeys("words")) {
      if (key.startsWith("acts ")) b.acts.set(key.slice(5), (await b.db.get("words", key)) as Act[]);
    }
    await b.countFiles();
    return b;
  }

  watch(f: () => void): () => void {
    this.watchers.add(f);
    return () => this.watchers.delete(f);
  }

  changed() {
    this.turn++;
    this.watchers.forEach((f) => f());
  }

  private hold(e: database.Stored) {
    let m = this.entries.get(e.job);
    if (!m) this.entries.set(e.job, (m = new Map()));
    m.set(e.id, e);
    this.folded.delete(e.job);
  }

  /** The jobs that this device knows, latest change first. */
  jobs(): { job: Job; changed: string; unsent: number }[] {
    const all = [...this.entries].map(([id, m]) => {
      const list = [...m.values()].sort(compare);
      return { job: this.job(id)!, changed: list.at(-1)!.at, unsent: list.filter((e) => e.unsent).length };
    });
    return all.sort((a, b) => (a.changed < b.changed ? 1 : -1));
  }

  job(id: string): Job | null {
    const m = this.entries.get(id);
    if (!m) return null;
    let j = this.folded.get(id);
    // Settings that the server refused hold nowhere else, so they do not hold here.
    if (!j) this.folded.set(id, (j = fold(id, [...m.values()].filter((e) => !(e.refused && e.kind === "settings")))));
    return j;
  }

  entriesOf(id: string): Entry[] {
    return [...(this.entries.get(id)?.values() ?? [])].sort(compare).map(({ unsent, refused, ...e }) => e);
  }

  /** Entries that the server has not acknowledged, oldest first. */
  unsent(): database.Stored[] {
    return [...this.entries.values()].flatMap((m) => [...m.values()].filter((e) => e.unsent)).sort(compare);
  }

  /** Recounts the files whose bytes are still to be sent. */
  async countFiles() {
    const unsent = await this.db.getAllFromIndex("files", "unsent", 1);
    this.filesUnsent = unsent.length;
    this.filesWrong = unsent.filter((f) => f.wrong);
  }

  /** Stores entries; they are durable on this device when it returns. */
  async write(job: string, what: { kind: string; body: unknown }[]): Promise<Entry[]> {
    // A slow clock must not make an entry older than the one that it replaces.
    let last = 0;
    if (what.some((w) => w.kind === "sketch" || w.kind === "settings")) {
      for (const e of this.entries.get(job)?.values() ?? []) {
        if (e.kind === "sketch" || e.kind === "settings") last = Math.max(last, Date.parse(e.at) + 1);
      }
    }
    const at = new Date(Math.max(Date.now(), last)).toISOString();
    const made = what.map((w) => ({ id: newID(), job, at, by: this.by, ...w }));
    await this.take(made, false);
    return made;
  }

  /** Logs rows that belong together and are undone together; returns their ids. */
  async logged(job: string, rows: Row[], says: string, gone: string[] = [], note = ""): Promise<string[]> {
    const ids = await this.log(job, rows, gone, note);
    await this.done({ job, says, ids, gone });
    return ids;
  }

  /** Withdraws readings. Nothing is deleted: the log says that they are void. */
  async withdraw(job: string, ids: string[], says: string, note = notes.withdrawn) {
    await this.logged(job, [], says, ids, note);
  }

  /** Brings a withdrawn reading back, by logging it again. */
  async restore(job: string, row: Row, says: string) {
    await this.logged(job, [copy(row)], says);
  }

  /** Replaces the settings or the sketch. */
  async replace(job: string, kind: "settings" | "sketch", body: unknown, says: string) {
    const was = this.latest(job, kind);
    const [{ id }] = await this.write(job, [{ kind, body }]);
    if (was) await this.done({ job, says, ids: [], gone: [], was: { kind, body: was.body, entry: id } });
  }

  /** What can still be undone of a job, the latest last. */
  undoable = (job: string): Act[] => this.acts.get(job) ?? [];

  /** Undoes what was done last on this device to a job. */
  async undo(job: string) {
    const acts = this.undoable(job);
    const act = acts.at(-1);
    if (!act) return;
    const { gone, back } = undoing(this.job(job)!.rows, act);
    const ids = gone.length + back.length ? await this.log(job, back.map(copy), gone, notes.undone) : [];
    const names = new Map(back.map((r, i) => [r.id, ids[i]]));
    let changed = ids.length + gone.length > 0;
    if (act.was && this.latest(job, act.was.kind)?.id === act.was.entry) {
      const { kind, body } = act.was;
      const before = acts.findLast((a) => a !== act && a.was?.kind === kind);
      const [{ id }] = await this.write(job, [{ kind, body }]);
      if (before) before.was!.entry = id;
      changed = true;
    }
    // What came back has a new id: earlier actions are undone under that.
    const now = (id: string) => names.get(id) ?? id;
    await this.remember(job, acts.slice(0, -1).map((a) => ({ ...a, ids: a.ids.map(now), gone: a.gone.map(now) })));
    this.last = { job, says: changed ? words.shell.undone(act.says) : words.shell.noUndo(act.says), ids: [], gone: [], undone: true };
    this.changed();
  }

  private async done(act: Act) {
    await this.remember(act.job, [...this.undoable(act.job), act].slice(-20));
    this.last = act;
    this.changed();
  }

  private async remember(job: string, acts: Act[]) {
    this.acts.set(job, acts);
    await this.db.put("words", acts, `acts ${job}`);
  }

  /** The entry that the settings or the sketch are from. */
  private latest(job: string, kind: string): Entry | undefined {
    return this.entriesOf(job).findLast((e) => e.kind === kind);
  }

  /** Stores rows of the field log, with time and name, and withdraws others, all or none. */
  private async log(job: string, rows: Row[], gone: string[], note: string): Promise<string[]> {
    const time = new Date().toISOString().replace(/\.\d+Z$/, "Z");
    const { by } = this;
    const all = [...rows, ...gone.map((target) => ({ kind: "void", target, note }) as Row)];
    const made = await this.write(job, all.map((r) => ({ kind: "reading", body: { time, by, ...r } })));
    return made.slice(0, rows.length).map((e) => (e.body as Row).id || e.id);
  }

  /** Marks what became of a file that was sent, or is to be sent again. */
  async mark(sha256: string, change: Parameters<typeof database.mark>[2]) {
    await database.mark(this.db, sha256, change);
    await this.countFiles();
    this.changed();
  }

  /** Forgets the bytes of a file here. The log still names it. */
  async drop(sha256: string) {
    await this.db.delete("files", sha256);
    await this.countFiles();
    this.changed();
  }

  /** Keeps the bytes of a photo or scan with the job. */
  async keep(job: string, bytes: Blob, name: string, purpose: string): Promise<Kept> {
    const blob = await typed(bytes);
    const kept: Kept = { sha256: await database.sha256(blob), name, type: blob.type, size: blob.size, for: purpose };
    await this.db.put("files", { ...kept, job, blob, unsent: 1 });
    await this.write(job, [{ kind: "file", body: kept }]);
    return kept;
  }

  /** Takes in entries from any source; those that are already here change nothing. */
  async take(entries: Entry[], fromServer: boolean) {
    const fresh = await database.add(this.db, entries, fromServer);
    await this.countFiles();
    for (const e of fresh) this.hold(e);
    if (fromServer) {
      for (const e of entries) {
        const here = this.entries.get(e.job)?.get(e.id);
        if (here?.unsent) Object.assign(here, { unsent: 0, seq: e.seq, refused: undefined });
      }
    }
    this.changed();
  }

  /** Marks what the server acknowledged or refused. */
  async settle(accepted: string[], refused: { id: string; error: string }[]) {
    await database.settle(this.db, accepted, refused);
    const ids = new Set(accepted);
    const why = new Map(refused.map((r) => [r.id, r.error]));
    for (const m of this.entries.values()) {
      for (const e of m.values()) {
        if (ids.has(e.id)) Object.assign(e, { unsent: 0, refused: undefined });
        if (why.has(e.id)) (e.refused = why.get(e.id)), this.folded.delete(e.job);
      }
    }
    this.changed();
  }

  /** Who logs here, as the log has it: the name under which this device joined, else one that tells it from others. */
  get by(): string {
    return this.name || `device ${this.tag}`;
  }

  /** Remembers who this device is to the server, or why it is nobody there any more. */
  async be(session: Session | null, out = "") {
    this.session = session;
    this.out = out;
    if (session) this.name = session.name;
    await this.db.put("words", this.name, "name");
    await this.db.put("words", out, "out");
    if (session) await this.db.put("words", session, "session");
    else await this.db.delete("words", "session");
    this.changed();
  }
}
