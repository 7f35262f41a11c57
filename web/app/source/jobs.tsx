// The jobs of this device: open one, bring one in, begin one from a sketch.
import { useState } from "preact/hooks";
import { live } from "./acts";
import { useStore } from "./context";
import { newID } from "./entry";
import { bring } from "./folder";
import { Choice, Words } from "./form";
import { go, to } from "./route";
import { ask } from "./session";
import { bare, pack, unpack } from "./zip";

export function JobList({ open }: { open: string }) {
  const store = useStore();
  return (
    <ul class="joblist">
      {store.jobs().map(({ job, changed, unsent }) => {
        const n = live(job.rows).length;
        return (
          <li key={job.id}>
            <a class="jobcard" href={to("plan", job.id)} aria-current={job.id === open ? "page" : undefined}>
              <b>{job.settings.title || "Job without a title"}</b>
              <span>
                {job.settings.permit ? `permit ${job.settings.permit}, ` : ""}
                {job.sketch ? `${n} ${n === 1 ? "reading" : "readings"}` : "no sketch yet"}, {changed.slice(0, 10)}
              </span>
              {unsent > 0 && <span class="unsent">↑ {unsent} not sent</span>}
            </a>
          </li>
        );
      })}
      {store.jobs().length === 0 && <li class="pad">No job on this device yet. Import a job folder, or start one from a sketch.</li>}
    </ul>
  );
}

export function JobsScreen() {
  return (
    <main class="screen" id="main">
      <header class="bar">
        <h1>Jobs</h1>
      </header>
      <div class="body">
        <JobList open="" />
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
  const take = async (list: FileList | null) => {
    if (!list?.length) return;
    try {
      let files: Map<string, Uint8Array>;
      if (list.length === 1 && /\.zip$/i.test(list[0].name)) files = await unpack(list[0]);
      else {
        files = new Map();
        for (const f of list) files.set(f.webkitRelativePath || f.name, new Uint8Array(await f.arrayBuffer()));
        files = bare(files);
      }
      const fixes = [...files.keys()].some((n) => /^[^/]+\.(gpx|nmea)$/i.test(n));
      if (fixes && store.session && store.online) {
        // Their fixes are read by the server, and come back as readings.
        const { id } = await ask<{ id: string }>("POST", "/api/jobs", pack(files));
        dispatchEvent(new Event("online"));
        return go("plan", id);
      }
      if (fixes) say("The GPX and NMEA files are kept, but their fixes count only after the folder is imported on a joined device.");
      go("plan", await bring(store, files));
    } catch (e) {
      say((e as Error).message);
    }
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
