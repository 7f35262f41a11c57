// The store of this device: its entries in memory, the jobs that they make up,
// and what has not been sent. Screens watch it; everything written goes through
// it.
import { copy, undoing, type Act } from "./acts";
import { compare, compareArrival, fold, newID, setAside, type Aside, type Entry, type Job, type Kept, type Row } from "./entry";
import type { Logged, Session } from "./answer";
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
  /** Entries of this device that are not kept at the server, since their ids are taken there. */
  clashes: Entry[] = [];
  /** By how many days the clock of this device is off, and nobody was told yet; 0: it is right, or was told. */
  clockOff = 0;
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
    b.clashes = ((await b.db.get("words", "clashes")) as Entry[] | undefined) ?? [];
    if (!b.tag) {
      b.tag = newID().slice(-2);
      await b.db.put("words", b.tag, "tag");
    }
    for (const key of await b.db.getAllKeys("words")) {
      if (key.startsWith("acts ")) b.acts.set(key.slice(5), (await b.db.get("words", key)) as Act[]);
    }
    await b.lookThroughFiles();
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

  /** The jobs that this device knows, latest change first, those set aside last. */
  jobs(): { job: Job; changed: string; unsent: number }[] {
    const all = [...this.entries].map(([id, m]) => {
      const list = [...m.values()].sort(compare);
      return { job: this.job(id)!, changed: list.at(-1)!.at, unsent: list.filter((e) => e.unsent).length };
    });
    return all.sort((a, b) => Number(!!a.job.aside) - Number(!!b.job.aside) || (a.changed < b.changed ? 1 : -1));
  }

  job(id: string): Job | null {
    const m = this.entries.get(id);
    if (!m) return null;
    let j = this.folded.get(id);
    if (!j) this.folded.set(id, (j = fold(id, this.holding(id))));
    return j;
  }

  /** The entries of a job that hold: what the server refused of settings, sketch or setting aside holds nowhere else, so not here. */
  private holding(id: string): Entry[] {
    return [...(this.entries.get(id)?.values() ?? [])].filter((e) => !(e.refused && ["settings", "sketch", "aside"].includes(e.kind)));
  }

  /** What is set aside of a job: ids of devices, "" for the job itself. */
  asideOf = (job: string): Set<string> => setAside(this.holding(job));

  /** The jobs that a device sent something of. */
  jobsOf(device: string): string[] {
    return [...this.entries].filter(([, m]) => [...m.values()].some((e) => e.device === device && e.kind !== "aside")).map(([id]) => id);
  }

  /** Sets aside all that a device sent of jobs ("": the jobs themselves), or takes it up again. */
  async setAside(jobs: string[], device: string, aside: boolean) {
    const body: Aside = { ...(device && { device }), aside };
    for (const job of jobs) await this.write(job, [{ kind: "aside", body }]);
  }

  /** The entry that each reading of a job is from, by the id of its row. */
  origins(job: string): Map<string, Entry> {
    const from = new Map<string, Entry>();
    for (const e of this.entriesOf(job).filter((e) => e.kind === "reading")) {
      const own = (e.body as Row).id;
      if (own && !from.has(own)) from.set(own, e);
      from.set(e.id, e);
    }
    return from;
  }

  /** Whether the sketch of a job may be replaced here: a tech gives the first one, and others replace it. */
  mayRedraw(job: string): boolean {
    return this.session?.role !== "tech" || ![...(this.entries.get(job)?.values() ?? [])].some((e) => e.kind === "sketch" && !e.unsent);
  }

  entriesOf(id: string): Entry[] {
    return [...(this.entries.get(id)?.values() ?? [])].sort(compare).map(database.plain);
  }

  /** Entries that the server has not acknowledged: first those that it had once, in its order, then the oldest. */
  unsent(): database.Stored[] {
    return [...this.entries.values()].flatMap((m) => [...m.values()].filter((e) => e.unsent)).sort(compareArrival);
  }

  /** Recounts the files whose bytes are still to be sent. */
  async countFiles() {
    this.filesUnsent = await this.db.countFromIndex("files", "unsent", 1);
  }

  /** Looks again which files are still to be sent, and which of them the server did not take. */
  private async lookThroughFiles() {
    const unsent = await this.db.getAllFromIndex("files", "unsent", 1);
    this.filesUnsent = unsent.length;
    this.filesWrong = unsent.filter((f) => f.wrong);
    this.changed();
  }

  /** Stores entries; they are durable on this device when it returns. */
  async write(job: string, what: { kind: string; body: unknown }[]): Promise<Entry[]> {
    const at = new Date().toISOString();
    const over = (kind: string) => (kind === "sketch" || kind === "settings" ? this.latest(job, kind)?.id : undefined);
    const made = what.map((w) => ({ id: newID(), job, at, by: this.by, over: over(w.kind), ...w }));
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
    const aside = this.asideOf(job);
    return this.holding(job).filter((e) => e.kind === kind && !(e.device && aside.has(e.device))).sort(compareArrival).at(-1);
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
    await this.lookThroughFiles();
  }

  /** Forgets the bytes of a file here. The log still names it, where the server took that. */
  async drop(sha256: string) {
    const refused = this.unsent().filter((e) => e.refused && e.kind === "file" && (e.body as Kept).sha256 === sha256);
    await database.drop(this.db, sha256, refused.map((e) => e.id));
    for (const e of refused) this.entries.get(e.job)?.delete(e.id), this.folded.delete(e.job);
    await this.lookThroughFiles();
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
    const { fresh, clashes } = await database.add(this.db, entries, fromServer);
    await this.countFiles();
    for (const e of fresh) this.hold(e);
    await this.clash(clashes);
    this.changed();
  }

  /** Marks what the server acknowledged or refused, or has something else for. */
  async settle({ accepted, refused, different }: Logged) {
    const clashes = await database.settle(this.db, accepted, refused, different);
    const ids = new Set(accepted);
    const why = new Map(refused.map((r) => [r.id, r.error]));
    for (const m of this.entries.values()) {
      for (const e of m.values()) {
        if (ids.has(e.id)) Object.assign(e, { unsent: 0, refused: undefined });
        if (why.has(e.id)) (e.refused = why.get(e.id)), this.folded.delete(e.job);
      }
    }
    for (const e of clashes) this.entries.get(e.job)?.delete(e.id), this.folded.delete(e.job);
    await this.clash(clashes);
    this.changed();
  }

  /** Remembers entries whose ids are taken at the server, until they are logged again. */
  private async clash(more: Entry[]) {
    if (!more.length) return;
    this.clashes = [...this.clashes, ...more];
    await this.db.put("words", this.clashes, "clashes");
  }

  /** Logs what clashed again, under ids of its own. */
  async logClashes() {
    const all = this.clashes;
    for (const e of all) await this.write(e.job, [{ kind: e.kind, body: e.body }]);
    this.clashes = this.clashes.slice(all.length);
    await this.db.put("words", this.clashes, "clashes");
    this.changed();
  }

  /** The store of the server went back to an earlier state: all that is here is sent again, after looking what is there. */
  async wentBack(generation: string) {
    await database.unsend(this.db, generation);
    for (const m of this.entries.values()) for (const e of m.values()) e.unsent = 1;
    await this.countFiles();
    this.changed();
  }

  /** Compares the clock of this device with the server's, and has it said once if it is off by more than a day. */
  async compareClock(server: string) {
    const day = 86_400_000;
    const off = (Date.now() - Date.parse(server)) / day;
    const told = await this.db.get("words", "clockTold");
    if (Math.abs(off) <= 1) {
      this.clockOff = 0;
      if (told) await this.db.delete("words", "clockTold");
    } else if (!told) this.clockOff = Math.round(off);
  }

  /** The clock was told of. */
  async clockTold() {
    await this.db.put("words", true, "clockTold");
    this.clockOff = 0;
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
