// The field log as a table, with how each reading agrees with all the others.
import type { Believed } from "./believe";
import { useStore } from "./context";
import { voided, type Row } from "./entry";
import { Photos } from "./photos";
import { go } from "./route";
import { length, unitOf } from "./units";
import { rowText } from "./words";

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
  return (
    <section class="panel" aria-label="Readings">
      <h2>Readings{about ? ` about ${about}` : ""}</h2>
      <div class="tablebox" tabIndex={0} role="region" aria-label="Table of readings">
        <table>
          <thead>
            <tr>
              <th scope="col">Reading</th>
              <th scope="col" title="observed less fitted">Off by</th>
              <th scope="col" title="residual over its own standard deviation">w</th>
              <th scope="col">Do</th>
            </tr>
          </thead>
          <tbody>
            {rows.map((r) => (
              <tr key={r.id} class={gone.has(r.id) ? "gone" : suspect.has(r.id) ? "suspect" : ""}>
                <th scope="row">
                  <small>{r.id.length > 12 ? `…${r.id.slice(-5)}` : r.id}</small> {rowText(r)} {r.by && <small>({r.by})</small>}
                  {r.note && r.kind !== "condition" && <small class="note">{r.note}</small>}
                  {r.kind === "condition" && <Photos job={job} reading={r.id} />}
                  {suspect.has(r.id) && <small class="note">▲ {suspect.get(r.id)}</small>}
                  {gone.has(r.id) && <small class="note">withdrawn</small>}
                </th>
                <td class="number">{off(r)}</td>
                <td class="number">{residual.get(r.id)?.w?.toFixed(1) ?? ""}</td>
                <td class="do">
                  {!gone.has(r.id) && (
                    <span class="pair">
                      {!["condition", "followed", "rod", "sonde", "sign"].includes(r.kind) && (
                        <button type="button" class="plain" aria-label={`Measure again: ${rowText(r)}`} onClick={() => go("measure", job.id, r.id)}>
                          again
                        </button>
                      )}
                      <button type="button" class="plain" aria-label={`Withdraw: ${rowText(r)}`} onClick={() => store.withdraw(job.id, [r.id])}>
                        withdraw
                      </button>
                    </span>
                  )}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      {rows.length === 0 && <p>No readings yet. This is the day-before plan.</p>}
      <p class="hint">Off by: the reading less its fitted value. A w beyond about 3 is a misfit.</p>
    </section>
  );
}
