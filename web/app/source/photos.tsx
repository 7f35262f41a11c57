// The photos that belong to a reading.
import { useEffect, useState } from "preact/hooks";
import { useStore } from "./context";
import { earlier } from "./acts";
import type { Job, Row } from "./entry";
import { words } from "./language";
import { fileBytes } from "./sync";

export function Photos({ job, reading }: { job: Job; reading: Row }) {
  const store = useStore();
  // A reading that was restored has the photos of the one that was withdrawn.
  const ids = [reading, ...earlier(job.rows, reading)].map((r) => r.id);
  const files = job.files.filter((f) => ids.includes(f.for ?? "") && f.type.startsWith("image/"));
  const names = files.map((f) => f.sha256).join();
  const [urls, set] = useState<(string | null)[]>([]);
  useEffect(() => {
    let made: (string | null)[] = [];
    let gone = false;
    void Promise.all(files.map((f) => fileBytes(store, job.id, f.sha256))).then((blobs) => {
      if (gone) return;
      made = blobs.map((b) => b && URL.createObjectURL(b));
      set(made);
    });
    return () => {
      gone = true;
      made.forEach((u) => u && URL.revokeObjectURL(u));
    };
  }, [names, store.online]);
  if (!files.length) return null;
  return (
    <span class="photos">
      {files.map((f, i) =>
        urls[i] ? (
          <a key={f.sha256} href={urls[i]!} target="_blank">
            <img src={urls[i]!} alt={words.condition.photoOf(i + 1, f.name)} />
          </a>
        ) : (
          <small key={f.sha256}>{urls.length ? words.condition.notHere(f.name) : f.name}</small>
        ),
      )}
    </span>
  );
}
