// The documents of a job, made on this device, and the whole job as a folder.
import { useState } from "preact/hooks";
import type { PaperName } from "./answer";
import { asked, type Believed } from "./believe";
import { useStore } from "./context";
import { stage } from "./engine";
import { download, give } from "./folder";
import { Pictures } from "./pictures";
import { to } from "./route";

const documents: [PaperName, string, string][] = [
  ["digplan.pdf", "Dig plan", "to take along"],
  ["map.pdf", "Map", "to scale"],
  ["record.pdf", "Corrected as-built", "for the permit file"],
  ["map.svg", "Map as SVG", "for a screen"],
  ["asbuilt.geojson", "As-built as GeoJSON", "the next crew's sketch"],
  ["predictions.geojson", "Predictions as GeoJSON", "for a map program"],
  ["spots.csv", "Places as a table", "CSV"],
  ["residuals.csv", "Residuals as a table", "CSV"],
  ["plan.geojson", "Holes as GeoJSON", "for a map program"],
];

export function Documents({ state }: { state: Believed }) {
  const store = useStore();
  const { job } = state;
  const [busy, work] = useState("");
  const [wrong, say] = useState("");
  const file = (job.settings.title || "job").replace(/[^\w]+/g, "-").replace(/^-|-$/g, "").toLowerCase();
  const make = async (name: PaperName) => {
    work(name);
    say("");
    try {
      const date = new Date().toISOString().slice(0, 10);
      const p = await stage("paper", { job: asked(job), name, date });
      const bytes = Uint8Array.from(atob(p.base64), (c) => c.charCodeAt(0));
      download(new Blob([bytes], { type: p.type }), `${file}-${name}`);
      if (name === "record.pdf") await store.write(job.id, [{ kind: "paper", body: { name } }]); // the list of jobs says so
    } catch (e) {
      say(`${name}: ${(e as Error).message}`);
    }
    work("");
  };
  const whole = async () => {
    const { zip, missing } = await give(store, job.id);
    download(zip, `${file}.zip`);
    say(missing.length ? `Not in the folder, since they are not on this device and the server cannot be reached: ${missing.join(", ")}.` : "");
  };
  return (
    <section class="panel" aria-label="Documents">
      <h2>Documents</h2>
      {!job.sketch && <p>Documents need a sketch first.</p>}
      <div class="documents">
        {job.sketch && documents.map(([name, says, what]) => (
          <button type="button" class="way" key={name} disabled={busy !== ""} onClick={() => make(name)}>
            <b>{busy === name ? "Working …" : says}</b>
            <span>{what}</span>
          </button>
        ))}
      </div>
      {wrong && <p class="warning" role="alert">▲ {wrong}</p>}
      <h2>The whole job</h2>
      <p class="row">
        <button type="button" class="go" onClick={whole}>
          Export the job folder
        </button>
        <a class="button" href={to("trace", job.id)}>
          {job.sketch ? "Change the sketch" : "Trace the sketch"}
        </a>
      </p>
      <Files state={state} />
      <Pictures state={state} />
    </section>
  );
}

function Files({ state }: { state: Believed }) {
  const n = state.job.files.length;
  return n ? (
    <p class="hint">
      {n} {n === 1 ? "file is" : "files are"} kept with the job: {state.job.files.map((f) => f.name).join(", ")}.
    </p>
  ) : null;
}
