// A box that was found, or whatever else was sought, is an event: it is said, what
// was seen is asked while the hole is open, and the record is offered.
import { useState } from "preact/hooks";
import { instead, live } from "./acts";
import type { Believed } from "./believe";
import { Said } from "./bold";
import { Cautions } from "./card";
import { keepPhotos, PhotoTaker, type Photo } from "./condition";
import { useStore } from "./context";
import type { Job, Row } from "./entry";
import { Choice, Screen, Words } from "./form";
import { words } from "./language";
import { notes, noteText, outletsSeen } from "./notes";
import { go, to } from "./route";
import { spotsOf } from "./what";
import { kindOf, partName, rowText } from "./words";

/** What the job seeks: a part, or a kind of part. */
export const seeks = (job: Job) => String(job.settings.seek ?? "box");

export const isSought = (job: Job, target: string) => [target, kindOf(job.sketch, target)].includes(seeks(job));

/** Whether to meet a part is an event: it is a box, or what is sought. */
export const isEvent = (job: Job, target: string) => kindOf(job.sketch, target) === "box" || isSought(job, target);

/** The finds of what is sought that are not in doubt, the latest last. */
export function finds({ job, belief }: Believed): Row[] {
  if (belief?.fit.doubtful) return [];
  const doubted = belief?.fit.suspects.map((s) => s.reading) ?? [];
  return live(job.rows).filter((r) => r.kind === "found" && isSought(job, r.target) && !doubted.includes(r.id));
}

const theName = (job: Job, target: string) => partName(target, kindOf(job.sketch, target));

const outlets = () => ["", "1", "2", "3", "4", "5", "6", "7", "8"].map((n): [string, string] => [n, n || words.found.notCounted]);

export function FoundScreen({ state, about }: { state: Believed; about: string }) {
  const store = useStore();
  const { job } = state;
  const row = live(job.rows).find((r) => r.id === about);
  const [spot, setSpot] = useState(row?.spot ?? "");
  const [seen, count] = useState("");
  const [note, say] = useState("");
  const [photos, change] = useState<Photo[]>([]);
  const back = to("plan", job.id);
  if (!row) {
    return (
      <Screen title={words.found.title} back={back}>
        <p>
          {words.found.withdrawn} <a href={back}>{words.found.toPlan}</a>
        </p>
      </Screen>
    );
  }
  const kind = kindOf(job.sketch, row.target);
  const drawn = job.sketch?.features.filter((f) => f.properties?.part === "lateral").length ?? 0;
  const save = async () => {
    const noted = [seen && outletsSeen(seen), note.trim(), photos.length ? notes.photos : ""].filter(Boolean).join("; ");
    const rows: Row[] = noted ? [{ kind: "condition", target: row.target, note: noted }] : [];
    const moved = spot !== (row.spot ?? "");
    if (moved) {
      const { id, by, ...rest } = row;
      rows.push(instead(row, { ...rest, spot }));
    }
    if (rows.length) {
      const [id] = await store.logged(job.id, rows, words.found.seenSaid(partName(row.target, kind), noteText(noted) || words.found.where), moved ? [row.id] : [], notes.corrected);
      if (noted) await keepPhotos(store, job.id, row.target, id, photos);
    }
    go("plan", job.id);
  };
  return (
    <Screen title={words.found.isFound(theName(job, row.target))} back={back}>
      <p class="big" role="status">
        ✓ {rowText(row)}
      </p>
      <Disagree state={state} />
      {isSought(job, row.target) ? <p>{words.found.noMore}</p> : <p>{words.found.notSought}</p>}
      <Choice label={words.found.whichPart} value={spot || spotsOf(kind)[0].id} options={spotsOf(kind).map((s): [string, string] => [s.id, s.name])} onChange={setSpot} />
      {kind === "box" && <Choice label={words.found.outlets} value={seen} options={outlets()} onChange={count} />}
      {kind === "box" && seen && Number(seen) !== drawn && drawn > 0 && <p class="hint">{words.found.drawn(drawn)}</p>}
      <Words label={words.found.condition} value={note} onInput={say} lines={2} hint={words.found.hint} />
      <PhotoTaker photos={photos} change={change} />
      <button type="button" class="go wide" onClick={save}>
        {words.found.keep}
      </button>
      <p class="row">
        <a class="button" href={to("more", job.id, "documents")}>
          {words.found.record}
        </a>
        <a class="button" href={back}>
          {words.found.toPlan}
        </a>
      </p>
      <Cautions />
    </Screen>
  );
}

/** Finds of one part that lie too far apart for it, and lines of somebody else that were met. */
function Disagree({ state: { belief, job } }: { state: Believed }) {
  const twice = belief?.findings.filter((f) => f.code === "found-twice" || f.code === "utility-met") ?? [];
  return (
    <>
      {twice.map((f) => (
        <div class="doubt" key={f.says} role="alert">
          <p>
            <b>▲ {f.says}</b>
          </p>
          <p class="row">
            {live(job.rows).filter((r) => f.readings?.includes(r.id)).map((r) => (
              <a class="button" key={r.id} href={to("measure", job.id, r.id)}>
                {words.found.correct(r.point)}
              </a>
            ))}
          </p>
        </div>
      ))}
    </>
  );
}

/** On the plan: that what is sought was found, and what comes then. */
export function Event({ state }: { state: Believed }) {
  const { job } = state;
  const find = finds(state).at(-1);
  const seen = find && live(job.rows).filter((r) => r.kind === "condition" && r.target === find.target).at(-1);
  return (
    <>
      <Disagree state={state} />
      {find && (
        <section class="event" aria-label={words.found.title}>
          <p>
            <Said text={words.found.event(theName(job, find.target), rowText(find))} />
          </p>
          {seen && <p>{words.found.seen(noteText(seen.note ?? ""))}</p>}
          <p class="row">
            <a class="button" href={to("found", job.id, find.id)}>
              {words.found.say}
            </a>
            <a class="go" href={to("more", job.id, "documents")}>
              {words.found.record}
            </a>
          </p>
        </section>
      )}
    </>
  );
}
