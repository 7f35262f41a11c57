// The dig plan: what is sought, the next hole, and the holes that follow for
// every case, as on paper.
import type { Proposal, SlotEnd, TreeStep } from "./answer";
import type { Believed, Planned } from "./believe";
import { Cautions, Mind } from "./card";
import { useStore } from "./context";
import { First } from "./first";
import { Pick } from "./form";
import { stillToDig } from "./strip";
import { depth, length, tape, unitOf, type Unit } from "./units";
import { depthTo, partName, partsOf, percent } from "./words";
import { beforehand, holesOf } from "./steps";

export function DigPlan({ state }: { state: Believed }) {
  const { job, plan } = state;
  const unit = unitOf(job.settings);
  const first = beforehand(plan);
  return (
    <section class="panel" aria-label="Dig plan">
      <Seek state={state} />
      {!plan && <p role="status">{job.sketch ? "The plan is being worked out …" : "A plan needs a sketch first."}</p>}
      {plan && (
        <>
          <h2>Dig plan</h2>
          <p>
            Holes to go: <b>{stillToDig(plan)}</b>.{plan.remark && ` ${plan.remark}`}
          </p>
          {plan.doubtful && <p class="warning">▲ Not to be trusted as it stands: {plan.doubtful}</p>}
          {first && <First step={first} job={job.id} />}
          {plan.tree && steps(plan.tree).map((s) => <Step key={s.label} s={s} unit={unit} />)}
          {!plan.tree && <Row plan={plan} unit={unit} />}
          {!plan.tree && plan.whole === false && <p role="status">What to do after it is being worked out …</p>}
          <Cautions list={plan.cautions} />
        </>
      )}
    </section>
  );
}

/** What is sought; the lead, or someone who works alone, may change it. */
function Seek({ state }: { state: Believed }) {
  const store = useStore();
  const { job } = state;
  const kinds = [{ id: "box", name: "the box" }, { id: "tank", name: "the tank" }];
  const parts = partsOf(job.sketch, "box", "tank", "lateral", "header", "port");
  const options = [...kinds.filter((k) => parts.some((p) => p.part === k.id)), ...parts.filter((p) => p.id !== "box" && p.id !== "tank").map((p) => ({ id: p.id, name: partName(p.id, p.part) }))];
  const seek = String(job.settings.seek ?? "box");
  if (store.session && store.session.role !== "lead") {
    return (
      <p>
        Sought: <b>{options.find((o) => o.id === seek)?.name ?? seek}</b>. The lead may change it.
      </p>
    );
  }
  return <Pick names label="Sought" value={seek} options={options} onChange={(v) => void store.replace(job.id, "settings", { ...job.settings, seek: v }, `sought: ${options.find((o) => o.id === v)?.name ?? v}`)} />;
}

/** The steps of a tree in the order of a page: 1, 2A, 2B, 3AA. */
function steps(first: TreeStep): TreeStep[] {
  const out = [first];
  for (const s of out) out.push(...s.branches.flatMap((b) => b.next ?? []));
  return out;
}

/** The tapes that set out a hole or the end of a slot. */
function SetOut({ at, unit }: { at: Proposal | SlotEnd; unit: Unit }) {
  return (
    <>
      <b>{at.ties.slice(0, 2).map((t) => `${t.from} ${tape(t.distance, unit)}`).join(" and ")}</b>
      {at.side && `, ${at.side}`}
    </>
  );
}

function Step({ s, unit }: { s: TreeStep; unit: Unit }) {
  const h = s.hole;
  return (
    <article class="step" aria-label={`Hole ${s.label}`}>
      <h3>Hole {s.label}</h3>
      <p>
        <SetOut at={h} unit={unit} />.{" "}
        {h.to && <>A slot {length(h.to.length, unit)} long from there to <SetOut at={h.to} unit={unit} />. </>}
        Expected {depth(h.depth, h.depth_sigma, unit)} to the {depthTo[h.depth_to ?? "top"] ?? h.depth_to}; empty at {length(h.stop_depth, unit)}.
        {h.tool && ` By ${h.tool}.`}
      </p>
      <Mind findings={h.findings} />
      <ul class="branches">
        {s.branches.map((b) => (
          <li key={b.met + b.says}>
            {b.says}
            {b.met !== "sought" && b.parts?.length ? ` (${b.parts.join(", ")})` : ""}, {percent(b.chance)}: <b>{b.next ? `go to hole ${b.next.label}` : (b.then ?? "log it; a new plan follows")}</b>
          </li>
        ))}
      </ul>
    </article>
  );
}

/** A plan without a tree: one hole after another until one meets it. */
function Row({ plan, unit }: { plan: Planned; unit: Unit }) {
  return (
    <ol class="branches">
      {holesOf(plan).map((h) => (
        <li key={h.rank}>
          <b>{h.ties.slice(0, 2).map((t) => `${t.from} ${tape(t.distance, unit)}`).join(" and ")}</b>, {percent(h.chance)}, empty at {length(h.stop_depth, unit)}
          <Mind findings={h.findings} />
        </li>
      ))}
    </ol>
  );
}
