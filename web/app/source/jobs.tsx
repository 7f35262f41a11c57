// The jobs of this device: open one, bring one in, begin one from a sketch.
import { useEffect, useState } from "preact/hooks";
import { live } from "./acts";
import { Ask } from "./ask";
import { useStore } from "./context";
import { newID, type Job } from "./entry";
import { bring, twin } from "./folder";
import { Choice, Words } from "./form";
import { isSought, seeks } from "./found";
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
  const words = want.toLowerCase().split(/\s+/);
  const shown = all.filter(({ job }) => words.every((w) => `${titleOf(job)} ${job.settings.permit ?? ""}`.toLowerCase().includes(w)));
  return (
    <>
      {all.length > 1 && <Words label="Find a job" value={want} onInput={search} />}
      <ul class="joblist">
        {shown.map(({ job, changed, unsent }) => {
          const n = live(job.rows).length;
          return (
            <li key={job.id}>
              <a class="jobcard" href={to("plan", job.id)} aria-current={job.id === open ? "page" : undefined}>
                <b>{titleOf(job)}</b>
                <span>{stands(job, doubts[job.id])}</span>
                <span>
                  {job.settings.permit ? `permit ${job.settings.permit}, ` : ""}
                  {job.sketch ? `${n} ${n === 1 ? "reading" : "readings"}` : "no sketch yet"}, {changed.slice(0, 10)}
                </span>
                {unsent > 0 && <span class="unsent">↑ {unsent} not sent</span>}
              </a>
            </li>
          );
        })}
        {all.length === 0 && <li class="pad">No job on this device yet. Import a job folder, or start one from a sketch.</li>}
        {all.length > 0 && shown.length === 0 && <li class="pad">No job has these words in its title or permit number.</li>}
      </ul>
    </>
  );
}

const titleOf = (job: Job) => String(job.settings.title || "Job without a title");

/** Where a job stands: holes, what is sought, whether the answer is in doubt, the record. */
function stands(job: Job, doubtful: boolean | undefined): string {
  const met = live(job.rows).filter((r) => r.kind === "found" || r.kind === "empty");
  const holes = new Set(met.map((r) => r.point)).size;
  const found = met.some((r) => r.kind === "found" && isSought(job, r.target));
  const sought = partName(seeks(job), kindOf(job.sketch, seeks(job)));
  return [
    holes ? `${holes} ${holes === 1 ? "hole" : "holes"} dug` : "no hole dug",
    job.sketch && `${found ? "✓ " : ""}${sought} ${found ? "found" : "not found yet"}`,
    doubtful && "▲ doubtful",
    job.record && `record made ${job.record.slice(0, 10)}`,
  ].filter(Boolean).join(", ");
}

export function JobsScreen() {
  const store = useStore();
  return (
    <main class="screen" id="main">
      <header class="bar">
        <h1>Jobs</h1>
      </header>
      <div class="body">
        <JobList open="" />
        {!store.session && !store.out && (
          <section class="panel" aria-label="Join a crew">
            <h2>Join a crew</h2>
            <HowToJoin />
          </section>
        )}
        <BringIn />
        <Begin />
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
    if (fixes) say("The GPX and NMEA files are kept, but their fixes count only after the folder is imported on a joined device.");
    go("plan", await bring(store, files));
  };
  return (
    <section class="panel" aria-label="Import a job">
      <h2>Import a job</h2>
      <p class="row">
        <label class="button file">
          A zip, or the files of a folder
          <input type="file" multiple accept=".zip,.geojson,.csv,.json,.gpx,.nmea,.txt,image/*,.pdf" onChange={(e) => take(e.currentTarget.files)} />
        </label>
      </p>
      {wrong && <p class="warning" role="alert">▲ {wrong}</p>}
      {again && (
        <Ask
          title="This folder is here already"
          no="Open the job"
          yes="Import it once more"
          onNo={() => (ask(null), go("plan", again.job.id))}
          onYes={() => (ask(null), void trying(() => keep(again.files)))}
        >
          <p>
            {titleOf(again.job)} has the same sketch, and {live(again.job.rows).length} readings. Once more, it is a second job, and neither sees the readings of the other.
          </p>
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
    await store.write(id, [{ kind: "settings", body: { title: title.trim() || "New job", ...(permit && { permit }), unit, seek: "box" } }]);
    go("trace", id);
  };
  return (
    <section class="panel" aria-label="New job">
      <h2>New job from a sketch</h2>
      <form onSubmit={begin}>
        <Words label="Title" value={title} onInput={name} />
        <Words label="Permit number" value={permit} onInput={number} />
        <Choice label="The crew works in" value={unit} onChange={measure} options={[["ft", "feet and inches"], ["m", "metres"]]} />
        <button class="go wide">Trace the sketch</button>
      </form>
    </section>
  );
}
