// Reads a place in a picture that is laid by landmarks: it becomes a reading of the log.
import { useMemo, useState } from "preact/hooks";
import type { Belief } from "../source/answer";
import type { Believed } from "../source/believe";
import { useStore } from "../source/context";
import type { Row } from "../source/entry";
import { Words } from "../source/form";
import { readIn as noteOf } from "../source/notes";
import { useQuestion } from "../source/question";
import { go } from "../source/route";
import { length, unitOf } from "../source/units";
import { freeName, partsOf } from "../source/words";
import { Board } from "../trace/board";
import { Choice, Text } from "../trace/fields";
import { places, readFrom, readIn, type Picture } from "./kept";
import type { Tie, Vec } from "./lay";
import type { Small } from "./open";
import { most, read } from "./read";
import { says } from "./language";

export function Reading({ picture, whole, state }: { picture: Picture; whole: Small; state: Believed & { belief: Belief } }) {
  const store = useStore();
  const { job, belief } = state;
  const unit = unitOf(job.settings);
  const size: Vec = [whole.canvas.width, whole.canvas.height];
  const known = places(belief);
  const taps = picture.taps!.filter((t) => known.has(t.on));
  const ties: Tie[] = taps.map((t) => ({ at: t.at, ...known.get(t.on)! }));
  // What the picture was laid by, it says nothing new of.
  const marks = partsOf(job.sketch, "landmark").filter((p) => !picture.taps!.some((t) => t.on === p.id));
  const [what, choose] = useState("");
  const [name, call] = useState(() => freeName("P", store.tag, job.sketch, job.rows));
  const [note, describe] = useState("");
  const [at, put] = useState<Vec | null>(null);
  const { sure, question } = useQuestion(job);
  const shown = useMemo(() => ({ canvas: whole.canvas, at: [0, 0] as Vec, per: 1 }), [whole]);
  const flip = ([x, y]: Vec): Vec => [x, size[1] - y];
  const left = most - readIn(job, picture.file).length;
  const point = what || name.trim();
  const taken = !what && (partsOf(job.sketch).some((p) => p.id === point) || job.rows.some((r) => [r.point, r.from, r.to].includes(point)));
  const got = at && picture.kind && read(picture.kind, ties, at, [size[0] / 2, size[1] / 2], !!what);

  const log = async () => {
    if (!got || !point || taken) return;
    const m = (x: number) => `${x.toFixed(2)} m`;
    const row: Row = {
      kind: "baseline", from: taps[got.from].on, to: taps[got.to].on, point, value: m(got.station), offset: m(got.offset), sigma: m(got.sigma),
      note: noteOf(picture.name), [readFrom]: picture.file,
    };
    const rows = [...(note.trim() && !what ? [{ kind: "condition", target: point, note: note.trim() } as Row] : []), row];
    if (!(await sure(rows))) return;
    await store.logged(job.id, rows, says.readDone(point, picture.name));
    go("plan", job.id);
  };
  if (left <= 0) return <div class="trace-panel trace-choose"><p>{says.readEnough(String(most))}</p></div>;
  return (
    <div class="trace-work">
      <Board label={says.board} picture={shown} shapes={[]} drawing fitKey={`${size}`} handles={at ? [{ at: flip(at), says: point }] : []}
        marks={taps.map((t) => ({ at: [flip(t.at)], says: t.on }))} onPlace={(s) => put(flip(s.at))} />
      <div class="trace-panel">
        <p role="status">{says.readNow}</p>
        <div class="trace-row">
          <Choice label={says.readWhat} value={what} set={choose} options={[["", says.readNew] as const, ...marks.map((p) => [p.id, says.landmark(p.id, p.name)] as const)]} />
          {!what && <Words label={says.readName} value={name} onInput={call} />}
        </div>
        {!what && <Words label={says.readIs} value={note} onInput={describe} hint={says.readHint} />}
        {taken && <p class="trace-bad" role="alert">▲ {says.readTaken(point)}</p>}
        {got && <p>{says.readFound(point, length(Math.abs(got.station), unit), got.station < 0, length(Math.abs(got.offset), unit), got.offset < 0, taps[got.from].on, taps[got.to].on, length(1.96 * got.sigma, unit))}</p>}
        <p class="trace-hint">{says.readWeak(String(left))}</p>
        {at && (
          <details>
            <summary>{says.numbers}</summary>
            <div class="trace-row">
              <Text label={says.right(point)} mode="decimal" value={at[0].toFixed(1)} set={(v) => Number.isFinite(Number(v)) && put([Number(v), at[1]])} />
              <Text label={says.down(point)} mode="decimal" value={at[1].toFixed(1)} set={(v) => Number.isFinite(Number(v)) && put([at[0], Number(v)])} />
            </div>
          </details>
        )}
        <div class="trace-row">
          <button type="button" class="trace-main" disabled={!got || !point || taken} onClick={log}>{says.readSave}</button>
        </div>
        {question}
      </div>
    </div>
  );
}
