// The tracing screen, loaded on demand: many phones never trace.
import type { FunctionComponent } from "preact";
import { useEffect, useState } from "preact/hooks";
import type { Check, CheckRequest } from "./answer";
import { useStore } from "./context";
import type { Database } from "./database";
import { stage } from "./engine";
import type { Job, Sketch } from "./entry";
import { language, words } from "./language";
import { go, to } from "./route";
import { fileBytes } from "./sync";
import { unitOf } from "./units";

interface Scan {
  blob: Blob;
  name: string;
  type: string;
}

interface TraceProps {
  sketch: object | null;
  unit: "ft" | "m";
  scan: Blob | null;
  stage: (name: "check", request: CheckRequest) => Promise<Check>;
  save: (sketch: object, scan: Scan | null) => Promise<void>;
  leave: () => void;
  drawer: Drawer;
}

/** Where the drawing that is not finished is kept; what is in it is the tracing screen's affair. */
interface Drawer {
  found: { drawing: unknown; picture: Blob | null } | null;
  put: (drawing: unknown, picture?: Blob | null) => Promise<void>;
  empty: () => Promise<void>;
  note: { read: () => string | null; write: (text: string | null) => void };
}

/** Opens the drawer of a job, with the drawing that was left in it. */
async function drawerOf(db: Database, job: string): Promise<Drawer> {
  const [drawn, pictured, typed] = [`drawing ${job}`, `drawing's picture ${job}`, `typed ${job}`];
  const note = {
    read: () => localStorage.getItem(typed),
    write: (text: string | null) => {
      try {
        if (text === null) localStorage.removeItem(typed);
        else localStorage.setItem(typed, text);
      } catch { /* no space: the drawing itself says so */ }
    },
  };
  const drawing = await db.get("words", drawn);
  return {
    found: drawing ? { drawing, picture: ((await db.get("words", pictured)) as Blob | undefined) ?? null } : null,
    put: async (drawing, picture) => {
      const tx = db.transaction("words", "readwrite");
      void tx.store.put(drawing, drawn);
      if (picture) void tx.store.put(picture, pictured);
      else if (picture === null) void tx.store.delete(pictured);
      tx.commit(); // now: a page that is about to go would be asked no more
      await tx.done;
    },
    note,
    empty: async () => {
      note.write(null);
      const tx = db.transaction("words", "readwrite");
      await Promise.all([tx.store.delete(drawn), tx.store.delete(pictured), tx.done]);
    },
  };
}

export function TraceScreen({ job }: { job: Job }) {
  const store = useStore();
  const [Trace, set] = useState<FunctionComponent<TraceProps> | null>(null);
  const [scan, setScan] = useState<Blob | null | undefined>(undefined);
  const [drawer, setDrawer] = useState<Drawer>();
  const [wrong, say] = useState("");
  useEffect(() => {
    void drawerOf(store.db, job.id).then(setDrawer, (e) => say((e as Error).message));
    import("../trace/trace").then((m) => m.speak(language).then(() => set(() => m.Trace as FunctionComponent<TraceProps>))).catch((e) => say((e as Error).message));
    const name = job.sketch?.sketch?.scan;
    const file = job.files.filter((f) => f.name === name).at(-1);
    void (file ? fileBytes(store, job.id, file.sha256) : Promise.resolve(null)).then(setScan);
  }, []);
  if (wrong) return <main class="pad" id="main">{words.tracing.wrong(wrong)} <a href="#/jobs">{words.common.back}</a></main>;
  if (!store.mayRedraw(job.id)) return <main class="pad" id="main">{words.tracing.leads} <a href={to("plan", job.id)}>{words.common.back}</a></main>;
  if (!Trace || scan === undefined || !drawer) return <main class="pad" id="main"><p role="status">{words.tracing.getting}</p></main>;
  return (
    <main class="tracing" id="main">
      <Trace
        sketch={job.sketch}
        unit={unitOf(job.settings)}
        scan={scan}
        stage={stage}
        save={async (sketch, picture) => {
          if (picture) await store.keep(job.id, picture.blob, picture.name, "scan");
          await store.replace(job.id, "sketch", sketch as Sketch, words.tracing.changed);
          go("plan", job.id);
        }}
        leave={() => go("plan", job.id)}
        drawer={drawer}
      />
    </main>
  );
}
