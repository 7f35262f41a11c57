// The first step: a photo, picture or PDF page is chosen, turned and squared up.

import { useRef } from "preact/hooks";
import { Board, type Picture } from "./board";
import { Choice, Text } from "./fields";
import { type Vec } from "./geometry";
import { aspect, convex, papers } from "./homography";
import { decimal, words } from "./language";
import { type Scan, lay, squareUp, turn } from "./scan";
import type { Frame } from "./unfinished";

export interface Laid {
  corners: Vec[] | null;
  turn: number;
  canvas: HTMLCanvasElement;
  inches?: Vec;
}

/** begun is how a picture that was just chosen lies. */
export const begun: Frame = { turn: 0, corners: [[0.06, 0.06], [0.94, 0.06], [0.94, 0.94], [0.06, 0.94]], paper: "" };

export function Choose({ choose, busy, blank }: { choose: (f: Blob, page?: number) => void; busy: boolean; blank: () => void }) {
  return (
    <div class="trace-panel trace-choose">
      <h2>{words.sheet.title}</h2>
      <p>{words.sheet.about}</p>
      <label class="trace-file">
        <span>{busy ? words.sheet.opening : words.sheet.file}</span>
        <input type="file" accept="image/*,application/pdf" disabled={busy}
          onChange={(e) => { const f = e.currentTarget.files?.[0]; if (f) choose(f); e.currentTarget.value = ""; }} />
      </label>
      <button type="button" onClick={blank}>{words.sheet.blank}</button>
    </div>
  );
}

/** Square lets the corners of the sheet be dragged to where they are in the picture. */
export function Square({ scan, frame, setFrame, choose, done, say }: {
  scan: Scan; frame: Frame; setFrame: (f: Frame) => void; choose: (f: Blob, page?: number) => void;
  done: (l: Laid) => void; say: (text: string) => void;
}) {
  const { turn: quarters, corners, paper } = frame;
  const turned = useRef<{ q: number; scan: Scan; picture: Picture } | undefined>(undefined);
  if (turned.current?.q !== quarters || turned.current.scan !== scan) {
    turned.current = { q: quarters, scan, picture: { canvas: turn(scan.canvas, quarters), at: [0, 0], per: 1 } };
  }
  const picture = turned.current.picture;
  const [w, h] = [picture.canvas.width, picture.canvas.height];
  const toPlane = ([x, y]: Vec): Vec => [x * w, (1 - y) * h];
  const set = (i: number, p: Vec) => {
    const clamp = (n: number) => Math.min(1, Math.max(0, n));
    setFrame({ ...frame, corners: corners.map((c, j) => (i === j ? [clamp(p[0]), clamp(p[1])] : c)) });
  };
  const rotate = (by: number) => {
    // The corners stay on the sheet and take the names of where they are now.
    const at = corners.map(([x, y]): Vec => (by === 1 ? [1 - y, x] : [y, 1 - x]));
    setFrame({ ...frame, turn: (quarters + by + 4) % 4, corners: by === 1 ? [at[3], at[0], at[1], at[2]] : [at[1], at[2], at[3], at[0]] });
  };
  const good = convex(corners.map(toPlane));
  const square = () => {
    const c = corners.map(([x, y]): Vec => [x * w, y * h]);
    const known = papers.find((p) => p.name === paper);
    const inches = known ? lay(known, aspect(c, w, h)) : undefined;
    const canvas = good ? squareUp(picture.canvas, corners, inches) : undefined;
    if (canvas) done({ corners, turn: quarters, canvas, inches });
    else say(words.sheet.noSheet);
  };
  const asIs = () => done({ corners: null, turn: quarters, canvas: picture.canvas,
    inches: scan.inches && (quarters % 2 ? [scan.inches[1], scan.inches[0]] : scan.inches) });
  const shape = { id: "sheet", kind: "sheet", label: "", selected: false, pieces: [{ form: "Polygon" as const, at: corners.map(toPlane) }] };
  return (
    <div class="trace-work">
      <Board label={words.sheet.board} picture={picture} shapes={[shape]} drawing={false} clear fitKey={`${quarters} ${scan.page} ${scan.blob.size} ${w} ${h}`}
        handles={corners.map((c, i) => ({ at: toPlane(c), says: words.sheet.corners[i] }))}
        onHandle={(i, s) => set(i, [s.at[0] / w, 1 - s.at[1] / h])} />
      <div class="trace-panel">
        <h2>{words.sheet.square}</h2>
        <p role="status">{frame.found ? words.sheet.found : words.sheet.drag}</p>
        <div class="trace-row">
          <button type="button" onClick={() => rotate(-1)}>{words.sheet.left}</button>
          <button type="button" onClick={() => rotate(1)}>{words.sheet.right}</button>
        </div>
        <Choice label={words.sheet.paper} value={paper} set={(v) => setFrame({ ...frame, paper: v })}
          options={[["", words.sheet.unknown], ...papers.map((p) => [p.name, words.sheet.papers[p.name] ?? p.name] as const)]} />
        {scan.pages > 1 && <Choice label={words.sheet.page} value={String(scan.page)} set={(v) => choose(scan.blob, Number(v))}
          options={Array.from({ length: scan.pages }, (_, i) => [String(i + 1), words.sheet.pageOf(i + 1, scan.pages)] as const)} />}
        <div class="trace-row">
          <button type="button" class="trace-main" disabled={!good} onClick={square}>{words.sheet.squareUp}</button>
          <button type="button" onClick={asIs}>{words.sheet.asIs}</button>
        </div>
        {!good && <p class="trace-bad">{words.sheet.notRound}</p>}
        <details>
          <summary>{words.sheet.numbers}</summary>
          {corners.map((c, i) => (
            <div class="trace-row" key={i}>
              <Text label={words.sheet.rightOf(words.sheet.corners[i])} mode="decimal" value={(c[0] * 100).toFixed(2)} set={(v) => Number.isFinite(decimal(v)) && set(i, [decimal(v) / 100, c[1]])} />
              <Text label={words.sheet.downOf(words.sheet.corners[i])} mode="decimal" value={(c[1] * 100).toFixed(2)} set={(v) => Number.isFinite(decimal(v)) && set(i, [c[0], decimal(v) / 100])} />
            </div>
          ))}
        </details>
        <label class="trace-file trace-quiet">
          <span>{words.sheet.another}</span>
          <input type="file" accept="image/*,application/pdf" onChange={(e) => { const f = e.currentTarget.files?.[0]; if (f) choose(f); e.currentTarget.value = ""; }} />
        </label>
      </div>
    </div>
  );
}
