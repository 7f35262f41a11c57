// What was seen of a part, in words and with photos, which stay with the job.
import { useState } from "preact/hooks";
import { useStore } from "./context";
import type { Job } from "./entry";
import type { Store } from "./store";
import { Pick, Words } from "./form";
import { go } from "./route";
import { partsOf } from "./words";

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
        complain(`${f.name} is no picture that this browser can read.`);
      }
    }
  };
  return (
    <>
      <p class="field">
        <label class="button file">
          Add photos
          <input type="file" accept="image/*" capture="environment" multiple onChange={(e) => take(e.currentTarget.files)} />
        </label>
      </p>
      {wrong && <p class="warning">▲ {wrong}</p>}
      <div class="photos">
        {photos.map((p, i) => (
          <figure key={p.url}>
            <img src={p.url} alt={`photo ${i + 1}`} />
            <button type="button" class="plain" onClick={() => change((all) => all.filter((x) => x !== p))}>
              leave out
            </button>
          </figure>
        ))}
      </div>
    </>
  );
}

/** Keeps the photos of a reading of a part with the job. */
export async function keepPhotos(store: Store, job: string, target: string, reading: string, photos: Photo[]) {
  for (const [i, p] of photos.entries()) await store.keep(job, p.blob, `photo-${target}-${reading.slice(-6)}-${i + 1}.jpg`, reading);
}

export function Condition({ job }: { job: Job }) {
  const store = useStore();
  const parts = partsOf(job.sketch, "box", "tank", "lateral", "header", "port", "well");
  const [target, aim] = useState(parts[0]?.id ?? "");
  const [note, say] = useState("");
  const [photos, change] = useState<Photo[]>([]);
  const save = async () => {
    const [id] = await store.logged(job.id, [{ kind: "condition", target, note }], `condition of ${target}`);
    await keepPhotos(store, job.id, target, id, photos);
    go("plan", job.id);
  };
  return (
    <>
      <Pick label="Of" value={target} options={parts.map((p) => ({ id: p.id, name: p.name }))} onChange={aim} />
      <Words label="What was seen" value={note} onInput={say} lines={3} hint="Sound, cracked, roots, wet stone, level of the water …" />
      <PhotoTaker photos={photos} change={change} />
      <button type="button" class="go wide" disabled={!note.trim() || !target} onClick={save}>
        Save
      </button>
    </>
  );
}
