// What the signs and lines of the map mean: each drawn with the style that the map
// draws it with, and only those that are on it.
import { useEffect, useRef } from "preact/hooks";
import type { Style } from "../vendor/ol.js";
import type { Belief, DigPlan } from "./answer";
import * as ink from "./ink";
import { words } from "./language";
import { beforehand, holesOf } from "./steps";

type Form = "sign" | "line" | "area";

/** What is explained: whether it is on the map, how it is drawn, what it means. */
type Entry = [on: boolean, form: Form, styles: Style[], says: string];

function entries(b: Belief, plan: DigPlan | null): Entry[] {
  const [first, second] = holesOf(plan);
  const follow = beforehand(plan);
  const state = (s: string) => b.corridors.some((c) => c.state === s);
  const kind = (...kinds: string[]) => b.outlines.some((o) => kinds.includes(o.kind));
  const result = (...results: (string | undefined)[]) => b.holes.some((h) => results.includes(h.result));
  return [
    [!!first, "sign", ink.next, words.legend.next],
    [!!first, "line", [ink.tapeLine], words.legend.tape],
    [!!second, "sign", [ink.later], words.legend.later],
    [follow?.action === "follow", "line", [ink.followLine], words.legend.follow],
    [!!follow?.stabs, "sign", [ink.stab], words.legend.stab],
    [result("found"), "sign", [ink.met], words.legend.met],
    [result("empty"), "sign", ink.empty, words.legend.empty],
    [b.holes.some((h) => h.result !== "found" && h.result !== "empty"), "sign", [ink.stake], words.legend.stake],
    [b.spots.some((s) => s.kind === "box"), "sign", [ink.boxMark("seen")], words.legend.box],
    [state("seen"), "line", [ink.partLine("seen")], words.legend.seen],
    [state("inferred"), "line", [ink.partLine("inferred")], words.legend.inferred],
    [state("recorded"), "line", [ink.partLine("recorded")], words.legend.recorded],
    [b.corridors.length > 0, "area", [ink.band], words.legend.corridor],
    [b.spots.some((s) => s.kind !== "landmark"), "area", [ink.region], words.legend.region],
    [true, "line", [ink.old], words.legend.old],
    [kind("utility", "no-dig") || b.outlines.some((o) => (o.clearance ?? 0) > 0), "line", [ink.clearance(0.5, 0.06), ink.danger], words.legend.danger],
    [b.spots.some((s) => s.kind === "landmark"), "sign", [ink.landmark], words.legend.landmark],
    [kind("building"), "area", [ink.building], words.legend.building],
    [kind("boundary", "well", "water", "driveway"), "line", [ink.context], words.legend.around],
  ];
}

/** One sign, line or area as the map draws it. */
function Sample({ form, styles }: { form: Form; styles: Style[] }) {
  const at = useRef<HTMLCanvasElement>(null);
  useEffect(() => {
    const k = devicePixelRatio;
    const c = Object.assign(at.current!, { width: 56 * k, height: 48 * k });
    const g = c.getContext("2d")!;
    g.scale(k, k);
    for (const s of styles) {
      const image = s.getImage();
      if (image) {
        const [w, h] = image.getSize()!; // it is drawn, not loaded
        g.drawImage(image.getImage(k) as CanvasImageSource, 28 - w / 2, 24 - h / 2, w, h);
        continue;
      }
      g.beginPath();
      if (form === "area") g.rect(6, 10, 44, 28);
      else [g.moveTo(2, 24), g.lineTo(54, 24)];
      const [fill, stroke] = [s.getFill(), s.getStroke()];
      if (fill) {
        g.fillStyle = fill.getColor() as string;
        g.fill();
      }
      if (!stroke) continue;
      g.strokeStyle = stroke.getColor() as string;
      g.lineWidth = stroke.getWidth() ?? 1;
      g.lineCap = "round"; // as the map's own
      g.setLineDash(stroke.getLineDash() ?? []);
      g.stroke();
    }
  }, []);
  return <canvas ref={at} class="sample" aria-hidden="true" />;
}

export function Legend({ belief, plan, close }: { belief: Belief; plan: DigPlan | null; close: () => void }) {
  const at = useRef<HTMLDialogElement>(null);
  useEffect(() => at.current!.showModal(), []);
  return (
    <dialog class="ask legend" ref={at} aria-label={words.legend.label} onCancel={(e) => (e.preventDefault(), close())}>
      <header class="row">
        <h2>{words.legend.title}</h2>
        <button type="button" class="button" onClick={close}>
          {words.common.close}
        </button>
      </header>
      <ul>
        {entries(belief, plan)
          .filter(([on]) => on)
          .map(([, form, styles, says]) => (
            <li key={says}>
              <Sample form={form} styles={styles} />
              {says}
            </li>
          ))}
      </ul>
      <p class="hint">{words.legend.undrawn}</p>
    </dialog>
  );
}
