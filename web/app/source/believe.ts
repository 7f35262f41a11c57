// What is believed of the open job: requested from the engine after each entry,
// stored for the next start, together with what it was before the last reading.
import { useEffect, useMemo, useRef, useState } from "preact/hooks";
import type { Belief, DigPlan, Plan, Sought } from "./answer";
import { language, words } from "./language";
import type { Store } from "./store";
import { here, Refusal, spare, stage, start } from "./engine";
import { live } from "./acts";
import { finds } from "./found";
import type { Job } from "./entry";

/** A plan, step by step from the engine here or at once from the server. */
export type Planned = DigPlan & Partial<Pick<Plan, "whole">>;

export interface Believed {
  job: Job;
  belief: Belief | null;
  plan: Planned | null;
  /** The sought part before the readings that came last. */
  before: Sought | null;
  /** The engine is working on newer readings than those shown; once the next
   * hole is shown too, the plan completes by itself. */
  busy: boolean;
  /** A first look at what is sought with all readings, while the belief is worked out. */
  preview: Sought | null;
  /** Why there is no belief, a line each. */
  wrong: string[];
  /** Milliseconds that the last answer took. */
  took: number;
}

/** The request of a stage. */
export const asked = (job: Job) => ({ sketch: job.sketch, settings: job.settings, rows: job.rows, files: job.files.map((f) => f.name) });

/** Under what a belief is kept: its sentences are in one language. */
const keptAs = (id: string) => `belief ${id}${language === "en" ? "" : ` ${language}`}`;

// Notes, and pictures under the plan, tell nothing of where things lie.
const count = (job: Job) => live(job.rows).filter((r) => r.kind !== "condition").length;

/** The belief of a job, kept up with its entries. */
export function useBelief(store: Store, id: string): Believed | null {
  const job = store.job(id);
  const [state, set] = useState<Believed | null>(null);
  const shown = useRef<{ job: Job; belief: Belief } | null>(null);

  useEffect(() => {
    shown.current = null;
    set(null);
    store.db.get("words", keptAs(id)).then((kept) => {
      if (kept && !shown.current) set((s) => s ?? { ...(kept as Believed), job: store.job(id)!, before: null, busy: true, preview: null, wrong: [] });
    });
  }, [id]);

  useEffect(() => {
    if (!job?.sketch) {
      set(job && { job, belief: null, plan: null, before: null, busy: false, preview: null, wrong: [], took: 0 });
      return;
    }
    let stale = false;
    set((s) => s && { ...s, job, busy: true });
    (async () => {
      const asking = performance.now();
      try {
        const question = { job: asked(job) };
        const old = shown.current;
        const before = old && count(old.job) !== count(job) ? old.belief.sought : null;
        // A first look comes before the slow steps, except where the server does
        // the work. At the start it has nothing to begin from: what was stored is
        // better, and the request only warms the engine up.
        await start();
        if (here()) {
          const { sought } = await stage("preview", question);
          if (stale) return;
          set((s) => {
            if (!s) return { job, belief: null, plan: null, before: null, busy: true, preview: sought, wrong: [], took: 0 };
            return old || !s.belief ? { ...s, before: before ?? s.before, preview: sought } : s;
          });
        }
        const belief = await stage("belief", question);
        if (stale) return;
        const took = performance.now() - asking;
        const history = old?.belief.history;
        shown.current = { job, belief: { ...belief, history } };
        void store.db.put("words", !!belief.fit.doubtful, `doubt ${id}`); // for the list of jobs
        set((s) => ({ job, belief: { ...belief, history }, plan: s?.plan ?? null, before: before ?? s?.before ?? null, busy: true, preview: null, wrong: [], took }));
        // The place first, then where to dig, then the rest step by step, with
        // a check in between for new entries. The engine here caches its
        // results; a server does not, and is asked for everything at once.
        let full = belief;
        let plan = null as Planned | null;
        const dig = async () => {
          plan = await stage("plan", { ...question, brief: true });
          if (!stale) set((s) => s && { ...s, plan, busy: false });
        };
        if (here()) await dig();
        do {
          if (here()) await spare();
          if (stale) return;
          full = await stage("belief", { ...question, with: here() ? ["history"] : ["history", "plan"], brief: true });
        } while (!full.whole);
        if (stale) return;
        shown.current = { job, belief: full };
        set((s) => s && { ...s, belief: full });
        plan = full.plan ?? plan;
        while (!full.plan && !plan?.whole) {
          if (here()) await spare();
          if (stale) return;
          await dig();
          if (stale) return;
        }
        set((s) => s && { ...s, plan, busy: false });
        await store.db.put("words", { belief: full, plan, took }, keptAs(id));
      } catch (e) {
        if (stale) return;
        const problems = e instanceof Refusal ? e.problems : [];
        const wrong = [(e as Error).message, ...problems.map((p) => p.says)];
        set((s) => ({ job, belief: s?.belief ?? null, plan: s?.plan ?? null, before: null, busy: false, preview: null, wrong, took: 0 }));
      }
    })();
    return () => {
      stale = true;
    };
  }, [job]);

  return useMemo(() => state && trusted(state), [state]);
}

/** The same without a hole to dig while the answer is not to be trusted, as on paper. */
function trusted(s: Believed): Believed {
  // A hole that was proposed before the find is not asked for while the plan is made anew.
  if (s.plan && s.busy && finds(s).length) return { ...s, plan: { ...s.plan, holes: [], tree: undefined } };
  if (!s.plan || !(s.belief?.fit.doubtful || s.plan.doubtful)) return s;
  const remark = words.plan.notTrusted;
  return { ...s, plan: { ...s.plan, holes: [], tree: undefined, expected_holes: null, remark } };
}
