// Join a server with the one-time link or code of its lead.
import { useState } from "preact/hooks";
import { LanguageChoice } from "./chooser";
import { useStore } from "./context";
import { Words } from "./form";
import { words } from "./language";
import { go } from "./route";
import { join } from "./session";
import type { Sync } from "./sync";

export function JoinScreen({ token, sync }: { token: string; sync: Sync }) {
  const store = useStore();
  const [name, set] = useState("");
  const [wrong, say] = useState("");
  const [busy, work] = useState(false);
  const enter = async (e: Event) => {
    e.preventDefault();
    work(true);
    try {
      await store.be(await join(token, name.trim()));
      // The link works only once: it must not stay in the history.
      history.replaceState(null, "", "#/jobs");
      await sync.run();
      go("jobs");
      dispatchEvent(new HashChangeEvent("hashchange"));
    } catch (e) {
      const { message, status } = e as Error & { status?: number };
      if (e instanceof TypeError) say(words.join.unreachable);
      else say(status === 401 ? words.join.refused(message) : words.join.newLink(message)); // the refusal of a link explains itself
    }
    work(false);
  };
  return (
    <main class="screen" id="main">
      <header class="bar">
        <h1>{words.join.title}</h1>
      </header>
      <form class="body" onSubmit={enter}>
        <LanguageChoice />
        <p>{words.join.about}</p>
        <Words label={words.join.name} value={name} onInput={set} hint={words.join.hint} />
        <button class="go wide" disabled={busy}>
          {busy ? words.join.joining : words.join.title}
        </button>
        {wrong && <p class="warning" role="alert">▲ {wrong}</p>}
        <p>
          <a href="#/jobs">{words.join.alone}</a>
        </p>
      </form>
    </main>
  );
}
