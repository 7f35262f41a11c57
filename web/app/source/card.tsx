// What a tap on the plan shows: a part, a hole, or the hole to dig next.
import { useEffect, useRef } from "preact/hooks";
import type { Belief, DigPlan, Finding, Proposal, Spot } from "./answer";
import { bold, Said } from "./bold";
import { words } from "./language";
import { who } from "./notes";
import { depth, length, tape, type Unit } from "./units";
import { partName, percent, places, radius, rowText, spotName } from "./words";
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
    <section class="card" aria-label={words.card.label} tabIndex={-1} ref={at}>
      <button type="button" class="close" aria-label={words.common.close} onClick={close}>
        ✕
      </button>
      {what === "next" ? next && <Next p={next} unit={unit} job={job.id} /> : hole ? <Dug name={hole} job={job} belief={belief} unit={unit} /> : <Part id={what} job={job} belief={belief} unit={unit} />}
    </section>
  );
}

/** The hole to dig next: how to set it out, how deep, when to stop. */
export function Next({ p, unit, job }: { p: Proposal; unit: Unit; job: string }) {
  const tapes = p.ties.map((t) => `${t.from} ${tape(t.distance, unit)}`);
  const meets = p.seeks.map((id) => (p.meets?.[id] === undefined ? words.parts.id(id) : `${words.parts.id(id)} (${percent(p.meets[id])})`));
  return (
    <>
      <h2>{words.card.next}</h2>
      <p>
        <Said text={words.card.setOut(bold(words.common.and(tapes.slice(0, 2))), p.side ?? "", tapes[2] ?? "")} />
      </p>
      <p>{words.card.chance(Math.round(100 * p.chance), meets.join(", "), depth(p.depth, p.depth_sigma, unit), p.depth_to ? ` ${words.parts.toThe(p.depth_to)}` : "", length(p.stop_depth, unit))}</p>
      <Cautions list={cautionsOf(p)} />
      <p class="row">
        <a class="button" href={to("guide", job)}>
          {words.card.guide}
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
      <li>{words.common.safety}</li>
    </ul>
  );
}

function Part({ id, job, belief, unit }: { id: string; job: Job; belief: Belief; unit: Unit }) {
  const spots = belief.spots.filter((s) => s.part === id);
  const outline = belief.outlines.find((o) => o.part === id);
  const kind = spots[0]?.kind ?? outline?.kind ?? "";
  const touching = live(job.rows).filter((r) => [r.target, r.from, r.to, r.point].includes(id));
  const written = job.sketch?.features.find((f) => String(f.id) === id)?.properties ?? {};
  const says = ["length", "cover", "width", "bed", "grade"].filter((k) => written[k]).map((k) => `${words.parts.written[k]} ${words.parts.beds[String(written[k])] ?? String(written[k])}`);
  const ties = (written.ties as { from: string; distance: string }[] | undefined)?.map((t) => `${t.from} ${t.distance}`) ?? [];
  return (
    <>
      <h2>{partName(id, kind)}{outline?.name ? `: ${outline.name}` : ""}</h2>
      {spots.map((s) => (
        <div class="spot" key={s.spot}>
          {spots.length > 1 && <h3>{spotName(s)}</h3>}
          <p>
            <Said text={stands(s, unit)} />
            {places(s.lobes) && ` ${places(s.lobes)}`}
          </p>
        </div>
      ))}
      {!spots.length && outline?.clearance ? <p>{words.card.clear(length(outline.clearance, unit))}</p> : null}
      <h3>{words.card.restsOn}</h3>
      <ul>
        {touching.map((r) => (
          <li key={r.id}>{rowText(r)} <Seen job={job} row={r} /></li>
        ))}
        {(says.length > 0 || ties.length > 0) && <li>{words.card.written([...says, ...ties.map(words.card.tie)].join(", "))}</li>}
        <li>{words.card.fitted(belief.fit.readings)}</li>
      </ul>
      <p class="row">
        <NoteOn job={job} id={id} />
      </p>
    </>
  );
}

/** How sure a spot is, and how deep it lies. */
function stands(s: Spot, unit: Unit): string {
  const [state, within] = [bold(words.parts.states[s.state]), length(radius(s), unit)];
  return s.depth == null ? words.card.stands(state, within) : words.card.standsDeep(state, within, depth(s.depth, s.depth_sigma, unit), words.parts.toThe(s.depth_to ?? "top"));
}

/** The photos of a note. */
const Seen = ({ job, row }: { job: Job; row: Row }) => (row.kind === "condition" ? <Photos job={job} reading={row} /> : null);

/** Leads to a note on a part or a point. */
const NoteOn = ({ job, id }: { job: Job; id: string }) => (
  <a class="button" href={to("measure", job.id, `note ${id}`)} aria-label={words.card.noteOn(id)}>
    {words.common.notePhotos}
  </a>
);

function Dug({ name, job, belief, unit }: { name: string; job: Job; belief: Belief; unit: Unit }) {
  const h = belief.holes.find((h) => h.id === name);
  const rows = live(job.rows).filter((r) => r.point === name || r.to === name || r.from === name || (r.kind === "condition" && r.target === name));
  const met = rows.filter((r) => r.point === name && (r.kind === "found" || r.kind === "empty"));
  if (!h) return null;
  const [deep, within] = [h.depth != null ? length(h.depth, unit) : "", length(h.radius95, unit)];
  return (
    <>
      <h2>{h.result === "none" ? words.card.point(name) : words.card.hole(name)}</h2>
      <p>
        {h.result === "found" ? words.card.met(h.target ?? "", deep, within) : h.result === "empty" ? words.card.empty(deep, within) : words.card.undug(deep, within)}
      </p>
      <ul>
        {rows.map((r) => (
          <li key={r.id}>
            {rowText(r)} {r.by ? `(${who(r.by)})` : ""} <Seen job={job} row={r} />
          </li>
        ))}
      </ul>
      <p class="row">
        {met.map((r) => (
          <a class="button" key={r.id} href={to("measure", job.id, r.id)}>
            {met.length > 1 ? words.common.correctThis(rowText(r)) : words.card.correct}
          </a>
        ))}
        <a class={met.length ? "plain" : "button"} href={to("readings", job.id, name)}>
          {words.card.readings}
        </a>
        <NoteOn job={job} id={name} />
      </p>
    </>
  );
}
