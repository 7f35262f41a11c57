// Guide me there: by the phone's receiver while it is good enough, else by two
// tapes, in figures that can be read at arm's length.
import { useEffect, useRef, useState } from "preact/hooks";
import type { Believed } from "./believe";
import { bold, Said } from "./bold";
import { Cautions, cautionsOf } from "./card";
import { Screen } from "./form";
import { words } from "./language";
import * as position from "./position";
import { to } from "./route";
import { depth, length, tape, unitOf } from "./units";
import { holesOf } from "./steps";

const good = 10; // metres: a receiver with a larger error cannot lead anybody to a hole

export function GuideScreen({ state }: { state: Believed }) {
  const { job, belief, plan } = state;
  const unit = unitOf(job.settings);
  const [next] = holesOf(plan);
  const origin = belief?.origin;
  const [fix, see] = useState<position.Fix | null>(null);
  const [wrong, say] = useState("");
  useEffect(() => (origin ? position.watch((f) => (say(""), see(f)), say) : undefined), [!!origin]);
  const back = to("plan", job.id);
  if (!next) {
    return (
      <Screen title={words.card.guide} back={back}>
        <p>{plan ? (plan.remark ?? words.guide.noHole) : words.guide.notYet}</p>
      </Screen>
    );
  }
  const here = fix && origin && position.toFrame(fix, origin);
  const away = here && Math.hypot(next.east - here[0], next.north - here[1]);
  const bearing = here ? ((Math.atan2(next.east - here[0], next.north - here[1]) * 180) / Math.PI + 360) % 360 : 0;
  const usable = fix && away != null && fix.accuracy <= good;
  return (
    <Screen title={words.card.guide} back={back}>
      {usable && away! > fix.accuracy ? (
        <section class="lead" aria-live="polite">
          <Arrow bearing={bearing - (fix.heading ?? 0)} />
          <p class="huge">{unit === "m" ? `${away!.toFixed(1)} m` : `${Math.round(away! / 0.3048)} ${words.units.signs.ft}`}</p>
          <p class="big">
            {position.wind(bearing)}, {Math.round(bearing)}°
          </p>
          <p>
            {fix.heading == null ? words.guide.arrowNorth(fix.accuracy.toFixed(0)) : words.guide.arrowWalk(fix.accuracy.toFixed(0))}
          </p>
        </section>
      ) : usable ? (
        <p class="big" role="status">{words.guide.near(fix.accuracy.toFixed(0))}</p>
      ) : (
        <p role="status">
          {origin ? wrong || (fix ? words.guide.coarse(fix.accuracy.toFixed(0)) : words.guide.waiting) : words.guide.noFix}
        </p>
      )}
      <section class="tapes" aria-label={words.guide.tapes}>
        {next.ties.slice(0, 2).map((t) => (
          <div class="tapefigure" key={t.from}>
            <span class="from">{t.from}</span>
            <span class="huge">{tape(t.distance, unit)}</span>
          </div>
        ))}
      </section>
      <p class="big">{next.side}</p>
      {next.ties[2] && <p>{words.guide.third(next.ties[2].from, tape(next.ties[2].distance, unit))}</p>}
      <p>
        <Said text={words.guide.expected(bold(depth(next.depth, next.depth_sigma, unit)), bold(length(next.stop_depth, unit)))} />
      </p>
      <Cautions list={cautionsOf(next)} />
      <a class="go wide" href={to("log", job.id)}>
        {words.plan.logHole}
      </a>
    </Screen>
  );
}

function Arrow({ bearing }: { bearing: number }) {
  const at = useRef<SVGGElement>(null);
  useEffect(() => at.current?.setAttribute("transform", `rotate(${bearing} 50 50)`), [bearing]);
  return (
    <svg class="arrow" viewBox="0 0 100 100" aria-hidden="true">
      <g ref={at}>
        <path d="M50 6 L74 60 L50 48 L26 60 Z" />
        <path class="shaft" d="M50 46 L50 94" />
      </g>
    </svg>
  );
}
