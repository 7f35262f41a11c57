// The pictures of a job: which one lies under the plan, laid how, by whom.
import type { Believed } from "../source/believe";
import { useEffect } from "preact/hooks";
import { useStore } from "../source/context";
import { noteText, who } from "../source/notes";
import { to } from "../source/route";
import { Withdraw } from "../source/withdraw";
import { when } from "../source/words";
import { pictures, recall, show, shown } from "./kept";
import { says } from "./language";

export function List({ state }: { state: Believed }) {
  const store = useStore();
  const { job } = state;
  useEffect(() => void recall(store, job.id), [job.id]);
  const all = pictures(job);
  const { file, off } = shown(job.id);
  const chosen = all.findLast((p) => p.file === file) ?? all.at(-1);
  return (
    <>
      <ul class="pictures">
        {all.map((p) => (
          <li key={p.row.id}>
            <b>{noteText(p.row.note ?? "")}</b> <small>{[who(p.row.by), when(p.row.time)].filter(Boolean).join(", ")}</small>
            <span class="row">
              <button type="button" class="button" aria-pressed={!off && p === chosen} aria-label={`${says.show}: ${p.name}`} onClick={() => show(store, job.id, { file: p.file, off: false })}>
                {says.show}
              </button>
              <a class="button" href={to("picture", job.id, p.row.id)} aria-label={`${says.layAgain}: ${p.name}`}>
                {says.layAgain}
              </a>
              {p.taps && p.kind !== "oblique" && (
                <a class="button" href={to("picture", job.id, `read ${p.row.id}`)} aria-label={`${says.readIt}: ${p.name}`}>
                  {says.readIt}
                </a>
              )}
              <Withdraw job={job} rows={[p.row]} label={says.withdraw} about={noteText(p.row.note ?? "")} />
            </span>
          </li>
        ))}
      </ul>
      {all.length > 0 && <p class="hint">{says.caution}</p>}
    </>
  );
}
