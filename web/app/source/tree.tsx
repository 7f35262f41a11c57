// The dig plan: what is sought, the next hole, and the holes that follow for
// every case, as on paper.
import type { Proposal, SlotEnd, TreeStep } from "./answer";
import type { Believed, Planned } from "./believe";
import { Said } from "./bold";
import { Cautions, Mind } from "./card";
import { useStore } from "./context";
import { First } from "./first";
import { Pick } from "./form";
import { words } from "./language";
import { stillToDig } from "./strip";
import { depth, length, tape, unitOf, type Unit } from "./units";
import { partName, partsOf, percent } from "./words";
import { beforehand, holesOf } from "./steps";

export function DigPlan({ state }: { state: Believed }) {
  const { job, plan } = state;
  const unit = unitOf(job.settings);
  const first = beforehand(plan);
  return (
    <section class="panel" aria-label={words.tree.title}>
      <Seek state={state} />
      {!plan && <p role="status">{job.sketch ? words.tree.soon : words.tree.noSketch}</p>}
      {plan && (
        <>
          <h2>{words.tree.title}</h2>
          <p>
            <Said text={words.tree.toGo(stillToDig(plan))} />
            {plan.remark && ` ${plan.remark}`}
          </p>
          {plan.doubtful && <p class="warning">{words.tree.doubtful(plan.doubtful)}</p>}
          {first && <First step={first} job={job.id} />}
          {plan.tree && steps(plan.tree).map((s) => <Step key={s.label} s={s} unit={unit} />)}
          {!plan.tree && <Row plan={plan} unit={unit} />}
          {!plan.tree && plan.whole === false && <p role="status">{words.tree.after}</p>}
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
  const kinds = [{ id: "box", name: words.tree.seekBox }, { id: "tank", name: words.tree.seekTank }];
  const parts = partsOf(job.sketch, "box", "tank", "lateral", "header", "port");
  const options = [...kinds.filter((k) => parts.some((p) => p.part === k.id)), ...parts.filter((p) => p.id !== "box" && p.id !== "tank").map((p) => ({ id: p.id, name: partName(p.id, p.part) }))];
  const seek = String(job.settings.seek ?? "box");
  if (store.session && store.session.role !== "lead") {
    return (
      <p>
        <Said text={words.tree.soughtLead(options.find((o) => o.id === seek)?.name ?? seek)} />
      </p>
    );
  }
  return <Pick names label={words.tree.sought} value={seek} options={options} onChange={(v) => void store.replace(job.id, "settings", { ...job.settings, seek: v }, words.tree.soughtSaid(options.find((o) => o.id === v)?.name ?? v))} />;
}

/** The steps of a tree in the order of a page: 1, 2A, 2B, 3AA. */
function steps(first: TreeStep): TreeStep[] {
  const out = [first];
  for (const s of out) out.push(...s.branches.flatMap((b) => b.next ?? []));
  return out;
}

/** The tapes that set out a hole or the end of a slot. */
const setOut = (at: Proposal | SlotEnd, unit: Unit): string => words.tree.setOut(tapes(at, unit), at.side ?? "");

const tapes = (at: Proposal | SlotEnd, unit: Unit): string => words.common.and(at.ties.slice(0, 2).map((t) => `${t.from} ${tape(t.distance, unit)}`));

function Step({ s, unit }: { s: TreeStep; unit: Unit }) {
  const h = s.hole;
  return (
    <article class="step" aria-label={words.tree.hole(s.label)}>
      <h3>{words.tree.hole(s.label)}</h3>
      <p>
        <Said text={words.tree.step(setOut(h, unit), h.to ? length(h.to.length, unit) : "", h.to ? setOut(h.to, unit) : "", depth(h.depth, h.depth_sigma, unit), words.parts.toThe(h.depth_to ?? "top"), length(h.stop_depth, unit), h.tool ? (words.parts.tools[h.tool] ?? h.tool) : "")} />
      </p>
      <Mind findings={h.findings} />
      <ul class="branches">
        {s.branches.map((b) => (
          <li key={b.met + b.says}>
            {b.says}
            {b.met !== "sought" && b.parts?.length ? ` (${b.parts.map(words.parts.id).join(", ")})` : ""}, {percent(b.chance)}: <b>{b.next ? words.tree.goTo(b.next.label) : (b.then ?? words.tree.logIt)}</b>
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
          <Said text={words.tree.inRow(tapes(h, unit), percent(h.chance), length(h.stop_depth, unit))} />
          <Mind findings={h.findings} />
        </li>
      ))}
    </ol>
  );
}
