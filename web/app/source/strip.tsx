// Always in sight under the plan: what is sought, within what radius, how deep,
// and how many holes it may still take.
import { partName, places } from "./words";
import type { Believed } from "./believe";
import type { DigPlan, Sought } from "./answer";
import { Chart } from "./chart";
import { depth, length, type Unit } from "./units";
import { holesOf } from "./steps";

/** Holes still to expect, in words. */
export function stillToDig(plan: DigPlan | null): string {
  if (!plan) return "…";
  if (plan.expected_holes == null) return holesOf(plan).length ? "…" : "none to propose";
  const n = plan.expected_holes;
  return n < 10 ? `about ${n.toFixed(1)}` : "10 or more";
}

/** How the radius changed with the last reading, before and after. */
export function change(before: Sought | null, now: Sought | null, unit: Unit): string {
  if (!before || !now || before.part !== now.part) return "";
  const [a, b] = [length(before.radius95, unit), length(now.radius95, unit)];
  if (a === b) return `unchanged at ${b}`;
  return `${a} → ${b}, ${now.radius95 < before.radius95 ? "tighter" : "wider"}`;
}

export function Strip({ state, unit }: { state: Believed; unit: Unit }) {
  // A first look is marked as one: it may still change in the last digits.
  const s = state.preview ?? state.belief?.sought ?? null;
  const about = state.preview ? "≈ " : "";
  const was = change(state.before, s, unit);
  const doubtful = state.belief?.fit.doubtful;
  const apart = state.preview ? "" : places(state.belief?.spots.find((t) => t.part === s?.part && t.spot === s.spot)?.lobes);
  return (
    <section class="strip" aria-label="What is sought" aria-live="polite" aria-busy={state.busy}>
      {s ? (
        <dl class="facts">
          <div class="fact">
            <dt>Sought</dt>
            <dd>{partName(s.part, s.kind)}</dd>
          </div>
          <div class="fact">
            <dt>Within (95 %)</dt>
            <dd data-radius={s.radius95}>{about}{length(s.radius95, unit)}</dd>
          </div>
          <div class="fact">
            <dt>Depth</dt>
            <dd>{about}{depth(s.depth, s.depth_sigma, unit)}</dd>
          </div>
          <div class="fact">
            <dt>Holes to go</dt>
            <dd>{s.state === "seen" ? "none: seen" : state.busy ? "…" : stillToDig(state.plan)}</dd>
          </div>
        </dl>
      ) : (
        <p>{state.busy ? "Working it out …" : "Nothing says where the sought part lies."}</p>
      )}
      {apart && <p class="change">{apart}</p>}
      <div class="stripline">
        {s && state.busy && <p class="hint">{state.preview ? "First look; the whole is being worked out …" : "Being worked out …"}</p>}
        {was && (
          <p class="change">
            <b>Last reading:</b> {was}
          </p>
        )}
        {(state.belief?.history?.length ?? 0) > 1 && <Chart steps={state.belief!.history!} unit={unit} />}
      </div>
      {doubtful && <p class="warning">▲ Not to be trusted as it stands: {doubtful}</p>}
    </section>
  );
}
