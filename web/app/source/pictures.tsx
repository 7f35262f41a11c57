// Pictures under the plan, loaded on demand: many jobs have none.
import { useEffect, useState } from "preact/hooks";
import { live } from "./acts";
import type { Believed } from "./believe";
import type { Job } from "./entry";
import type { SiteMap } from "./map";
import { to } from "./route";

type Parts = typeof import("../picture/picture");

let loaded: Parts | undefined;

/** The part of the app that knows pictures, once it is wanted; why it could not be had. */
function useParts(wanted: boolean): [Parts | undefined, string] {
  const [parts, set] = useState(loaded);
  const [wrong, say] = useState("");
  useEffect(() => {
    if (wanted && !parts) import("../picture/picture").then((p) => set((loaded = p)), (e) => say((e as Error).message));
  }, [wanted]);
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
      <h2>Pictures under the plan</h2>
      {parts && <parts.List state={state} />}
      {wrong && <p class="warning">▲ Pictures cannot be loaded: {wrong}.</p>}
      <p class="row">
        <a class="button" href={to("picture", state.job.id)}>
          Add a picture
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
      {parts ? <parts.Lay state={state} about={about} /> : <p class="pad" role="status">{wrong ? `Pictures cannot be loaded: ${wrong}.` : "Opening …"} <a href={to("plan", state.job.id)}>Back</a></p>}
    </main>
  );
}
