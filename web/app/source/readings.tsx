// The field log as a table, with how each reading agrees with all the others.
import { canChange } from "./again";
import type { Believed } from "./believe";
import { useStore } from "./context";
import { voided, type Entry, type Row } from "./entry";
import { words } from "./language";
import { noteText, who } from "./notes";
import { Photos } from "./photos";
import { go } from "./route";
import { length, unitOf } from "./units";
import { Restore, Withdraw, Withdrawn } from "./withdraw";
import { rowText, when } from "./words";

export function Readings({ state, about = "" }: { state: Believed; about?: string }) {
  const store = useStore();
  const { job, belief } = state;
  const unit = unitOf(job.settings);
  const gone = voided(job.rows);
  const residual = new Map((belief?.fit.residuals ?? []).map((r) => [r.reading, r]));
  const suspect = new Map((belief?.fit.suspects ?? []).map((s) => [s.reading, s.says]));
  const rows = job.rows.filter((r) => r.kind !== "void" && (!about || [r.point, r.from, r.to, r.target].includes(about)));
  const off = (r: Row) => {
    const x = residual.get(r.id);
    if (!x || x.residual == null) return "";
    return x.unit === "deg" ? `${x.residual.toFixed(1)}°` : (x.residual > 0 ? "+" : "") + length(x.residual, unit);
  };
  const from = store.origins(job.id);
  const last = store.undoable(job.id).at(-1);
  return (
    <section class="panel" aria-label={words.readings.title}>
      <h2>{about ? words.readings.about(about) : words.readings.title}</h2>
      {last && store.last?.job !== job.id && (
        <p class="row">
          <span>{words.readings.last(last.says)}</span>
          <button type="button" class="button" onClick={() => store.undo(job.id)}>
            {words.common.undo}
          </button>
        </p>
      )}
      <div class="tablebox" tabIndex={0} role="region" aria-label={words.readings.table}>
        <table>
          <thead>
            <tr>
              <th scope="col">{words.readings.reading}</th>
              <th scope="col" title={words.readings.observed}>{words.readings.offBy}</th>
              <th scope="col" title={words.readings.ratio}>w</th>
              <th scope="col">{words.readings.do}</th>
            </tr>
          </thead>
          <tbody>
            {rows.map((r) => (
              <tr key={r.id} class={gone.has(r.id) ? "gone" : suspect.has(r.id) ? "suspect" : ""}>
                <th scope="row">
                  <small>{r.id.length > 12 ? `…${r.id.slice(-5)}` : r.id}</small> {rowText(r)} {r.by && <small>({who(r.by)})</small>}
                  <Sent row={r} entry={from.get(r.id)} />
                  {r.note && r.kind !== "condition" && <small class="note">{noteText(r.note)}</small>}
                  {r.kind === "condition" && <Photos job={job} reading={r} />}
                  {suspect.has(r.id) && <small class="note">▲ {suspect.get(r.id)}</small>}
                  {gone.has(r.id) && <Withdrawn job={job} row={r} />}
                </th>
                <td class="number">{off(r)}</td>
                <td class="number">{residual.get(r.id)?.w?.toFixed(1) ?? ""}</td>
                <td class="do">
                  <span class="pair">
                    {gone.has(r.id) ? (
                      <Restore job={job} row={r} />
                    ) : (
                      <>
                        {canChange(r) && <Change job={job.id} row={r} />}
                        <Withdraw job={job} rows={[r]} label={words.withdraw.lower} about={rowText(r)} />
                      </>
                    )}
                  </span>
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      {rows.length === 0 && <p>{words.readings.none}</p>}
      <p class="hint">{words.readings.hint}</p>
    </section>
  );
}

/** What the server says of a reading where it differs from what its phone says: which device sent it, and when it came. */
function Sent({ row, entry }: { row: Row; entry: Entry | undefined }) {
  if (!entry?.arrived) return null;
  const by = entry.sender && entry.sender !== (row.by || entry.by) ? words.readings.sentBy(entry.sender) : "";
  const late = Math.abs(Date.parse(entry.arrived) - Date.parse(row.time || entry.at)) > 86_400_000 ? words.readings.arrived(when(entry.arrived)) : "";
  return by || late ? <small class="note">{[by, late].filter(Boolean).join(", ")}</small> : null;
}

/** Leads to where a reading is measured again or, of a hole, corrected. */
function Change({ job, row }: { job: string; row: Row }) {
  const hole = row.kind === "found" || row.kind === "empty";
  return (
    <button type="button" class="plain" aria-label={(hole ? words.common.correctThis : words.common.measureThisAgain)(rowText(row))} onClick={() => go("measure", job, row.id)}>
      {hole ? words.readings.correct : words.readings.again}
    </button>
  );
}
