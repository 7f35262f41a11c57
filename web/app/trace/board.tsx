// The board: the picture and, over it, what is drawn. One finger draws or moves
// a corner, two move the sheet; while a finger hides the place, a loupe shows it.

import type { ComponentChildren } from "preact";
import { useCallback, useEffect, useLayoutEffect, useRef, useState } from "preact/hooks";
import { type Vec, add, dist, inside, nearestOn, sub } from "./geometry";
import { words } from "./language";
import type { Snapped } from "./snap";
import type { Form } from "./sketch";
import { Loupe } from "./loupe";
import { type View, fit, pan, pinch, toBoard, toPlane, zoom } from "./view";

export interface Picture {
  canvas: HTMLCanvasElement;
  at: Vec; // of its lower left corner, in the plane
  per: number; // units to a pixel
}

export interface Shape {
  id: string;
  kind: string;
  label: string;
  pieces: { form: Form; at: Vec[] }[];
  selected: boolean;
}

export interface Handle {
  at: Vec;
  says: string; // drawn beside it
  small?: boolean; // a place between two corners, where a new one may be pulled out
}

export interface BoardProps {
  label: string;
  picture?: Picture;
  faint?: boolean;
  shapes: Shape[];
  draft?: Vec[];
  marks?: { at: Vec[]; says: string }[]; // scale and north
  handles: Handle[];
  drawing: boolean; // a touch sets a place
  centre?: Vec; // brought into view when it changes
  clear?: boolean; // the whole is fitted above the buttons, which would cover what is to be dragged
  fitKey: string; // the view is fitted again when this changes
  snap?: (p: Vec, reach: number, handle?: number) => Snapped;
  onPlace?: (s: Snapped, viewReach: number) => void;
  onPick?: (id: string | undefined) => void;
  onHandle?: (i: number, s: Snapped, done: boolean) => void;
  children?: ComponentChildren;
}

type Press =
  | { what: "place" | "pan" | "tap"; start: Vec; moved: boolean; touch: boolean }
  | { what: "handle"; i: number; grip: Vec; start: Vec; moved: boolean; touch: boolean }
  | { what: "pinch" };

const still = 8; // pixels that a tap may wander

export function Board(p: BoardProps) {
  const box = useRef<HTMLDivElement>(null);
  const paper = useRef<HTMLCanvasElement>(null);
  const fingers = useRef(new Map<number, Vec>());
  const press = useRef<Press | undefined>(undefined);
  const [size, setSize] = useState<Vec>([0, 0]);
  const [view, setView] = useState<View>({ k: 1, x: 0, y: 0 });
  const [aim, setAim] = useState<Snapped & { touch: boolean }>();
  const fitted = useRef("");
  const touched = useRef(false); // the view is as it was set by hand

  useLayoutEffect(() => {
    const el = box.current!;
    const measure = () => setSize([el.clientWidth, el.clientHeight]);
    measure();
    const o = new ResizeObserver(measure);
    o.observe(el);
    return () => o.disconnect();
  }, []);

  const all = useCallback((): Vec[] => {
    const points = p.shapes.flatMap((s) => s.pieces.flatMap((q) => q.at));
    if (p.picture) {
      const { canvas, at, per } = p.picture;
      points.push(at, add(at, [canvas.width * per, canvas.height * per]));
    }
    return points;
  }, [p.shapes, p.picture]);

  const whole = () => fit(all(), p.clear ? [size[0], size[1] - 56] : size, p.picture ? 8 : 40);

  const fitKey = `${p.fitKey} ${size[0]}`;
  useLayoutEffect(() => {
    // A board that changes its height under a finger keeps still; one that nobody has touched yet is fitted.
    if (size[0] === 0 || (fitted.current === fitKey && touched.current)) return;
    if (fitted.current !== fitKey) touched.current = false;
    fitted.current = fitKey;
    setView(whole());
  }, [fitKey, size]);

  const centre = p.centre?.join(" ");
  useEffect(() => {
    if (!p.centre || size[0] === 0) return;
    setView((v) => {
      const [x, y] = toBoard(v, p.centre!);
      const near = x > size[0] * 0.2 && x < size[0] * 0.7 && y > size[1] * 0.25 && y < size[1] * 0.65;
      return near ? v : pan(v, [size[0] * 0.4 - x, size[1] * 0.45 - y]);
    });
  }, [centre, size]);

  useEffect(() => {
    const c = paper.current!;
    const dpr = Math.min(window.devicePixelRatio || 1, 2);
    c.width = size[0] * dpr;
    c.height = size[1] * dpr;
    const pen = c.getContext("2d")!;
    pen.setTransform(dpr, 0, 0, dpr, 0, 0);
    pen.clearRect(0, 0, size[0], size[1]);
    if (!p.picture) return;
    const { canvas, at, per } = p.picture;
    const [x, y] = toBoard(view, add(at, [0, canvas.height * per]));
    pen.globalAlpha = p.faint ? 0.35 : 1;
    pen.imageSmoothingQuality = "high";
    pen.drawImage(canvas, x, y, canvas.width * per * view.k, canvas.height * per * view.k);
  }, [p.picture, p.faint, view, size]);

  const where = (e: PointerEvent | WheelEvent): Vec => {
    const r = box.current!.getBoundingClientRect();
    return [e.clientX - r.left, e.clientY - r.top];
  };
  // The loupe shows where a finger is: a wide reach would tie a lateral to the box beside it.
  const reach = (touch: boolean) => (touch ? 11 : 9) / view.k;
  const meant = (at: Vec, touch: boolean, handle?: number): Snapped =>
    p.snap ? p.snap(at, reach(touch), handle) : { at, to: "free" };

  const onDown = (e: PointerEvent) => {
    if (e.button > 1) return;
    const s = where(e);
    const touch = e.pointerType !== "mouse";
    touched.current = true;
    box.current!.setPointerCapture(e.pointerId);
    fingers.current.set(e.pointerId, s);
    if (fingers.current.size > 1) {
      // A second finger: the first was not meant to draw.
      if (press.current?.what === "handle") p.onHandle?.(press.current.i, { at: p.handles[press.current.i].at, to: "free" }, true);
      press.current = { what: "pinch" };
      setAim(undefined);
      return;
    }
    const i = e.button === 0 ? nearestHandle(p.handles, view, s, touch ? 28 : 16, p.drawing) : -1;
    if (i >= 0) {
      press.current = { what: "handle", i, grip: sub(p.handles[i].at, toPlane(view, s)), start: s, moved: false, touch };
      setAim({ at: p.handles[i].at, to: "free", touch });
    } else if (p.drawing && e.button === 0) {
      press.current = { what: "place", start: s, moved: false, touch };
      setAim({ ...meant(toPlane(view, s), touch), touch });
    } else {
      press.current = { what: e.button === 0 ? "tap" : "pan", start: s, moved: false, touch };
    }
    e.preventDefault();
  };

  const onMove = (e: PointerEvent) => {
    const s = where(e);
    const was = fingers.current.get(e.pointerId);
    const on = press.current;
    if (!was || !on) {
      if (p.drawing && e.pointerType === "mouse") setAim({ ...meant(toPlane(view, s), false), touch: false });
      return;
    }
    if (on.what === "pinch") {
      const others = [...fingers.current].filter(([id]) => id !== e.pointerId);
      if (others.length) {
        const o = others[0][1];
        setView((v) => pinch(v, [was, o], [s, o]));
      }
      fingers.current.set(e.pointerId, s);
      return;
    }
    on.moved = on.moved || dist(s, on.start) > still;
    if (on.what === "handle") {
      if (on.moved) {
        const to = meant(add(toPlane(view, s), on.grip), on.touch, on.i);
        setAim({ ...to, touch: on.touch });
        p.onHandle?.(on.i, to, false);
      }
    } else if (on.what === "place" && on.touch) {
      setAim({ ...meant(toPlane(view, s), true), touch: true });
    } else if (on.moved) {
      on.what = "pan"; // dragging with a mouse moves the sheet, whatever the tool
      setAim(undefined);
      setView((v) => pan(v, sub(s, was)));
    }
    fingers.current.set(e.pointerId, s);
  };

  const onUp = (e: PointerEvent) => {
    const s = where(e);
    if (!fingers.current.delete(e.pointerId)) return;
    const on = press.current;
    if (fingers.current.size > 0) return;
    press.current = undefined;
    setAim(undefined);
    if (!on || on.what === "pinch" || on.what === "pan") return;
    if (e.type === "pointercancel") {
      if (on.what === "handle") p.onHandle?.(on.i, { at: p.handles[on.i].at, to: "free" }, true);
      return;
    }
    if (on.what === "place") p.onPlace?.(meant(toPlane(view, s), on.touch), reach(on.touch));
    else if (on.what === "tap" && !on.moved) p.onPick?.(pick(p.shapes, view, s, on.touch ? 24 : 12));
    else if (on.what === "handle" && on.moved) p.onHandle?.(on.i, meant(add(toPlane(view, s), on.grip), on.touch, on.i), true);
    else if (on.what === "handle" && !p.handles[on.i].small) p.onHandle?.(on.i, { at: p.handles[on.i].at, to: "place" }, true);
  };

  const onWheel = (e: WheelEvent) => {
    e.preventDefault();
    touched.current = true;
    setView(zoom(view, Math.exp(-e.deltaY / 400), where(e)));
  };
  const about = (by: number) => {
    touched.current = true;
    setView(zoom(view, by, [size[0] / 2, size[1] / 2]));
  };
  const at = (q: Vec) => toBoard(view, q);
  const path = (v: readonly Vec[], closed = false) =>
    v.map((q, i) => `${i ? "L" : "M"}${at(q).map((n) => n.toFixed(1)).join(" ")}`).join("") + (closed ? "Z" : "");
  // Where the picture lies on the board, for tests that drive the screen from
  // outside.
  const lies = p.picture && [...at(add(p.picture.at, [0, p.picture.canvas.height * p.picture.per])),
    p.picture.canvas.width * p.picture.per * view.k, p.picture.canvas.height * p.picture.per * view.k].map((n) => n.toFixed(2)).join(" ");
  const line = p.draft && aim && press.current?.what !== "handle" ? [...p.draft, aim.at] : p.draft;

  return (
    <div class="trace-board" ref={box} data-picture={lies} onPointerDown={onDown} onPointerMove={onMove} onPointerUp={onUp}
      onPointerCancel={onUp} onPointerLeave={(e) => e.pointerType === "mouse" && !press.current && setAim(undefined)}
      onWheel={onWheel} onContextMenu={(e) => e.preventDefault()}>
      <canvas ref={paper} class="trace-paper" aria-hidden="true" />
      <svg class="trace-lines" width={size[0]} height={size[1]} role="img" aria-label={p.label}>
        {p.shapes.map((s) => <Drawn key={s.id} s={s} at={at} path={path} />)}
        {(p.marks ?? []).map((m) => (
          <g class="trace-mark" key={m.says}>
            <path class="trace-halo" d={path(m.at)} /><path d={path(m.at)} />
            {m.at.map((q) => <circle cx={at(q)[0]} cy={at(q)[1]} r={6} />)}
            {m.at.length > 0 && <Words at={at(m.at[m.at.length - 1])} says={m.says} />}
          </g>
        ))}
        {line && line.length > 0 && (
          <g class="trace-draft">
            <path class="trace-halo" d={path(line)} /><path d={path(line)} />
            {p.draft!.map((q, i) => <circle cx={at(q)[0]} cy={at(q)[1]} r={i ? 6 : 9} />)}
          </g>
        )}
        {aim?.guide && <path class="trace-guide" d={path(aim.guide)} />}
        {aim && <Aim at={at(aim.at)} to={aim.to} />}
        {p.handles.map((h, i) => (
          <g class={h.small ? "trace-handle trace-small" : "trace-handle"} key={i}>
            <circle cx={at(h.at)[0]} cy={at(h.at)[1]} r={h.small ? 7 : 11} />
            {h.small ? <path d={`M${at(h.at)[0] - 4} ${at(h.at)[1]}h8m-4 -4v8`} /> : h.says && <Words at={at(h.at)} says={h.says} />}
          </g>
        ))}
      </svg>
      {aim?.touch && p.picture && <Loupe picture={p.picture} at={aim.at} k={view.k * 2} to={aim.to} lines={[...(line ? [line] : []), ...p.shapes.flatMap((s) => s.pieces.map((q) => (q.form === "Polygon" ? [...q.at, q.at[0]] : q.at)))]} left={at(aim.at)[0] > size[0] / 2} />}
      <div class="trace-zoom" onPointerDown={(e) => e.stopPropagation()}>
        <button type="button" aria-label={words.board.closer} onClick={() => about(1.5)}>+</button>
        <button type="button" aria-label={words.board.further} onClick={() => about(1 / 1.5)}>−</button>
        <button type="button" aria-label={words.board.whole} onClick={() => setView(whole())}>▣</button>
        {p.children}
      </div>
    </div>
  );
}

function Drawn({ s, at, path }: { s: Shape; at: (v: Vec) => Vec; path: (v: readonly Vec[], closed?: boolean) => string }) {
  const first = s.pieces[0];
  if (!first || first.at.length === 0) return null;
  // Ties stand at the ends of a line: its name goes to its middle.
  const half = Math.floor(first.at.length / 2);
  const label: Vec = first.form === "LineString" ? [(first.at[half - 1][0] + first.at[half][0]) / 2, (first.at[half - 1][1] + first.at[half][1]) / 2] : first.form === "Point" ? first.at[0]
    : first.at.reduce<Vec>((m, q) => [m[0] + q[0] / first.at.length, m[1] + q[1] / first.at.length], [0, 0]);
  return (
    <g class={`trace-part trace-k-${s.kind}${s.selected ? " trace-on" : ""}`} data-part={s.id}>
      {s.pieces.map((q) => q.form === "Point"
        ? <Sign kind={s.kind} at={at(q.at[0])} />
        : <><path class="trace-halo" d={path(q.at, q.form === "Polygon")} /><path class="trace-stroke" d={path(q.at, q.form === "Polygon")} /></>)}
      <Words at={at(label)} says={s.label} />
    </g>
  );
}

/** Sign is a point part: its shape shows the kind without colour. */
function Sign({ kind, at: [x, y] }: { kind: string; at: Vec }) {
  const d = kind === "landmark" ? `M${x} ${y - 9}l9 16h-18z` : kind === "box" ? `M${x - 8} ${y - 8}h16v16h-16z`
    : kind === "tank" ? `M${x - 12} ${y - 7}h24v14h-24z` : kind === "well" ? `M${x - 8} ${y}a8 8 0 1 0 16 0a8 8 0 1 0 -16 0M${x - 6} ${y - 6}l12 12m0 -12l-12 12`
    : `M${x - 6} ${y}a6 6 0 1 0 12 0a6 6 0 1 0 -12 0`;
  return <><path class="trace-halo" d={d} /><path class="trace-stroke trace-sign" d={d} /></>;
}

const Words = ({ at: [x, y], says }: { at: Vec; says: string }) => <text x={x + 13} y={y - 9}>{says}</text>;

function Aim({ at: [x, y], to }: { at: Vec; to: Snapped["to"] }) {
  return (
    <g class="trace-aim">
      <path d={`M${x - 16} ${y}h12m8 0h12M${x} ${y - 16}v12m0 8v12`} />
      {to === "place" && <rect x={x - 9} y={y - 9} width={18} height={18} />}
      {(to === "line" || to === "crossing") && <path d={`M${x - 9} ${y - 9}l18 18m0 -18l-18 18`} />}
      {to === "square" && <path d={`M${x + 4} ${y - 10}h6v6`} />}
    </g>
  );
}

function nearestHandle(handles: Handle[], view: View, s: Vec, within: number, drawing: boolean): number {
  if (drawing) return -1;
  let best = -1;
  let near = within;
  // Corners win over the places between them where both are in reach.
  for (const small of [false, true]) {
    handles.forEach((h, i) => {
      const d = dist(toBoard(view, h.at), s);
      if (!!h.small === small && d < near) [best, near] = [i, d];
    });
    if (best >= 0) return best;
  }
  return best;
}

/** pick returns the part at a place of the board: lines and points before the areas around them. */
export function pick(shapes: readonly Shape[], view: View, s: Vec, within: number): string | undefined {
  let best: string | undefined;
  let near = within;
  let around: string | undefined;
  for (const shape of shapes) {
    for (const q of shape.pieces) {
      const v = q.at.map((c) => toBoard(view, c));
      if (q.form === "Polygon") {
        v.push(v[0]);
        if (inside(s, v)) around = shape.id;
      }
      const d = v.length === 1 ? dist(v[0], s) - 6 : Math.min(...v.slice(1).map((e, i) => dist(s, nearestOn(s, v[i], e))));
      if (d < near) [best, near] = [shape.id, d];
    }
  }
  return best ?? around;
}
