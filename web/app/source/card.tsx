// What a tap on the plan shows: a part, a hole, or the hole to dig next.
import { useEffect, useRef } from "preact/hooks";
import { safety, type Belief, type DigPlan, type Finding, type Proposal } from "./answer";
import { depth, length, tape, type Unit } from "./units";
import { depthTo, partName, percent, places, radius, rowText, spotName, states } from "./words";
import { live } from "./acts";
import type { Job, Row } from "./entry";
import { Photos } from "./photos";
import { to } from "./route";
import { holesOf } from "./steps";

export function Card({ what, job, belief, plan, unit, close }: {
  what: string;
  job: Job;
  belief: Belief;
  plan: DigPlan | null;
  unit: Unit;
  close: () => void;
}) {
  const [next] = holesOf(plan);
  const hole = what.startsWith("hole ") ? what.slice(5) : "";
  const at = useRef<HTMLElement>(null);
  // Its heading first, however long it is.
  useEffect(() => (at.current!.focus({ preventScroll: true }), at.current!.scrollIntoView()), [what]);
  return (
    <section class="card" aria-label="About what was tapped" tabIndex={-1} ref={at}>
      <button type="button" class="close" aria-label="Close" onClick={close}>
        ✕
      </button>
      {what === "next" ? next && <Next p={next} unit={unit} job={job.id} /> : hole ? <Dug name={hole} job={job} belief={belief} unit={unit} /> : <Part id={what} job={job} belief={belief} unit={unit} />}
    </section>
  );
}

/** The hole to dig next: how to set it out, how deep, when to stop. */
export function Next({ p, unit, job }: { p: Proposal; unit: Unit; job: string }) {
  return (
    <>
      <h2>Next hole</h2>
      <p>
        Set out with two tapes: <b>{p.ties.slice(0, 2).map((t) => `${t.from} ${tape(t.distance, unit)}`).join(" and ")}</b>
        {p.side ? `, ${p.side}` : ""}
        {p.ties[2] ? `. Check: ${p.ties[2].from} ${tape(p.ties[2].distance, unit)}` : ""}.
      </p>
      <p>
        {Math.round(100 * p.chance)} % chance of meeting what is sought. May meet {p.seeks.map((id) => (p.meets?.[id] === undefined ? id : `${id} (${percent(p.meets[id])})`)).join(", ")}. Expected {depth(p.depth, p.depth_sigma, unit)} deep
        {p.depth_to ? ` to the ${depthTo[p.depth_to] ?? p.depth_to}` : ""}; call it empty at {length(p.stop_depth, unit)}.
      </p>
      <Cautions list={cautionsOf(p)} />
      <p class="row">
        <a class="button" href={to("guide", job)}>
          Guide me there
        </a>
      </p>
    </>
  );
}

/** The cautions of a hole, without the side of the tapes, which is shown beside them. */
export const cautionsOf = (p: Proposal) => p.findings.filter((f) => f.code !== "on-side").map((f) => f.says);

/** What to watch for at a hole of the plan, without its side and the far end of a slot, which are shown with the tapes. */
export function Mind({ findings }: { findings: Finding[] }) {
  const list = findings.filter((f) => !["on-side", "slot-end"].includes(f.code));
  return list.length ? (
    <ul class="cautions">
      {list.map((f) => (
        <li key={f.code + f.says}>{f.says}</li>
      ))}
    </ul>
  ) : null;
}

/** The cautions that are shown beside every depth and every hole. */
export function Cautions({ list = [] }: { list?: string[] }) {
  return (
    <ul class="cautions">
      {list.map((c) => (
        <li key={c}>{c}</li>
      ))}
      <li>{safety}</li>
    </ul>
  );
}

function Part({ id, job, belief, unit }: { id: string; job: Job; belief: Belief; unit: Unit }) {
  const spots = belief.spots.filter((s) => s.part === id);
  const outline = belief.outlines.find((o) => o.part === id);
  const kind = spots[0]?.kind ?? outline?.kind ?? "";
  const touching = live(job.rows).filter((r) => [r.target, r.from, r.to, r.point].includes(id));
  const written = job.sketch?.features.find((f) => String(f.id) === id)?.properties ?? {};
  const says = ["length", "cover", "width", "bed", "grade"].filter((k) => written[k]).map((k) => `${k} ${String(written[k])}`);
  const ties = (written.ties as { from: string; distance: string }[] | undefined)?.map((t) => `${t.from} ${t.distance}`) ?? [];
  return (
    <>
      <h2>{partName(id, kind)}{outline?.name ? `: ${outline.name}` : ""}</h2>
      {spots.map((s) => (
        <div class="spot" key={s.spot}>
          {spots.length > 1 && <h3>{spotName(s)}</h3>}
          <p>
            <b>{states[s.state]}</b>. Within {length(radius(s), unit)} (95 %)
            {s.depth != null && `, ${depth(s.depth, s.depth_sigma, unit)} deep to the ${depthTo[s.depth_to ?? "top"]}`}.
            {places(s.lobes) && ` ${places(s.lobes)}`}
          </p>
        </div>
      ))}
      {!spots.length && outline?.clearance ? <p>No hole is proposed within {length(outline.clearance, unit)} of it.</p> : null}
      <h3>What it rests on</h3>
      <ul>
        {touching.map((r) => (
          <li key={r.id}>{rowText(r)} <Seen job={job} row={r} /></li>
        ))}
        {(says.length > 0 || ties.length > 0) && <li>written on the sketch: {[...says, ...ties.map((t) => `tie ${t}`)].join(", ")}</li>}
        <li>its place on the sketch, fitted to {belief.fit.readings} readings and written lengths together</li>
      </ul>
      <p class="row">
        <NoteOn job={job} id={id} />
      </p>
    </>
  );
}

/** The photos of a note. */
const Seen = ({ job, row }: { job: Job; row: Row }) => (row.kind === "condition" ? <Photos job={job} reading={row} /> : null);

/** Leads to a note on a part or a point. */
const NoteOn = ({ job, id }: { job: Job; id: string }) => (
  <a class="button" href={to("measure", job.id, `note ${id}`)} aria-label={`Note or photos: ${id}`}>
    Note, photos
  </a>
);

function Dug({ name, job, belief, unit }: { name: string; job: Job; belief: Belief; unit: Unit }) {
  const h = belief.holes.find((h) => h.id === name);
  const rows = live(job.rows).filter((r) => r.point === name || r.to === name || r.from === name || (r.kind === "condition" && r.target === name));
  const met = rows.filter((r) => r.point === name && (r.kind === "found" || r.kind === "empty"));
  if (!h) return null;
  return (
    <>
      <h2>{h.result === "none" ? `Point ${name}` : `Hole ${name}`}</h2>
      <p>
        {h.result === "found" ? `Met ${h.target}` : h.result === "empty" ? "Met nothing" : "Not dug"}
        {h.depth != null ? ` ${h.result === "found" ? "at" : "down to"} ${length(h.depth, unit)}` : ""}. Its place is known within {length(h.radius95, unit)} (95 %).
      </p>
      <ul>
        {rows.map((r) => (
          <li key={r.id}>
            {rowText(r)} {r.by ? `(${r.by})` : ""} <Seen job={job} row={r} />
          </li>
        ))}
      </ul>
      <p class="row">
        {met.map((r) => (
          <a class="button" key={r.id} href={to("measure", job.id, r.id)}>
            {met.length > 1 ? `Correct: ${rowText(r)}` : "Correct or withdraw"}
          </a>
        ))}
        <a class={met.length ? "plain" : "button"} href={to("readings", job.id, name)}>
          Its readings
        </a>
        <NoteOn job={job} id={name} />
      </p>
    </>
  );
}
