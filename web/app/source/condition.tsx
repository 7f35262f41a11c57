// What was seen of a part, a landmark, a hole or the whole job, in words and with photos,
// which stay with the job.
import { useState } from "preact/hooks";
import { useStore } from "./context";
import type { Job } from "./entry";
import { words } from "./language";
import { notes } from "./notes";
import type { Store } from "./store";
import { Pick, Words } from "./form";
import { go } from "./route";
import { partsOf, pointsOf, rowText, wholeJob } from "./words";

const widest = 1600; // pixels: enough to read a lid, small enough to send from a field

/** A photo, made smaller, and without the position that the camera wrote into it. */
async function smaller(file: File): Promise<Blob> {
  const image = await createImageBitmap(file);
  const k = Math.min(1, widest / Math.max(image.width, image.height));
  const canvas = document.createElement("canvas");
  [canvas.width, canvas.height] = [Math.round(image.width * k), Math.round(image.height * k)];
  canvas.getContext("2d")!.drawImage(image, 0, 0, canvas.width, canvas.height);
  return new Promise((done) => canvas.toBlob((b) => done(b ?? file), "image/jpeg", 0.82));
}

export interface Photo {
  blob: Blob;
  url: string;
}

/** Takes photos, and shows those that were taken. */
export function PhotoTaker({ photos, change }: { photos: Photo[]; change: (f: (all: Photo[]) => Photo[]) => void }) {
  const [wrong, complain] = useState("");
  const take = async (list: FileList | null) => {
    for (const f of list ?? []) {
      try {
        const blob = await smaller(f);
        change((all) => [...all, { blob, url: URL.createObjectURL(blob) }]);
      } catch {
        complain(words.condition.noPicture(f.name));
      }
    }
  };
  return (
    <>
      <p class="field">
        <label class="button file">
          {words.condition.addPhotos}
          <input type="file" accept="image/*" capture="environment" multiple onChange={(e) => take(e.currentTarget.files)} />
        </label>
      </p>
      {wrong && <p class="warning">▲ {wrong}</p>}
      <div class="photos">
        {photos.map((p, i) => (
          <figure key={p.url}>
            <img src={p.url} alt={words.condition.photo(i + 1)} />
            <button type="button" class="plain" onClick={() => change((all) => all.filter((x) => x !== p))}>
              {words.condition.leaveOut}
            </button>
          </figure>
        ))}
      </div>
    </>
  );
}

/** Keeps the photos of a reading of a part with the job. */
export async function keepPhotos(store: Store, job: string, target: string, reading: string, photos: Photo[]) {
  const about = target.replace(/[^\p{L}\p{N}]+/gu, "-").slice(0, 40); // a name of its crew's making is no file name yet
  for (const [i, p] of photos.entries()) await store.keep(job, p.blob, `photo-${about}-${reading.slice(-6)}-${i + 1}.jpg`, reading);
}

/** What a row says of what was seen: photos alone are something too. */
export const noted = (note: string, photos: Photo[]) => note.trim() || (photos.length ? notes.photos : "");

/** All that may be noted: parts, the buried ones first, then holes and stakes, and the job. */
function notable(job: Job): { id: string; name: string }[] {
  const buried = ["box", "tank", "lateral", "header", "port"];
  const parts = [...partsOf(job.sketch, ...buried), ...partsOf(job.sketch).filter((p) => !buried.includes(p.part))];
  const ids = parts.map((p) => p.id);
  const points = pointsOf(job.sketch, job.rows).filter((p) => !ids.includes(p.id));
  return [...parts, ...points, ...(ids.includes(wholeJob) ? [] : [{ id: wholeJob, name: words.condition.wholeJob }])];
}

export function Condition({ job, about = "" }: { job: Job; about?: string }) {
  const store = useStore();
  const all = notable(job);
  const [target, aim] = useState(about || all[0].id);
  const [typed, say] = useState("");
  const [photos, change] = useState<Photo[]>([]);
  const note = noted(typed, photos);
  const save = async () => {
    const row = { kind: "condition", target, note };
    const [id] = await store.logged(job.id, [row], rowText(row));
    await keepPhotos(store, job.id, target, id, photos);
    go("plan", job.id);
  };
  return (
    <>
      <Pick label={words.condition.about} value={target} options={all} onChange={aim} />
      <Words label={words.condition.seen} value={typed} onInput={say} lines={3} hint={words.condition.hint} />
      <PhotoTaker photos={photos} change={change} />
      <button type="button" class="go wide" disabled={!note || !target} onClick={save}>
        {words.common.save}
      </button>
    </>
  );
}
