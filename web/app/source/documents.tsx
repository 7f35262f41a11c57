// The documents of a job, made on this device, and the whole job as a folder.
import { useState } from "preact/hooks";
import type { PaperName } from "./answer";
import { asked, type Believed } from "./believe";
import { useStore } from "./context";
import { stage } from "./engine";
import { download, give } from "./folder";
import { words } from "./language";
import { Pictures } from "./pictures";
import { to } from "./route";

const papers = () => Object.entries(words.documents.names) as [PaperName, string[]][];

/** A title as the name of a file: letters without their accents. */
const fileName = (title: string) => title.normalize("NFD").replace(/\p{M}+/gu, "").replace(/[^\w]+/g, "-").replace(/^-|-$/g, "").toLowerCase();

export function Documents({ state }: { state: Believed }) {
  const store = useStore();
  const { job } = state;
  const [busy, work] = useState("");
  const [wrong, say] = useState("");
  const file = fileName(job.settings.title || "") || words.documents.job;
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
    say(missing.length ? words.documents.missing(missing.join(", ")) : "");
  };
  return (
    <section class="panel" aria-label={words.documents.title}>
      <h2>{words.documents.title}</h2>
      {!job.sketch && <p>{words.documents.noSketch}</p>}
      <div class="documents">
        {job.sketch && papers().map(([name, [says, what]]) => (
          <button type="button" class="way" key={name} disabled={busy !== ""} onClick={() => make(name)}>
            <b>{busy === name ? words.documents.working : says}</b>
            <span>{what}</span>
          </button>
        ))}
      </div>
      {wrong && <p class="warning" role="alert">▲ {wrong}</p>}
      <h2>{words.documents.whole}</h2>
      <p class="row">
        <button type="button" class="go" onClick={whole}>
          {words.documents.export}
        </button>
        <a class="button" href={to("trace", job.id)}>
          {job.sketch ? words.documents.change : words.plan.trace}
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
    <p class="hint">{words.documents.files(n, state.job.files.map((f) => f.name).join(", "))}</p>
  ) : null;
}
