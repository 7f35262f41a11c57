// Lays a picture by coordinates: those of its world file, in a system that is said.
import { useState } from "preact/hooks";
import type { Belief } from "../source/answer";
import type { Believed } from "../source/believe";
import { Refusal, stage } from "../source/engine";
import { laidBy, notes } from "../source/notes";
import { toFrame } from "../source/position";
import { length, unitOf } from "../source/units";
import { Words } from "../source/form";
import { Choice } from "../trace/fields";
import type { Save } from "./add";
import { through, type Lie, type Vec } from "./lay";
import { small, type Opened } from "./open";
import { around, cornersOf, likely, windowOf, type Window } from "./window";
import { says } from "./language";

type System = "code" | "plan";

/** The corners of a window of a picture by its world file, upper left first and clockwise. */
const cornersBy = (world: Lie, { left, top, width, height }: Window): Vec[] => cornersOf([width, height]).map(([x, y]) => through(world, [left + x, top + y]));

/** The box around the site, metres: west, south, east, north. */
function siteOf(b: Belief): [number, number, number, number] {
  const all: Vec[] = [...b.spots.map((s): Vec => [s.east, s.north]), ...b.holes.map((h): Vec => [h.east, h.north]), ...b.outlines.flatMap((o) => o.now.flatMap((s) => s.vertices as Vec[]))];
  const [x, y] = [all.map((p) => p[0]), all.map((p) => p[1])];
  return [Math.min(...x), Math.min(...y), Math.max(...x), Math.max(...y)];
}

export function Coordinates({ picture, state, save, tap }: { picture: Opened; state: Believed & { belief: Belief }; save: Save; tap: () => void }) {
  const { job, belief } = state;
  const unit = unitOf(job.settings);
  const world = picture.world!;
  const { name, size } = picture;
  const tied = belief.frame.kind === "geodetic" && belief.origin;
  const [system, use] = useState<System>(tied ? "code" : "plan");
  const [code, type] = useState(() => world.crs || likely(world.lie, job.settings.crs, belief.origin));
  const [busy, work] = useState(false);
  const [wrong, say] = useState("");

  /** Places of the system on the earth or the plan, and in the frame of the job. */
  const place = async (corners: Vec[]) => {
    if (system === "plan") return { earth: undefined, ground: corners, named: notes.ownPlan };
    const a = await stage("lonlat", { crs: code, places: corners.map(([x, y]): [number, number] => [x, y]) });
    const ground = a.places.map((p) => toFrame(p, belief.origin!));
    return { earth: a.places.map((p): Vec => [p.lon, p.lat]), ground, named: a.name };
  };
  const lay = async () => {
    work(true);
    say("");
    try {
      const site = siteOf(belief);
      let window: Window = { left: 0, top: 0, width: size[0], height: size[1] };
      // Step by step, since the plane of the job is not that of a whole county.
      for (let before = Infinity; window.width * window.height < 0.5 * before; ) {
        const { ground } = await place(cornersBy(world.lie, window));
        const sides = [1, 3].map((i) => Math.hypot(ground[i][0] - ground[0][0], ground[i][1] - ground[0][1]));
        if (Math.min(...sides) < 2) throw new Error(says.tooFine(length(sides[0], unit), length(sides[1], unit)));
        const next = windowOf([window.width, window.height], ground, site, around + Math.max(...sides) / 50);
        if (!next) {
          const far = Math.hypot(...[0, 1].map((i) => (ground[0][i] + ground[2][i] - site[i] - site[2 + i]) / 2));
          throw new Error(says.elsewhere(name, far > 2000 ? `${(far / 1000).toFixed(0)} km` : length(far, unit)));
        }
        before = window.width * window.height;
        window = { ...next, left: window.left + next.left, top: window.top + next.top };
      }
      const kept = await small(picture, window);
      const { earth, ground: plan, named } = await place(cornersBy(world.lie, window));
      await save(earth ? { corners: earth } : { plan }, laidBy(name, named), kept);
    } catch (e) {
      say(e instanceof Refusal ? `${e.message}.` : (e as Error).message);
      work(false);
    }
  };
  return (
    <div class="trace-panel trace-choose">
      <p>{world.name === name ? says.fromItself(name) : says.fromFile(world.name)}</p>
      {!tied && <p class="trace-bad">▲ {says.noFix}</p>}
      <div class="trace-row">
        <Choice label={says.system} value={system} set={(v) => use(v as System)} options={(tied ? (["code", "plan"] as const) : (["plan"] as const)).map((v) => [v, says.systems[v]] as const)} />
      </div>
      {system === "code" && <Words label={says.code} value={code} onInput={type} hint={world.crs ? says.datum : `${says.codeHint} ${says.datum}`} />}
      {wrong && <p class="trace-bad" role="alert">▲ {wrong}</p>}
      <div class="trace-row">
        {busy && <p role="status">{says.opening}</p>}
        <button type="button" class="trace-main" disabled={busy || (system === "code" && !code)} onClick={lay}>{says.save}</button>
        <button type="button" onClick={tap}>{says.tapInstead}</button>
      </div>
    </div>
  );
}
