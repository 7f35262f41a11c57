// Withdrawing readings: asked first, said by whom and when afterwards, and
// brought back by a tap.
import { useState } from "preact/hooks";
import { standsFor, withdrawal } from "./acts";
import { Ask } from "./ask";
import { useStore } from "./context";
import type { Job, Row } from "./entry";
import { rowText, when } from "./words";

export function Withdraw({ job, rows, note, label = "Withdraw it", about }: {
  job: Job;
  rows: Row[];
  note?: string;
  label?: string;
  /** What the button is about, for those who do not see where it stands. */
  about?: string;
}) {
  const store = useStore();
  const [asking, ask] = useState(false);
  const one = rows.length === 1;
  const yes = async () => {
    ask(false);
    await store.withdraw(job.id, rows.map((r) => r.id), `withdrawn: ${about ?? rowText(rows[0])}`, note);
  };
  return (
    <>
      <button type="button" class="plain" aria-label={about && `${label}: ${about}`} onClick={() => ask(true)}>
        {label}
      </button>
      {asking && (
        <Ask title={one ? "Withdraw this reading?" : `Withdraw these ${rows.length} readings?`} no="Keep it" yes="Yes, withdraw it" onNo={() => ask(false)} onYes={yes}>
          <ul>
            {rows.map((r) => (
              <li key={r.id}>
                {rowText(r)} {r.by && <small>({[r.by, when(r.time)].filter(Boolean).join(", ")})</small>}
              </li>
            ))}
          </ul>
          <p>{one ? "It stays" : "They stay"} in the log, marked as withdrawn by you, and can be restored under Readings.</p>
        </Ask>
      )}
    </>
  );
}

/** Who withdrew a reading, when and why, and what stands in its place. */
export function Withdrawn({ job, row }: { job: Job; row: Row }) {
  const v = withdrawal(job.rows, row.id);
  const now = standsFor(job.rows, row.id);
  const who = [v?.by, when(v?.time)].filter(Boolean).join(", ");
  return (
    <small class="note">
      withdrawn{who && ` by ${who}`}
      {v?.note && v.note !== "withdrawn" && `: ${v.note}`}
      {now && `; now ${rowText(now)}`}
    </small>
  );
}

/** Brings a withdrawn reading back, where nothing stands in its place. */
export function Restore({ job, row }: { job: Job; row: Row }) {
  const store = useStore();
  if (standsFor(job.rows, row.id)) return null;
  return (
    <button type="button" class="plain" aria-label={`Restore: ${rowText(row)}`} onClick={() => store.restore(job.id, row, `restored: ${rowText(row)}`)}>
      restore
    </button>
  );
}
