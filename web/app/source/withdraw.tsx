// Withdrawing readings: asked first, said by whom and when afterwards, and
// brought back by a tap.
import { useState } from "preact/hooks";
import { standsFor, withdrawal } from "./acts";
import { Ask } from "./ask";
import { useStore } from "./context";
import type { Job, Row } from "./entry";
import { words } from "./language";
import { notes, noteText, who } from "./notes";
import { rowText, when } from "./words";

export function Withdraw({ job, rows, note, label = words.withdraw.it, about }: {
  job: Job;
  rows: Row[];
  note?: string;
  label?: string;
  /** What the button is about, for those who do not see where it stands. */
  about?: string;
}) {
  const store = useStore();
  const [asking, ask] = useState(false);
  const yes = async () => {
    ask(false);
    await store.withdraw(job.id, rows.map((r) => r.id), words.withdraw.said(about ?? rowText(rows[0])), note);
  };
  return (
    <>
      <button type="button" class="plain" aria-label={about && words.withdraw.labelled(label, about)} onClick={() => ask(true)}>
        {label}
      </button>
      {asking && (
        <Ask title={words.withdraw.ask(rows.length)} no={words.withdraw.keep} yes={words.withdraw.yes} onNo={() => ask(false)} onYes={yes}>
          <ul>
            {rows.map((r) => (
              <li key={r.id}>
                {rowText(r)} {r.by && <small>({[who(r.by), when(r.time)].filter(Boolean).join(", ")})</small>}
              </li>
            ))}
          </ul>
          <p>{words.withdraw.stays(rows.length)}</p>
        </Ask>
      )}
    </>
  );
}

/** Who withdrew a reading, when and why, and what stands in its place. */
export function Withdrawn({ job, row }: { job: Job; row: Row }) {
  const v = withdrawal(job.rows, row.id);
  const now = standsFor(job.rows, row.id);
  const by = [who(v?.by), when(v?.time)].filter(Boolean).join(", ");
  const why = v?.note && v.note !== notes.withdrawn ? noteText(v.note) : "";
  return (
    <small class="note">{words.withdraw.gone(by, why, now ? rowText(now) : "")}</small>
  );
}

/** Brings a withdrawn reading back, where nothing stands in its place. */
export function Restore({ job, row }: { job: Job; row: Row }) {
  const store = useStore();
  if (standsFor(job.rows, row.id)) return null;
  return (
    <button type="button" class="plain" aria-label={words.withdraw.restoreThis(rowText(row))} onClick={() => store.restore(job.id, row, words.withdraw.restored(rowText(row)))}>
      {words.withdraw.restore}
    </button>
  );
}
