// Readings that do not fit the others, shown at once and plainly, with a way to
// measure them again.
import type { Believed } from "./believe";
import { go } from "./route";
import { Withdraw } from "./withdraw";
import { rowText } from "./words";

export function Doubts({ state }: { state: Believed }) {
  const { job, belief } = state;
  if (!belief) return null;
  const row = (id: string) => job.rows.find((r) => r.id === id);
  const suspects = belief.fit.suspects ?? [];
  const levels = belief.levels ?? [];
  const omitted = belief.problems ?? [];
  if (!suspects.length && !levels.length && !omitted.length && !belief.fit.warnings?.length) return null;
  return (
    <section class="doubts" aria-label="Readings in doubt" role="status">
      {suspects.map((s) => (
        <Doubt key={s.reading} what={row(s.reading) ? rowText(row(s.reading)!) : `written on the sketch: ${s.reading}`} says={s.says}>
          {row(s.reading) && (
            <>
              <button type="button" class="button" onClick={() => go("measure", job.id, s.reading)}>
                Measure again
              </button>
              <Withdraw job={job} rows={[row(s.reading)!]} note={`in doubt: ${s.says}`} />
            </>
          )}
        </Doubt>
      ))}
      {levels.map((l) => (
        <Doubt key={`level ${l.reading}`} what={row(l.reading) ? rowText(row(l.reading)!) : l.what} says={l.says}>
          <button type="button" class="button" onClick={() => go("measure", job.id, l.reading)}>
            Measure again
          </button>
        </Doubt>
      ))}
      {omitted.map((o) => (
        <Doubt key={`omitted ${o.says}`} what={row(o.reading ?? "") ? rowText(row(o.reading!)!) : "The log"} says={`left out: ${o.says}`}>
          {row(o.reading ?? "") && <Withdraw job={job} rows={[row(o.reading!)!]} note="could not be read" />}
        </Doubt>
      ))}
      {belief.fit.warnings?.length ? (
        <details>
          <summary>Know this ({belief.fit.warnings.length})</summary>
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
