// Files that the server did not take: which, of which job, and why. A person sends one
// again, saves it elsewhere, or drops it.
import { useState } from "preact/hooks";
import { Ask } from "./ask";
import { useStore } from "./context";
import type { StoredFile } from "./database";
import { download } from "./folder";
import { words } from "./language";

const listed = 5; // at once: what is under the banners must stay in sight

export function NotTaken() {
  const store = useStore();
  const [dropping, ask] = useState<StoredFile | null>(null);
  const all = store.filesWrong;
  if (!all.length) return null;
  const title = (f: StoredFile) => store.job(f.job)?.settings.title || words.shell.untitled;
  const again = async (f: StoredFile) => {
    await store.mark(f.sha256, { wrong: undefined, refused: 0 });
    dispatchEvent(new Event("online"));
  };
  return (
    <details class="banner" open={all.length === 1}>
      <summary>{words.notTaken.title(all.length)}</summary>
      <ul>
        {all.slice(0, listed).map((f) => (
          <li key={f.sha256}>
            {words.notTaken.file(f.name, title(f), f.wrong!)} {!f.refused && words.notTaken.byItself}{" "}
            <button type="button" class="button" aria-label={words.notTaken.about(words.notTaken.again, f.name)} onClick={() => again(f)}>{words.notTaken.again}</button>{" "}
            <button type="button" class="button" aria-label={words.notTaken.about(words.notTaken.save, f.name)} onClick={() => download(f.blob, f.name.split("/").pop()!)}>{words.notTaken.save}</button>{" "}
            <button type="button" class="button" aria-label={words.notTaken.about(words.notTaken.drop, f.name)} onClick={() => ask(f)}>{words.notTaken.drop}</button>
          </li>
        ))}
      </ul>
      {all.length > listed && <p>{words.notTaken.more(all.length - listed)}</p>}
      {dropping && (
        <Ask title={words.notTaken.ask(dropping.name)} no={words.notTaken.keep} yes={words.notTaken.yes} onNo={() => ask(null)} onYes={() => (ask(null), void store.drop(dropping.sha256))}>
          <p>{words.notTaken.gone}</p>
        </Ask>
      )}
    </details>
  );
}
