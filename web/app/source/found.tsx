// A box that was found, or whatever else was sought, is an event: it is said, what
// was seen is asked while the hole is open, and the record is offered.
import { useState } from "preact/hooks";
import { instead, live } from "./acts";
import type { Believed } from "./believe";
import { Cautions } from "./card";
import { keepPhotos, PhotoTaker, type Photo } from "./condition";
import { useStore } from "./context";
import type { Job, Row } from "./entry";
import { Choice, Screen, Words } from "./form";
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

const theName = (job: Job, target: string) => {
  const name = partName(target, kindOf(job.sketch, target));
  return name.charAt(0).toUpperCase() + name.slice(1);
};

const outlets = ["", "1", "2", "3", "4", "5", "6", "7", "8"].map((n): [string, string] => [n, n || "not counted"]);

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
      <Screen title="Found" back={back}>
        <p>
          This find was withdrawn. <a href={back}>To the plan</a>
        </p>
      </Screen>
    );
  }
  const kind = kindOf(job.sketch, row.target);
  const drawn = job.sketch?.features.filter((f) => f.properties?.part === "lateral").length ?? 0;
  const save = async () => {
    const words = [seen && `${seen} ${seen === "1" ? "outlet" : "outlets"} seen`, note.trim(), photos.length ? "photos" : ""].filter(Boolean).join("; ");
    const rows: Row[] = words ? [{ kind: "condition", target: row.target, note: words }] : [];
    const moved = spot !== (row.spot ?? "");
    if (moved) {
      const { id, by, ...rest } = row;
      rows.push(instead(row, { ...rest, spot }));
    }
    if (rows.length) {
      const [id] = await store.logged(job.id, rows, `seen of ${partName(row.target, kind)}: ${words || "where the hole met it"}`, moved ? [row.id] : [], "corrected");
      if (words) await keepPhotos(store, job.id, row.target, id, photos);
    }
    go("plan", job.id);
  };
  return (
    <Screen title={`${theName(job, row.target)} is found`} back={back}>
      <p class="big" role="status">
        ✓ {rowText(row)}
      </p>
      <Disagree state={state} />
      {isSought(job, row.target) ? <p>No more holes are asked for. While it lies open:</p> : <p>It is not what is sought, but while it lies open:</p>}
      <Choice label="Which part of it did the hole meet?" value={spot || spotsOf(kind)[0].id} options={spotsOf(kind).map((s): [string, string] => [s.id, s.name])} onChange={setSpot} />
      {kind === "box" && <Choice label="Outlets seen" value={seen} options={outlets} onChange={count} />}
      {kind === "box" && seen && Number(seen) !== drawn && drawn > 0 && <p class="hint">The sketch shows {drawn} {drawn === 1 ? "trench" : "trenches"}.</p>}
      <Words label="Its condition" value={note} onInput={say} lines={2} hint="Sound, cracked, level, roots, how high the water stands …" />
      <PhotoTaker photos={photos} change={change} />
      <button type="button" class="go wide" onClick={save}>
        Keep what was seen
      </button>
      <p class="row">
        <a class="button" href={to("more", job.id, "documents")}>
          Make the record
        </a>
        <a class="button" href={back}>
          To the plan
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
                Correct {r.point}
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
        <section class="event" aria-label="Found">
          <p>
            <b>✓ {theName(job, find.target)} is found.</b> {rowText(find)}. No more holes are asked for.
          </p>
          {seen && <p>Seen: {seen.note}</p>}
          <p class="row">
            <a class="button" href={to("found", job.id, find.id)}>
              Say what was seen
            </a>
            <a class="go" href={to("more", job.id, "documents")}>
              Make the record
            </a>
          </p>
        </section>
      )}
    </>
  );
}
