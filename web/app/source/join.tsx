// Join a server with the one-time link or code of its lead.
import { useState } from "preact/hooks";
import { useStore } from "./context";
import { Words } from "./form";
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
      if (e instanceof TypeError) say("The server cannot be reached from here. The link still works: try again with coverage.");
      else say(status === 401 ? `${message}.` : `${message}: ask the lead for a new link.`); // the refusal of a link explains itself
    }
    work(false);
  };
  return (
    <main class="screen" id="main">
      <header class="bar">
        <h1>Join</h1>
      </header>
      <form class="body" onSubmit={enter}>
        <p>This device joins the crew's server. The name is shown beside every reading it makes.</p>
        <Words label="Name of this device" value={name} onInput={set} hint="Leave it empty to be called as the lead invited it." />
        <button class="go wide" disabled={busy}>
          {busy ? "Joining …" : "Join"}
        </button>
        {wrong && <p class="warning" role="alert">▲ {wrong}</p>}
        <p>
          <a href="#/jobs">Work on this device alone</a>
        </p>
      </form>
    </main>
  );
}
