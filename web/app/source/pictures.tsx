// Pictures under the plan, loaded on demand: many jobs have none.
import { useEffect, useState } from "preact/hooks";
import { live } from "./acts";
import type { Believed } from "./believe";
import type { Job } from "./entry";
import { language, words } from "./language";
import type { SiteMap } from "./map";
import { to } from "./route";

type Parts = typeof import("../picture/picture");

let loaded: Parts | undefined;

/** The part of the app that knows pictures, once it is wanted; why it could not be had. */
function useParts(wanted: boolean): [Parts | undefined, string] {
  const [parts, set] = useState(loaded);
  const [wrong, say] = useState("");
  useEffect(() => {
    if (!wanted) return;
    import("../picture/picture").then((p) => p.speak(language).then(() => set((loaded = { ...p })))).catch((e) => say((e as Error).message));
  }, [wanted, language]);
  return [parts, wrong];
}

const pictured = (job: Job) => live(job.rows).some((r) => r.picture);

/** The picture under the plan, with its keys on the map. */
export function Under({ state, map }: { state: Believed; map: { current: SiteMap | null } }) {
  const [parts] = useParts(pictured(state.job));
  return parts && pictured(state.job) ? <parts.Under state={state} map={map} /> : null;
}

/** The pictures of a job, and the way to add one. */
export function Pictures({ state }: { state: Believed }) {
  const [parts, wrong] = useParts(pictured(state.job));
  return (
    <>
      <h2>{words.pictures.title}</h2>
      {parts && <parts.List state={state} />}
      {wrong && <p class="warning">▲ {words.pictures.wrong(wrong)}</p>}
      <p class="row">
        <a class="button" href={to("picture", state.job.id)}>
          {words.pictures.add}
        </a>
      </p>
    </>
  );
}

/** The screen that adds a picture, or lays the one of a reading again. */
export function PictureScreen({ state, about }: { state: Believed; about: string }) {
  const [parts, wrong] = useParts(true);
  return (
    <main class="tracing" id="main">
      {parts ? <parts.Lay state={state} about={about} /> : <p class="pad" role="status">{wrong ? words.pictures.wrong(wrong) : words.pictures.opening} <a href={to("plan", state.job.id)}>{words.common.back}</a></p>}
    </main>
  );
}
