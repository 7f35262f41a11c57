// Always in sight under the plan: what is sought, within what radius, how deep,
// and how many holes it may still take.
import { Said } from "./bold";
import { lookFirst, type Blamed } from "./doubt";
import { words } from "./language";
import { partName, places, rowText } from "./words";
import type { Believed } from "./believe";
import type { DigPlan, Sought } from "./answer";
import { Chart } from "./chart";
import { depth, length, type Unit } from "./units";
import { holesOf } from "./steps";

/** Holes still to expect, in words. */
export function stillToDig(plan: DigPlan | null): string {
  if (!plan) return "…";
  if (plan.expected_holes == null) return holesOf(plan).length ? "…" : words.strip.none;
  const n = plan.expected_holes;
  return n < 10 ? words.strip.about(n.toFixed(1)) : words.strip.many;
}

/** How the radius changed with the last reading, before and after. */
export function change(before: Sought | null, now: Sought | null, unit: Unit): string {
  if (!before || !now || before.part !== now.part || before.spot !== now.spot) return "";
  const [a, b] = [length(before.radius95, unit), length(now.radius95, unit)];
  if (a === b) return words.strip.unchanged(b);
  return now.radius95 < before.radius95 ? words.strip.tighter(a, b) : words.strip.wider(a, b);
}

/**
 * The first look at what is sought. It leaves out what only the whole answer weighs,
 * and is often too small: it never says that something is known better than the last
 * whole answer did.
 */
function firstLook({ preview, belief }: Believed): Sought | null {
  const known = belief?.sought;
  if (!preview || !known || preview.part !== known.part || preview.spot !== known.spot) return preview;
  return { ...preview, radius95: Math.max(preview.radius95, known.radius95) };
}

/** What is sought now: as known, or at a first look. */
const soughtNow = (state: Believed): Sought | null => firstLook(state) ?? state.belief?.sought ?? null;

/** The four facts: they never scroll out of sight. */
export function Strip({ state, unit }: { state: Believed; unit: Unit }) {
  const s = soughtNow(state);
  // A first look is marked as one.
  const about = state.preview ? "≈ " : "";
  return (
    <section class="strip" aria-label={words.strip.label} aria-live="polite" aria-busy={state.busy}>
      {s ? (
        <dl class="facts">
          <div class="fact">
            <dt>{words.strip.sought}</dt>
            <dd>{partName(s.part, s.kind)}</dd>
          </div>
          <div class="fact">
            <dt>{words.strip.within}</dt>
            <dd data-radius={s.radius95}>{about}{length(s.radius95, unit)}</dd>
          </div>
          <div class="fact">
            <dt>{words.strip.depth}</dt>
            <dd>{about}{depth(s.depth, s.depth_sigma, unit)}</dd>
          </div>
          <div class="fact">
            <dt>{words.strip.toGo}</dt>
            <dd>{state.belief?.fit.doubtful ? words.units.unknown : s.state === "seen" ? words.strip.seen : state.busy ? "…" : stillToDig(state.plan)}</dd>
          </div>
        </dl>
      ) : (
        <p>{state.busy ? words.common.working : words.strip.nowhere}</p>
      )}
    </section>
  );
}

/** What there is to say about the facts: whether to trust them, and how they changed. */
export function About({ state, blamed, unit }: { state: Believed; blamed: Blamed; unit: Unit }) {
  const s = soughtNow(state);
  // A first look is not set beside what was known for sure.
  const was = state.preview ? "" : change(state.before, s, unit);
  const doubtful = state.belief?.fit.doubtful;
  const look = doubtful ? lookFirst(state, blamed) : [];
  const apart = state.preview ? "" : places(state.belief?.spots.find((t) => t.part === s?.part && t.spot === s.spot)?.lobes);
  return (
    <div class="about" aria-live="polite">
      {doubtful && (
        <p class="warning">
          {look.length ? words.strip.lookFirst(look.map(rowText).join("; ")) : words.strip.doubtful(doubtful)}
        </p>
      )}
      {apart && <p class="change">{apart}</p>}
      <div class="stripline">
        {s && state.busy && <p class="hint">{state.preview ? words.strip.firstLook : words.strip.being}</p>}
        {was && (
          <p class="change">
            <Said text={words.strip.last(was)} />
          </p>
        )}
        {(state.belief?.history?.length ?? 0) > 1 && <Chart steps={state.belief!.history!} unit={unit} />}
      </div>
    </div>
  );
}
