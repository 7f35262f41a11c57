// How drawing and field agree: the fit, the suspects, and what would be
// believed without them.
import { useEffect, useState } from "preact/hooks";
import type { Belief, Without as Answer } from "./answer";
import { asked, type Believed } from "./believe";
import { Chart } from "./chart";
import { stage } from "./engine";
import { words } from "./language";
import { notes } from "./notes";
import { depth, length, unitOf } from "./units";
import { Withdraw } from "./withdraw";
import { radius, rowText, spotName } from "./words";

export function FitPanel({ state }: { state: Believed }) {
  const { belief, job } = state;
  const unit = unitOf(job.settings);
  if (!belief) return null;
  const f = belief.fit;
  return (
    <section class="panel" aria-label={words.fit.title}>
      <h2>{words.fit.tightened}</h2>
      {belief.history && belief.history.length > 0 ? <Chart steps={belief.history} unit={unit} large /> : <p>{words.fit.noHoles}</p>}
      <h2>{words.fit.title}</h2>
      <dl class="facts">
        <div class="fact"><dt>{words.fit.numbers}</dt><dd>{f.readings}</dd></div>
        <div class="fact"><dt>{words.fit.redundancy}</dt><dd>{f.redundancy.toFixed(1)}</dd></div>
        <div class="fact"><dt>{words.fit.variance}</dt><dd>{f.variance_factor.toFixed(2)}</dd></div>
        <div class="fact"><dt>{words.fit.turned}</dt><dd>{f.rotation.toFixed(1)}° ± {(1.96 * f.rotation_sigma).toFixed(1)}°</dd></div>
      </dl>
      {f.mirrored && <p class="warning">{words.fit.mirrored}</p>}
      <Without state={state} />
      <Parts belief={belief} unit={unit} />
    </section>
  );
}

/** The suspects, and the sought place with and without each. */
function Without({ state }: { state: Believed }) {
  const { job, belief } = state;
  const unit = unitOf(job.settings);
  const suspects = (belief?.fit.suspects ?? []).filter((s) => job.rows.some((r) => r.id === s.reading));
  const [answers, set] = useState<Record<string, Answer | null>>({});
  useEffect(() => {
    set({});
    let stale = false;
    (async () => {
      for (const s of suspects) {
        const b = await stage("without", { job: asked(job), drop: [s.reading] }).catch(() => null);
        if (stale) return;
        set((a) => ({ ...a, [s.reading]: b }));
      }
    })();
    return () => {
      stale = true;
    };
  }, [belief]);
  if (!suspects.length || !belief) return <p>{words.fit.noDoubt}</p>;
  const line = (b: Pick<Answer, "sought" | "fit">) =>
    b.sought ? words.fit.within(length(b.sought.radius95, unit), b.fit.variance_factor.toFixed(2)) : words.fit.nowhere;
  const moved = (b: Answer) =>
    b.sought && belief.sought ? words.fit.away(length(Math.hypot(b.sought.east - belief.sought.east, b.sought.north - belief.sought.north), unit)) : "";
  return (
    <>
      <h2>{words.fit.inDoubt}</h2>
      {suspects.map((s) => (
        <div class="doubt" key={s.reading}>
          <p>
            <b>▲ {rowText(job.rows.find((r) => r.id === s.reading)!)}</b>: {s.says}
          </p>
          <p>
            {words.fit.withIt(line(belief))} <br />
            {words.fit.withoutIt(answers[s.reading] === undefined ? words.fit.working : answers[s.reading] ? `${line(answers[s.reading]!)}${moved(answers[s.reading]!)}.` : words.fit.noAnswer)}
          </p>
          <Withdraw job={job} rows={job.rows.filter((r) => r.id === s.reading)} note={notes.doubt} />
        </div>
      ))}
    </>
  );
}

/** Every part with its state, radius and depth: the plan as a table. */
function Parts({ belief, unit }: { belief: Belief; unit: ReturnType<typeof unitOf> }) {
  return (
    <>
      <h2>{words.fit.parts}</h2>
      <div class="tablebox" tabIndex={0} role="region" aria-label={words.fit.table}>
        <table>
          <thead>
            <tr><th scope="col">{words.fit.part}</th><th scope="col">{words.fit.state}</th><th scope="col">{words.fit.radius}</th><th scope="col">{words.fit.depth}</th></tr>
          </thead>
          <tbody>
            {belief.spots.filter((s) => s.kind !== "landmark").map((s) => (
              <tr key={s.part + s.spot}>
                <th scope="row">{spotName(s)}</th>
                <td>{words.parts.state[s.state]}</td>
                <td class="number">{length(radius(s), unit)}</td>
                <td class="number depth">
                  {s.depth != null && (
                    <>
                      {depth(s.depth, s.depth_sigma, unit)} {words.parts.depthTo[s.depth_to ?? "top"]}
                    </>
                  )}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </>
  );
}
