// The tracing screen: from a photo of the permit drawing to sketch.geojson.

import { useEffect, useMemo, useRef, useState } from "preact/hooks";
import { Board, type Handle, type Picture, type Shape } from "./board";
import { findings } from "./check";
import { Draw } from "./draw";
import { Finish } from "./finish";
import type { Vec } from "./geometry";
import { begin, change, redo, undo } from "./history";
import { northArrow, plane } from "./plane";
import { around, finish, place } from "./place";
import { Parts } from "./parts";
import { Scale } from "./scale";
import { type Scan, nameOf, open, squareUp, turn } from "./scan";
import type { Check, CheckRequest } from "../source/answer";
import { Choose, type Laid, Square } from "./sheet";
import { type Sketch, blank, drawnAnew, find, header, movePart, pieces, removePart, vertices } from "./sketch";
import { snap } from "./snap";
import type { Shared, Tool } from "./state";
import { Ties } from "./ties";
import { first, lie } from "./underlay";

export interface TraceProps {
  sketch: object | null;
  unit: "ft" | "m";
  scan: Blob | null;
  stage: (name: "check", request: CheckRequest) => Promise<Check>;
  save: (sketch: object, scan: { blob: Blob; name: string; type: string } | null) => Promise<void>;
  leave: () => void;
}

const steps = [["sheet", "Sheet"], ["draw", "Draw"], ["ties", "Ties"], ["parts", "Parts"], ["scale", "Scale"], ["save", "Save"]] as const;
type Step = (typeof steps)[number][0];

export function Trace(p: TraceProps) {
  const [history, setHistory] = useState(() => begin<Sketch>((p.sketch as Sketch | null) ?? blank()));
  const [saved] = useState(history.now);
  const [step, setStep] = useState<Step>(p.sketch && !p.scan ? "draw" : "sheet");
  const [scan, setScan] = useState<Scan>();
  const [fresh, setFresh] = useState(false); // the scan is not yet stored with the job
  const [canvas, setCanvas] = useState<HTMLCanvasElement>();
  const [bare, setBare] = useState(!!p.sketch && !p.scan); // drawn without a picture
  const [busy, setBusy] = useState(false);
  const [selected, select] = useState<string>();
  const [tool, use] = useState<Tool>({ what: "move" });
  const [draft, setDraft] = useState<Vec[]>([]);
  const [moving, setMoving] = useState<{ index: number; at: Vec; between: boolean }>();
  const [faint, setFaint] = useState(false);
  const [said, say] = useState("");
  const [refused, setRefused] = useState<string[]>([]);
  const [saving, setSaving] = useState(false);
  const [leaving, setLeaving] = useState(false);
  const root = useRef<HTMLDivElement>(null);

  const sketch = history.now;
  const flat = useMemo(() => plane(sketch), [sketch]);
  const set = (next: Sketch) => { setHistory((h) => change(h, drawnAnew(h.now, next))); setRefused([]); };
  const c: Shared = { sketch, set, plane: flat, unit: p.unit, selected, select, tool, use, draft, setDraft, say };

  const choose = async (blob: Blob, number?: number) => {
    setBusy(true);
    say("");
    try {
      setScan(await open(blob, number));
      setFresh(blob !== p.scan);
      setCanvas(undefined);
    } catch (e) {
      say((e as Error).message);
    }
    setBusy(false);
  };

  // A sketch that was traced before opens with its scan in the same position.
  useEffect(() => {
    const u = sketch.sketch.underlay;
    if (!p.scan) return;
    void (async () => {
      setBusy(true);
      try {
        const s = await open(p.scan!, u?.page);
        setScan(s);
        const upright = u && turn(s.canvas, u.turn);
        const square = u && upright && (u.corners ? squareUp(upright, u.corners, u.size) : upright);
        if (square) { setCanvas(square); setStep("draw"); }
      } catch (e) {
        say((e as Error).message);
      }
      setBusy(false);
    })();
  }, []);

  const laid = (l: Laid) => {
    const size: Vec = [l.canvas.width, l.canvas.height];
    const old = sketch.sketch.underlay;
    const drawn = sketch.features.flatMap((f) => pieces(f).flatMap((q) => q.at.map(flat.view)));
    const rest = old ? { size, at: old.at, per: old.per * Math.sqrt((old.size[0] * old.size[1]) / (size[0] * size[1])) } : first(size, drawn);
    const next = lie(sketch, { page: scan!.page, turn: l.turn, corners: l.corners, ...(l.inches ? { inches: l.inches } : {}), ...rest });
    set(header(next, { scan: fresh ? nameOf(scan!.blob) : next.sketch.scan }));
    setCanvas(l.canvas);
    setStep("draw");
    say(old ? "The sheet was squared up again, and the drawn parts moved with it. Check the scale." : "The sheet is squared up: draw the parts over it.");
  };

  const u = sketch.sketch.underlay;
  const picture = useMemo<Picture | undefined>(() => canvas && u && { canvas, at: u.at, per: (u.per * u.size[0]) / canvas.width }, [canvas, u]);

  const shapes = useMemo((): Shape[] => sketch.features.map((f) => {
    const on = f.id === selected;
    let q = pieces(f).map((piece) => ({ form: piece.form, at: piece.at.map(flat.view) }));
    if (on && moving && q.length === 1) q = [{ form: q[0].form, at: moved(q[0].at, moving) }];
    return { id: f.id, kind: f.properties.part, label: f.id, pieces: q, selected: on };
  }), [sketch, selected, moving, flat]);

  const handles = useMemo((): Handle[] => {
    const f = find(sketch, selected);
    if (!f || step !== "draw" || tool.what !== "move") return [];
    let v = vertices(f).map(flat.view);
    const n = v.length;
    const all: Handle[] = v.map((at) => ({ at, says: "" }));
    for (let i = 0; n > 1 && i < (f.geometry.type === "Polygon" ? n : n - 1); i++) {
      all.push({ at: [(v[i][0] + v[(i + 1) % n][0]) / 2, (v[i][1] + v[(i + 1) % n][1]) / 2], says: "", small: true });
    }
    if (moving) v = moved(v, moving);
    return moving ? all.map((h, i) => (!moving.between && i === moving.index ? { ...h, at: moving.at } : h)) : all;
  }, [sketch, selected, step, tool, moving, flat]);

  const onHandle = (i: number, at: Vec, done: boolean) => {
    const f = find(sketch, selected);
    if (!f) return;
    const v = vertices(f);
    const between = i >= v.length;
    const m = { index: between ? i - v.length : i, at, between };
    if (!done) return setMoving(m);
    setMoving(undefined);
    // Only the corner that was moved is rewritten.
    if (moving) set(movePart(sketch, f.id, moved(v, { ...m, at: flat.file(at) })));
  };

  const marks = useMemo(() => {
    const up = sketch.sketch.up;
    if (!up || step !== "scale" || !picture) return [];
    const w = picture.canvas.width * picture.per;
    const foot: Vec = [picture.at[0] + 0.1 * w, picture.at[1] + 0.1 * w];
    const tip = northArrow(foot, 0.1 * w, up.bearing);
    return [{ at: [foot, tip], says: "N" }];
  }, [sketch, step, picture]);

  const keys = (e: KeyboardEvent) => {
    const typing = (e.target as HTMLElement).closest?.("input, textarea, select");
    if ((e.ctrlKey || e.metaKey) && e.key.toLowerCase() === "z" && !typing) {
      e.preventDefault();
      setDraft([]);
      setHistory(e.shiftKey ? redo : undo);
    } else if (typing) return;
    else if (e.key === "Escape") setDraft([]);
    else if (e.key === "Enter" && draft.length > 0 && !(e.target as HTMLElement).closest?.("button, summary")) finish(c, draft);
    else if ((e.key === "Delete" || e.key === "Backspace") && selected && step === "draw") { set(removePart(sketch, selected)); select(undefined); }
  };
  useEffect(() => {
    document.addEventListener("keydown", keys);
    return () => document.removeEventListener("keydown", keys);
  });

  useEffect(() => {
    const t = setTimeout(() => say(""), 10_000);
    return () => clearTimeout(t);
  }, [said]);

  const save = async () => {
    setSaving(true);
    setRefused([]);
    try {
      // The scan is kept with the job already, or is about to be.
      const problems = await p.stage("check", { job: { sketch, settings: { unit: p.unit }, rows: [], files: sketch.sketch.scan ? [sketch.sketch.scan] : [] } }).then((c) => c.problems, () => []); // no engine: only our own findings are shown
      const bad = problems.filter((q) => !q.file || q.file === "sketch.geojson");
      if (bad.length) {
        setRefused(bad.map((q) => q.says));
      } else {
        await p.save(sketch, fresh && scan && sketch.sketch.scan ? { blob: scan.blob, name: sketch.sketch.scan, type: scan.blob.type } : null);
      }
    } catch (e) {
      say(`It could not be saved: ${(e as Error).message}. Nothing is lost here: try again.`);
    }
    setSaving(false);
  };

  // What is written about a part is shown at its last vertex.
  const shown = find(sketch, selected);
  const end = shown && vertices(shown).length > 0 ? flat.view(vertices(shown)[vertices(shown).length - 1]) : undefined;
  const go = (to: Step) => { setStep(to); setDraft([]); use({ what: "move" }); say(""); };
  const ready = bare || (picture && canvas);
  const board = (
    <Board label={`The sheet with ${sketch.features.length} parts: ${sketch.features.map((f) => f.id).join(", ")}`}
      picture={picture} faint={faint} shapes={shapes} draft={draft} marks={marks} handles={handles}
      centre={step === "ties" || step === "parts" ? end : undefined} drawing={tool.what !== "move"} fitKey={`${canvas ? canvas.width : ""} ${sketch.sketch.unit} ${u?.per} ${step === "scale"}`}
      snap={(at, reach, handle) => snap(at, around(c, reach, handle !== undefined && selected ? { id: selected, index: movedIndex(sketch, selected, handle) } : undefined))}
      onPlace={(s) => place(c, s.at)} onPick={select} onHandle={(i, s, done) => onHandle(i, s.at, done)}>
      {picture && <button type="button" aria-pressed={faint} aria-label="Faint picture" onClick={() => setFaint(!faint)}>◐</button>}
    </Board>
  );
  return (
    <div class="trace" ref={root}>
      <header class="trace-head">
        <button type="button" onClick={() => (sketch === saved ? p.leave() : setLeaving(true))}>Leave</button>
        <nav aria-label="Steps of tracing">
          {steps.map(([s, word]) => (
            <button type="button" key={s} aria-current={step === s ? "step" : undefined} disabled={s !== "sheet" && !ready} onClick={() => go(s)}>{word}</button>
          ))}
        </nav>
        <button type="button" aria-label="Undo" disabled={history.past.length === 0 && draft.length === 0} onClick={() => (draft.length ? setDraft(draft.slice(0, -1)) : setHistory(undo))}>↶</button>
        <button type="button" aria-label="Redo" disabled={history.future.length === 0} onClick={() => setHistory(redo)}>↷</button>
      </header>
      {leaving && (
        <div class="trace-ask" role="alertdialog" aria-label="Leave without saving?">
          <p>What was drawn is not saved.</p>
          <button type="button" onClick={p.leave}>Leave without saving</button>
          <button type="button" class="trace-main" onClick={() => setLeaving(false)}>Stay</button>
        </div>
      )}
      <div class="trace-notice"><p class={said ? "trace-said" : "trace-unseen"} role="status">{said}</p></div>
      {step === "sheet" && !scan && <Choose choose={choose} busy={busy} blank={() => { setBare(true); go("draw"); }} />}
      {step === "sheet" && scan && <Square key={`${scan.page} ${scan.blob.size}`} scan={scan} start={u && scan.blob === p.scan ? { turn: u.turn, corners: u.corners } : { turn: 0, corners: null }} choose={choose} done={laid} say={say} />}
      {step !== "sheet" && (
        <div class={`trace-work trace-at-${step}`}>
          {board}
          {step === "draw" && <Draw c={c} />}
          {step === "ties" && <Ties c={c} />}
          {step === "parts" && <Parts c={c} />}
          {step === "scale" && <Scale c={c} />}
          {step === "save" && <Finish c={c} found={findings(sketch, p.unit)} refused={refused} saving={saving} save={save} go={(id) => { select(id); setStep("parts"); }} />}
        </div>
      )}
    </div>
  );
}

/** moved returns places with one of them moved, or a new one put in after it. */
function moved(v: readonly Vec[], m: { index: number; at: Vec; between: boolean }): Vec[] {
  return m.between ? [...v.slice(0, m.index + 1), m.at, ...v.slice(m.index + 1)] : v.map((q, i) => (i === m.index ? m.at : q));
}

/** movedIndex gives the corner that a handle moves; of a place between two, none that is there yet. */
function movedIndex(s: Sketch, id: string, handle: number): number {
  const f = find(s, id);
  return f && handle < vertices(f).length ? handle : -1;
}
