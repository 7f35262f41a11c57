// The picture under the plan, and its keys on the map: on and off, and how strong.
import { useEffect, useState } from "preact/hooks";
import type { Believed } from "../source/believe";
import { useStore } from "../source/context";
import type { Job } from "../source/entry";
import type { SiteMap } from "../source/map";
import { bytes, lieOf, pictures, recall, show, shown } from "./kept";
import { pictureLayer, type PictureLayer } from "./layer";
import { says } from "./language";

/** The address of a picture's bytes; null where they are not to be had, undefined while they are looked for. */
export function useBytes(job: Job, sha256: string | undefined): string | null | undefined {
  const store = useStore();
  const [url, set] = useState<string | null | undefined>(undefined);
  const there = job.files.some((f) => f.sha256 === sha256);
  useEffect(() => {
    if (!sha256) return set(undefined);
    let [gone, made] = [false, ""];
    void bytes(store, job, sha256).then((b) => gone || set(b && (made = URL.createObjectURL(b))));
    return () => {
      gone = true;
      if (made) URL.revokeObjectURL(made);
    };
  }, [sha256, there, store.online]);
  return url;
}

export function Under({ state, map }: { state: Believed; map: { current: SiteMap | null } }) {
  const store = useStore();
  const { job, belief } = state;
  useEffect(() => void recall(store, job.id), [job.id]);
  const { file, off, strength } = shown(job.id);
  const all = pictures(job);
  const chosen = all.findLast((p) => p.file === file) ?? all.at(-1);
  const url = useBytes(job, off ? undefined : chosen?.file);
  const [layer, set] = useState<PictureLayer | null>(null);
  const lie = chosen && belief ? lieOf(chosen, belief) : undefined;
  const visible = !off && !!lie;

  useEffect(() => set(url ? pictureLayer(url) : null), [url]);
  useEffect(() => {
    if (!layer || !visible) return;
    map.current?.under(layer.layer);
    return () => map.current?.under(null);
  }, [layer, visible]);
  useEffect(() => void (lie && layer?.lay(lie, strength)), [layer, lie?.join(), strength]);

  if (!chosen || !belief) return null;
  return (
    <div class="underkeys">
      <button type="button" class="button" aria-pressed={!off} onClick={() => show(store, job.id, { off: !off })}>
        {says.picture}
      </button>
      {visible && url && (
        <input type="range" min="0.1" max="1" step="0.05" value={strength} aria-label={says.fade} onInput={(e) => show(store, job.id, { strength: Number(e.currentTarget.value) })} />
      )}
      {!off && !lie && <p>▲ {says.gone}</p>}
      {!off && url === null && <p>▲ {says.notHere}</p>}
    </div>
  );
}
