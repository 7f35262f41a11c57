// Readings that do not fit the others, shown at once and plainly, with a way to
// measure them again: what was logged last first.
import { useEffect, useState } from "preact/hooks";
import { live } from "./acts";
import { canChange } from "./again";
import type { Suspect } from "./answer";
import { asked, type Believed } from "./believe";
import { Said } from "./bold";
import { stage } from "./engine";
import type { Job, Row } from "./entry";
import { words } from "./language";
import { notes } from "./notes";
import { to } from "./route";
import { Withdraw } from "./withdraw";
import { rowText } from "./words";

const most = 8; // rows that are logged at one time by hand; more came from a file

/** The rows that were logged last, together. */
export function newest(job: Job): Row[] {
  const rows = live(job.rows);
  const last = rows.reduce((t, r) => ((r.time ?? "") > t ? r.time : t), "");
  const some = last ? rows.filter((r) => r.time === last) : [];
  return some.length <= most ? some : [];
}

/** The last entry, where it spoils the answer, and what stays in doubt without it. */
export interface Blamed {
  rows: Row[];
  still: string[];
}

/** What to look at first while the answer is doubtful: what was logged last, where that is in doubt at all, else what the engine names. */
export function lookFirst({ belief, job }: Believed, blamed: Blamed): Row[] {
  if (blamed.rows.length) return blamed.rows;
  const named = belief?.fit.findings.at(-1)?.readings ?? [];
  const suspects = belief?.fit.suspects.map((s) => s.reading) ?? [];
  const last = newest(job);
  const all = live(job.rows);
  const choices = [last.filter((r) => named.includes(r.id) || suspects.includes(r.id)), all.filter((r) => named.includes(r.id)), all.filter((r) => suspects.includes(r.id))];
  return choices.find((rows) => rows.length) ?? last;
}

export function Doubts({ state, blamed }: { state: Believed; blamed: Blamed }) {
  const { job, belief } = state;
  if (!belief) return null;
  const row = (id: string) => job.rows.find((r) => r.id === id);
  const last = newest(job).map((r) => r.id);
  const late = (id: string) => Number(last.includes(id));
  const suspects = [...(belief.fit.suspects ?? [])].sort((a, b) => late(b.reading) - late(a.reading));
  const levels = belief.levels ?? [];
  const omitted = belief.problems ?? [];
  if (!suspects.length && !levels.length && !omitted.length && !belief.fit.warnings?.length && !blamed.rows.length) return null;
  const [beside, others] = [suspects.filter((s) => blamed.rows.length && !blamed.still.includes(s.reading)), suspects.filter((s) => !blamed.rows.length || blamed.still.includes(s.reading))];
  const list = (some: Suspect[]) => some.map((s) => (
    <Doubt key={s.reading} what={row(s.reading) ? rowText(row(s.reading)!) : words.rows.written(s.reading)} says={s.says}>
      {row(s.reading) && <Mend job={job} row={row(s.reading)!} note={notes.doubt} />}
    </Doubt>
  ));
  return (
    <section class="doubts" aria-label={words.doubt.label} role="status">
      {blamed.rows.length > 0 && (
        <div class="doubt">
          <p>
            <span aria-hidden="true">▲ </span>
            <Said text={words.doubt.newest(others.length > 0)} />
          </p>
          <ul class="places">
            {blamed.rows.map((r) => (
              <li key={r.id}>
                <span>{rowText(r)}</span>
                <span class="row">
                  <Mend job={job} row={r} note={notes.spoils} />
                </span>
              </li>
            ))}
          </ul>
        </div>
      )}
      {list(others)}
      {beside.length > 0 && (
        <details>
          <summary>{words.doubt.beside(beside.length)}</summary>
          {list(beside)}
        </details>
      )}
      {levels.map((l) => (
        <Doubt key={`level ${l.reading}`} what={row(l.reading) ? rowText(row(l.reading)!) : l.what} says={l.says}>
          {row(l.reading) && <Mend job={job} row={row(l.reading)!} note={notes.doubt} />}
        </Doubt>
      ))}
      {omitted.map((o) => (
        <Doubt key={`omitted ${o.says}`} what={row(o.reading ?? "") ? rowText(row(o.reading!)!) : words.doubt.theLog} says={words.doubt.leftOut(o.says)}>
          {row(o.reading ?? "") && <Withdraw job={job} rows={[row(o.reading!)!]} note={notes.unreadable} />}
        </Doubt>
      ))}
      {belief.fit.warnings?.length ? (
        <details>
          <summary>{words.doubt.know(belief.fit.warnings.length)}</summary>
          <ul>
            {belief.fit.warnings.map((w) => (
              <li key={w}>{w}</li>
            ))}
          </ul>
        </details>
      ) : null}
    </section>
  );
}

/**
 * What was logged last, where an older reading or the whole is in doubt and is not
 * without it: one slip must not set the crew on good tapes.
 */
export function useBlamed({ job, belief }: Believed): Blamed {
  const [blamed, blame] = useState<Blamed>({ rows: [], still: [] });
  useEffect(() => {
    blame({ rows: [], still: [] });
    const rows = newest(job);
    const old = (belief?.fit.suspects ?? []).map((s) => s.reading).filter((id) => !rows.some((r) => r.id === id));
    if (!belief || !rows.length || !(belief.fit.doubtful || old.length)) return;
    let stale = false;
    stage("without", { job: asked(job), drop: rows.map((r) => r.id) }).then(
      ({ fit }) => {
        const still = fit.suspects.map((s) => s.reading);
        const cleared = old.some((id) => !still.includes(id));
        if (!stale && !fit.doubtful && (belief.fit.doubtful || cleared)) blame({ rows, still });
      },
      () => {}, // then the suspects stand as they are
    );
    return () => {
      stale = true;
    };
  }, [belief?.fit]);
  return blamed;
}

/** Ways to mend a reading. */
function Mend({ job, row, note }: { job: Job; row: Row; note: string }) {
  const hole = row.kind === "found" || row.kind === "empty";
  return (
    <>
      {canChange(row) && (
        <a class="button" href={to("measure", job.id, row.id)}>
          {hole ? words.common.correctHole : words.common.measureAgain}
        </a>
      )}
      <Withdraw job={job} rows={[row]} note={note} />
    </>
  );
}

function Doubt({ what, says, children }: { what: string; says: string; children?: preact.ComponentChildren }) {
  return (
    <div class="doubt">
      <p>
        <span aria-hidden="true">▲ </span>
        <b>{what}</b>: {says}
      </p>
      <p class="row">{children}</p>
    </div>
  );
}
