// What looks like a slip is asked about before it is kept, by what the engine here
// knows at that moment. Where it does not know, nothing is asked: an entry is
// never held up.
import { useEffect, useRef, useState } from "preact/hooks";
import type { ComponentChildren } from "preact";
import type { Place } from "./answer";
import { Ask } from "./ask";
import { asked } from "./believe";
import { keepFree, stage } from "./engine";
import type { Job, Row } from "./entry";
import { words } from "./language";

const patience = 2000; // milliseconds that an entry waits for the engine, which may be at a plan

export interface Kept {
  /** Asks about rows, and says whether they are to be kept. */
  sure: (rows: Row[], about?: { proposed?: Place[]; instead?: Row }) => Promise<boolean>;
  /** The question, where one is open. */
  question: ComponentChildren;
}

export function useQuestion(job: Job): Kept {
  const [open, set] = useState<{ says: string[]; answer: (keep: boolean) => void } | null>(null);
  const [looking, look] = useState(false);
  useEffect(keepFree, []);
  const answered = useRef(new Set<string>()); // nothing is asked twice on one screen
  const sure: Kept["sure"] = async (rows, { proposed = [], instead } = {}) => {
    if (looking || open) return false; // a second tap
    if (!job.sketch) return true;
    const without = asked(job);
    if (instead) without.rows = [...without.rows, { id: "what is replaced", kind: "void", target: instead.id }];
    const late = new Promise<null>((done) => setTimeout(() => done(null), patience));
    look(true);
    const odd = await Promise.race([stage("question", { job: without, rows, proposed }).catch(() => null), late]);
    look(false);
    const says = [...(odd?.problems ?? []), ...(odd?.findings ?? [])].map((f) => f.says).filter((s) => !answered.current.has(s));
    if (!says.length) return true;
    const keep = await new Promise<boolean>((answer) => set({ says, answer }));
    set(null);
    if (keep) says.forEach((s) => answered.current.add(s));
    return keep;
  };
  return {
    sure,
    question: looking ? (
      <p class="hint" role="status">{words.doubt.looking}</p>
    ) : open && (
      <Ask title={words.doubt.isThatSo} no={words.doubt.mend} yes={words.doubt.itIsSo} onNo={() => open.answer(false)} onYes={() => open.answer(true)}>
        {open.says.map((s) => (
          <p key={s}>{s}</p>
        ))}
      </Ask>
    ),
  };
}
