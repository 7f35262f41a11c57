// The jobs of this device: open one, bring one in, begin one from a sketch.
import { useEffect, useState } from "preact/hooks";
import { live } from "./acts";
import { Ask } from "./ask";
import { LanguageChoice } from "./chooser";
import { useStore } from "./context";
import { newID, type Job } from "./entry";
import { bring, twin } from "./folder";
import { Choice, Words } from "./form";
import { isSought, seeks } from "./found";
import { words } from "./language";
import { HowToJoin } from "./people";
import { go, to } from "./route";
import { ask as request } from "./session";
import { kindOf, partName } from "./words";
import { bare, pack, unpack } from "./zip";

export function JobList({ open }: { open: string }) {
  const store = useStore();
  const [want, search] = useState("");
  const [doubts, doubt] = useState<Record<string, boolean>>({});
  const all = store.jobs();
  useEffect(() => {
    void Promise.all(all.map(async ({ job }) => [job.id, await store.db.get("words", `doubt ${job.id}`)])).then((d) => doubt(Object.fromEntries(d)));
  }, [store.turn]);
  const wanted = want.toLowerCase().split(/\s+/);
  const shown = all.filter(({ job }) => wanted.every((w) => `${titleOf(job)} ${job.settings.permit ?? ""}`.toLowerCase().includes(w)));
  return (
    <>
      {all.length > 1 && <Words label={words.jobs.find} value={want} onInput={search} />}
      <ul class="joblist">
        {shown.map(({ job, changed, unsent }) => {
          const n = live(job.rows).length;
          return (
            <li key={job.id}>
              <a class="jobcard" href={to("plan", job.id)} aria-current={job.id === open ? "page" : undefined}>
                <b>{titleOf(job)}</b>
                <span>{stands(job, doubts[job.id])}</span>
                <span>
                  {job.settings.permit ? `${words.jobs.permit(job.settings.permit)}, ` : ""}
                  {job.sketch ? words.jobs.readings(n) : words.jobs.noSketch}, {changed.slice(0, 10)}
                </span>
                {job.aside && <span>{words.jobs.aside}</span>}
                {unsent > 0 && <span class="unsent">{words.jobs.unsent(unsent)}</span>}
              </a>
            </li>
          );
        })}
        {all.length === 0 && <li class="pad">{words.jobs.none}</li>}
        {all.length > 0 && shown.length === 0 && <li class="pad">{words.jobs.notFound}</li>}
      </ul>
    </>
  );
}

const titleOf = (job: Job) => String(job.settings.title || words.shell.untitled);

/** Where a job stands: holes, what is sought, whether the answer is in doubt, the record. */
function stands(job: Job, doubtful: boolean | undefined): string {
  const met = live(job.rows).filter((r) => r.kind === "found" || r.kind === "empty");
  const holes = new Set(met.map((r) => r.point)).size;
  const found = met.some((r) => r.kind === "found" && isSought(job, r.target));
  const sought = partName(seeks(job), kindOf(job.sketch, seeks(job)));
  return [
    words.jobs.dug(holes),
    job.sketch && (found ? words.jobs.found(sought) : words.jobs.notYet(sought)),
    doubtful && words.jobs.doubtful,
    job.record && words.jobs.record(job.record.slice(0, 10)),
  ].filter(Boolean).join(", ");
}

export function JobsScreen() {
  const store = useStore();
  const fresh = store.jobs().length === 0; // whoever opens this for the first time must be able to read it
  return (
    <main class="screen" id="main">
      <header class="bar">
        <h1>{words.jobs.title}</h1>
      </header>
      <div class="body">
        {fresh && <LanguageChoice />}
        <JobList open="" />
        {!store.session && !store.out && (
          <section class="panel" aria-label={words.jobs.join}>
            <h2>{words.jobs.join}</h2>
            <HowToJoin />
          </section>
        )}
        <BringIn />
        <Begin />
        {!fresh && <LanguageChoice />}
      </div>
    </main>
  );
}

/** Imports a job from its folder, zipped or file by file. */
export function BringIn() {
  const store = useStore();
  const [wrong, say] = useState("");
  const [again, ask] = useState<{ job: Job; files: Map<string, Uint8Array> } | null>(null);
  const trying = async (f: () => Promise<void>) => {
    say("");
    try {
      await f();
    } catch (e) {
      say((e as Error).message);
    }
  };
  const take = (list: FileList | null) => trying(async () => {
    if (!list?.length) return;
    let files: Map<string, Uint8Array>;
    if (list.length === 1 && /\.zip$/i.test(list[0].name)) files = await unpack(list[0]);
    else {
      files = new Map();
      for (const f of list) files.set(f.webkitRelativePath || f.name, new Uint8Array(await f.arrayBuffer()));
      files = bare(files);
    }
    const job = twin(store, files);
    if (job) return ask({ job, files });
    await keep(files);
  });
  const keep = async (files: Map<string, Uint8Array>) => {
    const fixes = [...files.keys()].some((n) => /^[^/]+\.(gpx|nmea)$/i.test(n));
    if (fixes && store.session && store.online) {
      // Their fixes are read by the server, and come back as readings.
      const { id } = await request<{ id: string }>("POST", "/api/jobs", pack(files));
      dispatchEvent(new Event("online"));
      return go("plan", id);
    }
    if (fixes) say(words.jobs.fixes);
    go("plan", await bring(store, files));
  };
  return (
    <section class="panel" aria-label={words.jobs.import}>
      <h2>{words.jobs.import}</h2>
      <p class="row">
        <label class="button file">
          {words.jobs.files}
          <input type="file" multiple accept=".zip,.geojson,.csv,.json,.gpx,.nmea,.txt,image/*,.pdf" onChange={(e) => take(e.currentTarget.files)} />
        </label>
      </p>
      {wrong && <p class="warning" role="alert">▲ {wrong}</p>}
      {again && (
        <Ask
          title={words.jobs.hereAlready}
          no={words.jobs.openJob}
          yes={words.jobs.onceMore}
          onNo={() => (ask(null), go("plan", again.job.id))}
          onYes={() => (ask(null), void trying(() => keep(again.files)))}
        >
          <p>{words.jobs.same(titleOf(again.job), live(again.job.rows).length)}</p>
        </Ask>
      )}
    </section>
  );
}

/** Begins a job: a title and a unit, then the sketch is traced. */
function Begin() {
  const store = useStore();
  const [title, name] = useState("");
  const [permit, number] = useState("");
  const [unit, measure] = useState<"ft" | "m">("ft");
  const begin = async (e: Event) => {
    e.preventDefault();
    const id = newID();
    await store.write(id, [{ kind: "settings", body: { title: title.trim() || words.jobs.newJob, ...(permit && { permit }), unit, seek: "box" } }]);
    go("trace", id);
  };
  return (
    <section class="panel" aria-label={words.jobs.newJob}>
      <h2>{words.jobs.newSaid}</h2>
      <form onSubmit={begin}>
        <Words label={words.jobs.name} value={title} onInput={name} />
        <Words label={words.jobs.permitNumber} value={permit} onInput={number} />
        <Choice label={words.jobs.worksIn} value={unit} onChange={measure} options={[["ft", words.jobs.feet], ["m", words.jobs.metres]]} />
        <button class="go wide">{words.plan.trace}</button>
      </form>
    </section>
  );
}
