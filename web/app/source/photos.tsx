// The photos that belong to a reading.
import { useEffect, useState } from "preact/hooks";
import { useStore } from "./context";
import type { Job } from "./entry";
import { fileBytes } from "./sync";

export function Photos({ job, reading }: { job: Job; reading: string }) {
  const store = useStore();
  const files = job.files.filter((f) => f.for === reading && f.type.startsWith("image/"));
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
            <img src={urls[i]!} alt={`photo ${i + 1}: ${f.name}`} />
          </a>
        ) : (
          <small key={f.sha256}>{urls.length ? `${f.name} is not on this device yet` : f.name}</small>
        ),
      )}
    </span>
  );
}
