// The plan of the site: the screen that everything else is reached from.
import { useEffect, useRef, useState } from "preact/hooks";
import type { Believed } from "./believe";
import { Card } from "./card";
import { Event, finds } from "./found";
import { First } from "./first";
import { useStore } from "./context";
import { Doubts, useBlamed } from "./doubt";
import { words } from "./language";
import { Legend } from "./legend";
import { SiteMap, type Turned } from "./map";
import { Under } from "./pictures";
import * as position from "./position";
import { back, go, to, useRoute } from "./route";
import { About, Strip } from "./strip";
import { unitOf } from "./units";
import { beforehand, holesOf } from "./steps";

export function PlanScreen({ state }: { state: Believed }) {
  useStore();
  const { job, belief, plan } = state;
  const unit = unitOf(job.settings);
  const [picked, pick] = useState("");
  const blamed = useBlamed(state);
  const found = finds(state).length > 0;
  const first = beforehand(plan);
  return (
    <div class="planscreen">
      <Site state={state} pick={pick} />
      {job.sketch && <Strip state={state} unit={unit} />}
      <div class="under">
        {state.wrong.length > 0 && (
          <div class="warning" role="alert">
            {state.wrong.map((w) => (
              <p key={w}>▲ {w}</p>
            ))}
          </div>
        )}
        {!job.sketch && (
          <p class="pad">
            {words.plan.noSketch} <a class="button" href={to("trace", job.id)}>{words.plan.trace}</a>
          </p>
        )}
        {job.sketch && <About state={state} blamed={blamed} unit={unit} />}
        <Event state={state} />
        {first && !plan?.doubtful && <First step={first} job={job.id} />}
        <Doubts state={state} blamed={blamed} />
        {picked && belief && <Card what={picked} job={job} belief={belief} plan={plan} unit={unit} close={() => pick("")} />}
      </div>
      <nav class="actions" aria-label={words.plan.do}>
        <a class={found ? "button" : "go"} href={to("log", job.id)}>
          {words.plan.logHole}
        </a>
        <a class="button" href={to("measure", job.id)}>
          {words.plan.measure}
        </a>
        {!found && (
          <a class="button" href={to("guide", job.id)}>
            {words.plan.guide}
          </a>
        )}
      </nav>
    </div>
  );
}

/** The map with its tools. */
function Site({ state, pick }: { state: Believed; pick: (what: string) => void }) {
  const target = useRef<HTMLDivElement>(null);
  const map = useRef<SiteMap | null>(null);
  const [turned, turn] = useState<Turned>("north");
  const [angle, setAngle] = useState(0);
  const [watching, watch] = useState(false);
  const [says, say] = useState("");
  const { belief, plan, job } = state;
  // An address of its own: Back closes it.
  const legend = useRoute().about === "legend";

  useEffect(() => {
    const m = (map.current = new SiteMap(target.current!, pick));
    m.onRotate(setAngle);
    const resized = new ResizeObserver(() => m.fitSize());
    resized.observe(target.current!);
    return () => {
      resized.disconnect();
      m.end();
    };
  }, []);

  useEffect(() => {
    if (belief) map.current?.show(belief, plan, unitOf(job.settings));
  }, [belief, plan]);

  useEffect(() => {
    if (!watching) return map.current?.self(null);
    const origin = belief?.origin;
    if (!origin) return say(words.plan.noFix);
    return position.watch((f) => {
      map.current?.self(position.toFrame(f, origin), f.accuracy);
      say(words.plan.myPosition(f.accuracy.toFixed(0)));
    }, say);
  }, [watching, belief?.origin]);

  const north = useRef<HTMLSpanElement>(null);
  useEffect(() => void (north.current && (north.current.style.transform = `rotate(${angle}deg)`)), [angle]);

  return (
    <section class="site" aria-label={words.plan.site}>
      <div class="map" ref={target} tabIndex={0} role="application" aria-label={describe(state)} />
      <div class="maptools" role="toolbar" aria-label={words.plan.map}>
        <button type="button" aria-label={words.plan.closer} onClick={() => map.current?.zoom(1.6)}><Sign d="M4 12h16M12 4v16" /></button>
        <button type="button" aria-label={words.plan.farther} onClick={() => map.current?.zoom(1 / 1.6)}><Sign d="M4 12h16" /></button>
        <button type="button" aria-label={words.plan.whole} onClick={() => map.current?.all()}><Sign d="M4 9V4h5M15 4h5v5M20 15v5h-5M9 20H4v-5" /></button>
        <button
          type="button"
          class="northkey"
          aria-label={turned === "north" ? words.plan.northUp : words.plan.alongHouse}
          onClick={() => {
            const how = turned === "north" ? "house" : "north";
            turn(how);
            map.current?.turn(how);
          }}
        >
          <span ref={north} class="needle" aria-hidden="true"><Sign d="M12 22V3M6 10l6-7l6 7" /><small>N</small></span>
        </button>
        <button type="button" aria-label={words.legend.label} onClick={() => go("plan", job.id, "legend")}><Sign d="M4 6h3M4 12h3M4 18h3M11 6h9M11 12h9M11 18h9" /></button>
        <button type="button" aria-label={words.plan.position} aria-pressed={watching} onClick={() => (watch(!watching), say(""))}><Sign d="M12 3v4M12 17v4M3 12h4M17 12h4M12 8a4 4 0 1 0 0 8a4 4 0 1 0 0-8" /></button>
      </div>
      <Under state={state} map={map} />
      {belief && legend && <Legend belief={belief} plan={plan} close={() => back(to("plan", job.id))} />}
      {says && <p class="mapword" role="status">{says}</p>}
      {belief?.frame.kind === "local" && <p class="frame">{words.plan.sheetUp}</p>}
    </section>
  );
}

/** An icon on a key, drawn so that no font is needed for it. */
function Sign({ d }: { d: string }) {
  return (
    <svg class="sign" viewBox="0 0 24 24" aria-hidden="true">
      <path d={d} />
    </svg>
  );
}

/** The map in words, for those who cannot see it. */
function describe({ belief, plan }: Believed): string {
  if (!belief) return words.plan.notYet;
  const [next] = holesOf(plan);
  const ties = next?.ties.slice(0, 2).map((t) => words.plan.metresFrom(t.distance.toFixed(1), t.from)) ?? [];
  return words.plan.described(belief.corridors.length, belief.holes.length, words.common.and(ties));
}
