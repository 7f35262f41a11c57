// Lays a picture by tapping landmarks in it.
import { useMemo, useState } from "preact/hooks";
import type { Belief } from "../source/answer";
import type { Believed } from "../source/believe";
import { laidOn } from "../source/notes";
import { length, unitOf } from "../source/units";
import { partName, pointsOf } from "../source/words";
import { Board, type Handle } from "../trace/board";
import { Choice, Text } from "../trace/fields";
import type { Laying, Save } from "./add";
import { places } from "./kept";
import { judge, least, same, spread, through, upright, type Judged, type Kind, type Tie, type Vec } from "./lay";
import { cornersOf } from "./window";
import type { Small } from "./open";
import { says } from "./language";

interface Tap {
  at: Vec;
  on: string;
}

const kinds: Kind[] = ["similar", "affine", "oblique"];

// What no picture of a lot covers, metres across.
const [narrow, wide] = [2, 5000];

export function Taps({ laying, whole, state, save }: { laying: Laying; whole: Small; state: Believed & { belief: Belief }; save: Save }) {
  const { job, belief } = state;
  const unit = unitOf(job.settings);
  const { canvas } = whole;
  const size: Vec = [canvas.width, canvas.height];
  const known = places(belief);
  const options = pointsOf(job.sketch, job.rows).filter((p) => known.has(p.id));
  const [taps, set] = useState<Tap[]>(() => laying.old?.taps?.filter((t) => known.has(t.on)) ?? []);
  const [chosen, choose] = useState<Kind>(laying.old?.kind ?? "similar");
  const free = (all: Tap[]) => options.filter((o) => !all.some((t) => t.on === o.id));
  const [on, aim] = useState(() => (taps.length ? "" : (options[0]?.id ?? "")));
  const [busy, work] = useState(false);
  const [wrong, complain] = useState("");

  const picture = useMemo(() => ({ canvas, at: [0, 0] as Vec, per: 1 }), [canvas]);
  const flip = ([x, y]: Vec): Vec => [x, size[1] - y]; // the board's y runs up
  const put = (id: string, at: Vec) => {
    const inside: Vec = [Math.min(Math.max(at[0], 0), size[0]), Math.min(Math.max(at[1], 0), size[1])];
    const next = taps.some((t) => t.on === id) ? taps.map((t) => (t.on === id ? { ...t, at: inside } : t)) : [...taps, { on: id, at: inside }];
    set(next);
    // Two are needed; after those, marks are dragged unless another landmark is chosen.
    aim(next.length < 2 ? (free(next)[0]?.id ?? "") : "");
  };
  const handles: Handle[] = taps.map((t) => ({ at: flip(t.at), says: t.on }));

  const possible = kinds.filter((k) => (k === "oblique" ? taps.length === 4 : taps.length >= least[k]));
  const kind = possible.includes(chosen) ? chosen : "similar";
  const ties: Tie[] = taps.map((t) => ({ at: t.at, ...known.get(t.on)! }));
  const doubled = same(ties, size);
  const judged = doubled[0] < 0 ? judge(kind, ties) : undefined;
  const mirrored = judged && !ties.every((t) => upright(judged.lie, t.at));
  const sides = judged && sidesOf(judged, size);
  const strange = sides?.some((s) => !(s > narrow && s < wide));
  const doubt = judged?.apart || strange;
  const shown = (m: number) => length(m, unit);

  const lay = async () => {
    work(true);
    try {
      await save({ kind, taps: taps.map((t) => ({ at: [round(t.at[0]), round(t.at[1])], on: t.on })) }, laidOn(laying.picture.name, taps.map((t) => t.on).join(", ")), whole);
    } catch (e) {
      complain((e as Error).message);
      work(false);
    }
  };
  return (
    <div class="trace-work">
      <Board label={says.board} picture={picture} shapes={[]} drawing={on !== ""} fitKey={`${size}`} handles={handles}
        onPlace={(s) => on && put(on, flip(s.at))} onHandle={(i, s) => put(taps[i].on, flip(s.at))} />
      <div class="trace-panel">
        <p role="status">{taps.length === 0 && on === "" ? says.tapWhat : on ? says.tapNow(on) : says.moveNow}</p>
        <Choice label={says.landmarks} value={on} set={aim}
          options={[["", "—"] as const, ...(taps.length < 4 ? options : options.filter((o) => taps.some((t) => t.on === o.id))).map((o) => [o.id, says.landmark(o.id, o.name)] as const)]} />
        {possible.length > 1 && <Choice label={says.taken} value={kind} set={(v) => choose(v as Kind)} options={possible.map((k) => [k, says.kinds[k]] as const)} />}
        {doubled[0] >= 0 && <p class="trace-bad" role="alert">▲ {says.same(taps[doubled[0]].on, taps[doubled[1]].on)}</p>}
        {doubled[0] < 0 && taps.length >= least[kind] && !judged && <p class="trace-bad" role="alert">▲ {says.undetermined}</p>}
        {mirrored && <p class="trace-bad" role="alert">▲ {says.mirrored}</p>}
        {judged && !mirrored && <Verdict judged={judged} taps={taps} shown={shown} />}
        {judged && !mirrored && sides && (strange ? <p class="trace-bad" role="alert">▲ {says.strange(shown(sides[0]), shown(sides[1]))}</p> : <p>{says.covers(shown(sides[0]), shown(sides[1]))} {!judged.apart && kind !== "oblique" && <Good belief={belief} kind={kind} ties={ties} sigma={judged.sigma} shown={shown} />}</p>)}
        {wrong && <p class="trace-bad" role="alert">▲ {wrong}</p>}
        <div class="trace-row">
          <button type="button" class={doubt ? "" : "trace-main"} disabled={!judged || mirrored || busy} onClick={lay}>{doubt ? says.saveAnyway : says.save}</button>
        </div>
        {taps.length > 0 && (
          <ul class="taps">
            {taps.map((t, i) => (
              <li key={t.on}>
                <span>{judged && !judged.unchecked ? says.offBy(t.on, shown(judged.off[i])) : says.tapped(t.on)}</span>
                <button type="button" onClick={() => set(taps.filter((o) => o !== t))}>{says.takeBack(t.on)}</button>
              </li>
            ))}
          </ul>
        )}
        <p class="trace-hint">{says.kept(size[0], size[1], ...laying.picture.size)}</p>
        {taps.length > 0 && (
          <details>
            <summary>{says.numbers}</summary>
            {taps.map((t) => (
              <div class="trace-row" key={t.on}>
                <Text label={says.right(t.on)} mode="decimal" value={t.at[0].toFixed(1)} set={(v) => Number.isFinite(Number(v)) && put(t.on, [Number(v), t.at[1]])} />
                <Text label={says.down(t.on)} mode="decimal" value={t.at[1].toFixed(1)} set={(v) => Number.isFinite(Number(v)) && put(t.on, [t.at[0], Number(v)])} />
              </div>
            ))}
          </details>
        )}
      </div>
    </div>
  );
}

const round = (x: number) => Math.round(10 * x) / 10;

/** Width and height of what a picture covers, metres, along its middle. */
function sidesOf({ lie }: Judged, size: Vec): [number, number] {
  const [a, b, c, d] = cornersOf(size).map((p) => through(lie, p));
  const far = (p: Vec, q: Vec, r: Vec, s: Vec) => Math.hypot(p[0] + q[0] - r[0] - s[0], p[1] + q[1] - r[1] - s[1]) / 2;
  return [far(a, d, b, c), far(a, b, d, c)];
}

/** What the taps say of one another. */
function Verdict({ judged, taps, shown }: { judged: Judged; taps: Tap[]; shown: (m: number) => string }) {
  const { odd, apart, unchecked } = judged;
  if (unchecked) return <p class="trace-hint">{says.unchecked}</p>;
  if (!apart) return null;
  return <p class="trace-bad" role="alert">▲ {odd >= 0 ? says.odd(taps[odd].on, shown(judged.off[odd]), shown(judged.without)) : taps.length === 3 ? says.apartThree : says.apart}</p>;
}

/** How good the picture is where what is sought lies: far from the landmarks it gets worse. */
function Good({ belief, kind, ties, sigma, shown }: { belief: Belief; kind: Kind; ties: Tie[]; sigma: number; shown: (m: number) => string }) {
  const s = belief.spots.find((s) => s.part === belief.sought?.part) ?? belief.spots.find((s) => s.kind === "box");
  return s ? <>{says.good(partName(s.part, s.kind), shown(1.96 * spread(kind, ties, sigma, [s.east, s.north])))}</> : null;
}
