// The frame of every screen: the job's name, what is not sent yet, where the
// engine runs, and navigation.
import { useEffect, useState } from "preact/hooks";
import { useStore } from "./context";
import { watchEngine, type Where } from "./engine";
import type { Entry, Job, Kept, Row } from "./entry";
import { words } from "./language";
import { NotTaken } from "./nottaken";
import { to } from "./route";
import type { Update } from "./update";
import { rowText } from "./words";

export function Header({ job, desk }: { job: Job | null; desk: boolean }) {
  return (
    <header class="top">
      {!desk && job && (
        <a class="back" href={to("jobs")} aria-label={words.shell.allJobs}>
          ≡
        </a>
      )}
      <h1>{job ? job.settings.title || words.shell.untitled : "asfound"}</h1>
      <Sent />
      {!desk && job && (
        <a class="button" href={to("more", job.id)}>
          {words.shell.more}
        </a>
      )}
    </header>
  );
}

/** How many readings and photos the server does not have yet: never hidden. */
export function Sent() {
  const store = useStore();
  const n = store.unsent().length + store.filesUnsent;
  const refused = store.unsent().filter((e) => e.refused).length + store.filesWrong.filter((f) => f.refused).length;
  const joined = !!store.session;
  const says = n === 0 ? (joined ? words.shell.allSent : words.shell.here) : words.shell.unsent(n);
  return (
    <span class={n ? "sent waiting" : "sent"} role="status" data-unsent={n}>
      <span aria-hidden="true">{n ? "↑" : "✓"} </span>
      {says}
      {refused > 0 && words.shell.refused(refused)}
      <small>{store.online ? "" : ` ${words.shell.offline}`}</small>
    </span>
  );
}

/** Banners over the whole page: a new version, trouble, an undo. */
export function Banners({ update, job }: { update: Update; job: string }) {
  const store = useStore();
  const [where, move] = useState<Where>("loading");
  useEffect(() => watchEngine(move), []);
  const [read, close] = useState(""); // until the page is opened again
  const refused = store.unsent().find((e) => e.refused);
  const unsent = store.unsent().length + store.filesUnsent;
  return (
    <div class="banners">
      {update.take && (
        <p class="banner" role="status">
          {words.shell.newer} <button type="button" class="button" onClick={update.take}>{words.shell.update}</button>
        </p>
      )}
      {where === "server" && (
        <p class="banner" role="status">{words.shell.onServer}</p>
      )}
      {where === "none" && <p class="banner" role="status">{words.shell.noEngine}</p>}
      {store.out && store.out !== read && (
        <p class="banner" role="alert">
          {words.shell.out(store.out, unsent)}{" "}
          <button type="button" class="plain" aria-label={words.shell.closeNotice} onClick={() => close(store.out)}>✕</button>
        </p>
      )}
      {store.session?.damaged && <p class="banner" role="alert">{words.shell.damaged}</p>}
      {store.clockOff !== 0 && (
        <p class="banner" role="status">
          {words.shell.clockOff(Math.abs(store.clockOff), store.clockOff > 0)}{" "}
          <button type="button" class="plain" aria-label={words.shell.closeNotice} onClick={() => store.clockTold()}>✕</button>
        </p>
      )}
      {store.clashes.length > 0 && (
        <p class="banner" role="alert">
          {words.shell.clash(store.clashes.length, entryText(store.clashes[0]))}{" "}
          <button type="button" class="button" onClick={() => store.logClashes()}>{words.shell.logAgain}</button>
        </p>
      )}
      {store.trouble && <p class="banner" role="status">{words.shell.notExchanged(store.trouble)}</p>}
      {refused && <p class="banner" role="status">{words.shell.entryRefused(words.wrong.entry(refused.refused ?? ""))}</p>}
      <NotTaken />
      {store.last?.job === job && (
        <p class="banner done" role="status">
          ✓ {store.last.says} {!store.last.undone && <button type="button" class="button" onClick={() => store.undo(job)}>{words.common.undo}</button>}
          <button type="button" class="plain" aria-label={words.common.close} onClick={() => ((store.last = null), store.changed())}>✕</button>
        </p>
      )}
    </div>
  );
}

/** What an entry says, in short. */
function entryText(e: Entry): string {
  if (e.kind === "reading") return rowText(e.body as Row);
  if (e.kind === "file") return (e.body as Kept).name;
  return words.shell.things[e.kind] ?? e.kind;
}
