// The tracing screen: from a photo of the permit drawing to sketch.geojson.

import { useEffect, useLayoutEffect, useMemo, useRef, useState } from "preact/hooks";
import { Board, type Handle, type Picture, type Shape } from "./board";
import { findings } from "./check";
import { corners } from "./corners";
import { Draw } from "./draw";
import { Finish } from "./finish";
import type { Vec } from "./geometry";
import { begin, change, redo, undo } from "./history";
import { words } from "./language";
import { northArrow, plane } from "./plane";
import { around, finish, place } from "./place";
import { Parts } from "./parts";
import { leaveField, useSteadyPress } from "./press";
import { Scale } from "./scale";
import { type Scan, nameOf, open, squareUp, turn } from "./scan";
import type { Check, CheckRequest } from "../source/answer";
import { Choose, type Laid, Square, begun } from "./sheet";
import { type Sketch, blank, drawnAnew, find, header, movePart, pieces, removePart, vertices } from "./sketch";
import { snap } from "./snap";
import type { Shared, Tool } from "./state";
import { Ties } from "./ties";
import { typing, useTyped } from "./typed";
import { first, lie } from "./underlay";
import { Ask, type Drawer, type Frame, type Unfinished, full, keeping } from "./unfinished";

export interface TraceProps {
  sketch: object | null;
  unit: "ft" | "m";
  scan: Blob | null;
  stage: (name: "check", request: CheckRequest) => Promise<Check>;
  save: (sketch: object, scan: { blob: Blob; name: string; type: string } | null) => Promise<void>;
  leave: () => void;
  drawer: Drawer;
}

const steps = ["sheet", "draw", "ties", "parts", "scale", "save"] as const;
type Step = (typeof steps)[number];

export { speak } from "./language";

/** Trace asks first whether to go on with a drawing that was not finished. */
export function Trace(p: TraceProps) {
  const [from, setFrom] = useState<Drawer["found"] | "ask">(p.drawer.found && "ask");
  const now = useMemo(() => JSON.stringify(p.sketch), []);
  if (from !== "ask") return <Work {...p} from={from} now={now} />;
  const anew = async () => {
    await p.drawer.empty().catch(() => {}); // what cannot be thrown away is asked about again
    setFrom(null);
  };
  return <Ask drawing={p.drawer.found!.drawing} now={now} goOn={() => setFrom(p.drawer.found)} anew={anew} />;
}

function Work(p: TraceProps & { from: Drawer["found"]; now: string }) {
  const found = p.from?.drawing;
  const [saved] = useState(() => (p.sketch as Sketch | null) ?? blank());
  const [history, setHistory] = useState(() => begin<Sketch>(found?.sketch ?? saved));
  const [step, setStep] = useState<Step>(found ? (found.step as Step) : p.sketch && !p.scan ? "draw" : "sheet");
  const [scan, setScan] = useState<Scan>();
  const [fresh, setFresh] = useState(found?.fresh ?? false); // the scan is not yet stored with the job
  const [frame, setFrame] = useState<Frame | undefined>(found?.frame);
  const [canvas, setCanvas] = useState<HTMLCanvasElement>();
  const [bare, setBare] = useState(found ? found.bare : !!p.sketch && !p.scan); // drawn without a picture
  const [busy, setBusy] = useState(false);
  const [selected, select] = useState<string>();
  const [tool, use] = useState<Tool>(found?.tool ?? { what: "move" });
  const [draft, setDraft] = useState<Vec[]>(found?.places ?? []);
  const [moving, setMoving] = useState<{ index: number; at: Vec; between: boolean }>();
  const [faint, setFaint] = useState(false);
  const [said, say] = useState("");
  const [refused, setRefused] = useState<string[]>([]);
  const [saving, setSaving] = useState(false);
  const [leaving, setLeaving] = useState(false);
  const [trouble, setTrouble] = useState<unknown>(); // why the drawing is on this screen only
  const [opening, setOpening] = useState(!!(found ? found.fresh || found.laid : p.scan)); // the picture that is there already
  const root = useRef<HTMLDivElement>(null);
  useSteadyPress(root);
  useTyped(root, p.drawer.note, !!found);

  const sketch = history.now;
  const flat = useMemo(() => plane(sketch), [sketch]);
  const set = (next: Sketch) => { setHistory((h) => change(h, drawnAnew(h.now, next))); setRefused([]); };
  const c: Shared = { sketch, set, plane: flat, unit: p.unit, selected, select, tool, use, draft, setDraft, say };

  const choose = async (blob: Blob, number?: number) => {
    setBusy(true);
    say("");
    try {
      // In memory: a phone may take a chosen file away while it is drawn over.
      const own = blob instanceof File ? new Blob([await blob.arrayBuffer()], { type: blob.type }) : blob;
      const s = await open(own, number);
      const sure = s.inches ? undefined : await corners(s.canvas.getContext("2d")!.getImageData(0, 0, s.canvas.width, s.canvas.height));
      setScan(s);
      setFresh(own !== p.scan);
      setFrame(sure ? { ...begun, corners: sure, found: true } : begun);
      setCanvas(undefined);
    } catch (e) {
      say((e as Error).message);
    }
    setBusy(false);
  };

  // A sketch that was traced before opens with its scan in the same position; a
  // drawing that was not finished, as it was left.
  useEffect(() => {
    const u = sketch.sketch.underlay;
    const blob = fresh ? p.from!.picture : p.scan;
    if (!opening) return;
    void (async () => {
      setBusy(true);
      try {
        if (!blob) throw new Error(words.trace.pictureGone);
        const s = await open(blob, found?.page ?? u?.page);
        setScan(s);
        if (!found && u) setFrame({ turn: u.turn, corners: u.corners ?? begun.corners, paper: "" });
        const upright = u && (!found || found.laid) && turn(s.canvas, u.turn);
        const square = upright && (u.corners ? squareUp(upright, u.corners, u.size) : upright);
        if (square) setCanvas(square);
        if (square && !found) setStep("draw");
      } catch (e) {
        if (found?.laid) setBare(true);
        say((e as Error).message);
      }
      setBusy(false);
      setOpening(false);
    })();
  }, []);

  const keeper = useMemo(() => keeping({ ...p.drawer, found: p.from }, (wrong) => {
    setTrouble(wrong);
    if (wrong === undefined && !typing()) p.drawer.note.write(null); // it is in the drawing
  }), []);
  const changed = sketch !== saved || fresh || draft.length > 0;
  const keep = useRef(false);
  keep.current ||= changed;
  // In the same turn as the change, not after the next frame: the page may be gone by then.
  useLayoutEffect(() => {
    if (!keep.current) return;
    keeper.put({
      sketch, step, tool, places: draft, bare, fresh, frame, on: p.now, at: new Date().toISOString(),
      page: scan?.page ?? found?.page ?? 1, laid: opening ? found?.laid ?? true : !!canvas,
    }, fresh ? scan?.blob : null);
  }, [sketch, step, tool, draft, bare, fresh, scan, frame, canvas, opening]);
  // A figure that is half typed is taken when the page is left in any way.
  useEffect(() => {
    const hide = () => document.hidden && leaveField();
    addEventListener("popstate", leaveField, true);
    addEventListener("pagehide", leaveField, true);
    document.addEventListener("visibilitychange", hide);
    return () => {
      removeEventListener("popstate", leaveField, true);
      removeEventListener("pagehide", leaveField, true);
      document.removeEventListener("visibilitychange", hide);
    };
  }, []);

  const laid = (l: Laid) => {
    const size: Vec = [l.canvas.width, l.canvas.height];
    const old = sketch.sketch.underlay;
    if (canvas && old && old.page === scan!.page && old.turn === l.turn && same(old.corners, l.corners) && same(old.inches, l.inches)) return go("draw");
    const drawn = sketch.features.flatMap((f) => pieces(f).flatMap((q) => q.at.map(flat.view)));
    const rest = old ? { size, at: old.at, per: old.per * Math.sqrt((old.size[0] * old.size[1]) / (size[0] * size[1])) } : first(size, drawn);
    const next = lie(sketch, { page: scan!.page, turn: l.turn, corners: l.corners, ...(l.inches ? { inches: l.inches } : {}), ...rest });
    set(header(next, { scan: fresh ? nameOf(scan!.blob) : next.sketch.scan }));
    setCanvas(l.canvas);
    setStep("draw");
    say(old ? words.trace.squaredAgain : words.trace.squared);
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
        await keeper.empty().catch(() => {}); // it is only asked about once more
      }
    } catch (e) {
      say(full(e) ? words.trace.noSpace
        : words.trace.notSaved((e as Error).message));
    }
    setSaving(false);
  };

  // What is written about a part is shown at its last vertex.
  const shown = find(sketch, selected);
  const end = shown && vertices(shown).length > 0 ? flat.view(vertices(shown)[vertices(shown).length - 1]) : undefined;
  const go = (to: Step) => { setStep(to); setDraft([]); use({ what: "move" }); say(""); };
  const ready = bare || (picture && canvas);
  const board = (
    <Board label={words.trace.board(sketch.features.length, sketch.features.map((f) => f.id).join(", "))}
      picture={picture} faint={faint} shapes={shapes} draft={draft} marks={marks} handles={handles}
      centre={step === "ties" || step === "parts" ? end : undefined} drawing={tool.what !== "move"} fitKey={`${canvas ? canvas.width : ""} ${sketch.sketch.unit} ${u?.per} ${step === "scale"}`}
      snap={(at, reach, handle) => snap(at, around(c, reach, handle !== undefined && selected ? { id: selected, index: movedIndex(sketch, selected, handle) } : undefined))}
      onPlace={(s) => place(c, s.at)} onPick={select} onHandle={(i, s, done) => onHandle(i, s.at, done)}>
      {picture && <button type="button" aria-pressed={faint} aria-label={words.trace.faint} onClick={() => setFaint(!faint)}>◐</button>}
    </Board>
  );
  return (
    <div class="trace" ref={root}>
      <header class="trace-head">
        <button type="button" onClick={() => (changed ? setLeaving(true) : p.leave())}>{words.trace.leave}</button>
        <nav aria-label={words.trace.stepsOf}>
          {steps.map((s) => (
            <button type="button" key={s} aria-current={step === s ? "step" : undefined} disabled={s !== "sheet" && !ready} onClick={() => go(s)}>{words.trace.steps[s]}</button>
          ))}
        </nav>
        <button type="button" aria-label={words.trace.undo} disabled={history.past.length === 0 && draft.length === 0} onClick={() => (draft.length ? setDraft(draft.slice(0, -1)) : setHistory(undo))}>↶</button>
        <button type="button" aria-label={words.trace.redo} disabled={history.future.length === 0} onClick={() => setHistory(redo)}>↷</button>
      </header>
      {trouble !== undefined && (
        <p class="trace-trouble" role="alert">
          {full(trouble) ? words.trace.full : words.trace.unkept((trouble as Error).message)}
        </p>
      )}
      {leaving && (
        <div class="trace-ask" role="alertdialog" aria-label={words.trace.leaveAsk}>
          <p>{trouble === undefined ? words.trace.leaveKept : words.trace.leaveLost}</p>
          {trouble === undefined && <button type="button" class="trace-main" onClick={p.leave}>{words.trace.leaveLater}</button>}
          <button type="button" onClick={() => keeper.empty().then(p.leave, p.leave)}>{words.trace.throwAway}</button>
          <button type="button" onClick={() => setLeaving(false)}>{words.trace.stay}</button>
        </div>
      )}
      <div class="trace-notice"><p class={said ? "trace-said" : "trace-unseen"} role="status">{said}</p></div>
      {step === "sheet" && !scan && <Choose choose={choose} busy={busy} blank={() => { setBare(true); go("draw"); }} />}
      {step === "sheet" && scan && <Square scan={scan} frame={frame ?? begun} setFrame={setFrame} choose={choose} done={laid} say={say} />}
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

/** same reports whether two values are written alike in a file. */
const same = (a: unknown, b: unknown) => JSON.stringify(a ?? null) === JSON.stringify(b ?? null);

/** moved returns places with one of them moved, or a new one put in after it. */
function moved(v: readonly Vec[], m: { index: number; at: Vec; between: boolean }): Vec[] {
  return m.between ? [...v.slice(0, m.index + 1), m.at, ...v.slice(m.index + 1)] : v.map((q, i) => (i === m.index ? m.at : q));
}

/** movedIndex gives the corner that a handle moves; of a place between two, none that is there yet. */
function movedIndex(s: Sketch, id: string, handle: number): number {
  const f = find(s, id);
  return f && handle < vertices(f).length ? handle : -1;
}
