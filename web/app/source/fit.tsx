// How drawing and field agree: the fit, the suspects, and what would be
// believed without them.
import { useEffect, useState } from "preact/hooks";
import type { Belief, Without as Answer } from "./answer";
import { asked, type Believed } from "./believe";
import { Chart } from "./chart";
import { stage } from "./engine";
import { depth, length, unitOf } from "./units";
import { Withdraw } from "./withdraw";
import { depthTo, radius, rowText, spotName } from "./words";

export function FitPanel({ state }: { state: Believed }) {
  const { belief, job } = state;
  const unit = unitOf(job.settings);
  if (!belief) return null;
  const f = belief.fit;
  return (
    <section class="panel" aria-label="Fit">
      <h2>How the radius tightened</h2>
      {belief.history && belief.history.length > 0 ? <Chart steps={belief.history} unit={unit} large /> : <p>No holes yet.</p>}
      <h2>Fit</h2>
      <dl class="facts">
        <div class="fact"><dt>Numbers fitted</dt><dd>{f.readings}</dd></div>
        <div class="fact"><dt>Redundancy</dt><dd>{f.redundancy.toFixed(1)}</dd></div>
        <div class="fact"><dt>Variance factor</dt><dd>{f.variance_factor.toFixed(2)}</dd></div>
        <div class="fact"><dt>Sheet turned by</dt><dd>{f.rotation.toFixed(1)}° ± {(1.96 * f.rotation_sigma).toFixed(1)}°</dd></div>
      </dl>
      {f.mirrored && <p class="warning">▲ The sheet is mirrored.</p>}
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
  if (!suspects.length || !belief) return <p>No reading is in doubt.</p>;
  const line = (b: Pick<Answer, "sought" | "fit">) =>
    b.sought ? `within ${length(b.sought.radius95, unit)}, variance factor ${b.fit.variance_factor.toFixed(2)}` : "nothing says where it lies";
  const moved = (b: Answer) =>
    b.sought && belief.sought ? `, ${length(Math.hypot(b.sought.east - belief.sought.east, b.sought.north - belief.sought.north), unit)} away` : "";
  return (
    <>
      <h2>In doubt</h2>
      {suspects.map((s) => (
        <div class="doubt" key={s.reading}>
          <p>
            <b>▲ {rowText(job.rows.find((r) => r.id === s.reading)!)}</b>: {s.says}
          </p>
          <p>
            With it: {line(belief)}. <br />
            Without it: {answers[s.reading] === undefined ? "working it out …" : answers[s.reading] ? `${line(answers[s.reading]!)}${moved(answers[s.reading]!)}.` : "no answer."}
          </p>
          <Withdraw job={job} rows={job.rows.filter((r) => r.id === s.reading)} note={`in doubt: ${s.says}`} />
        </div>
      ))}
    </>
  );
}

/** Every part with its state, radius and depth: the plan as a table. */
function Parts({ belief, unit }: { belief: Belief; unit: ReturnType<typeof unitOf> }) {
  return (
    <>
      <h2>Parts</h2>
      <div class="tablebox" tabIndex={0} role="region" aria-label="Table of parts">
        <table>
          <thead>
            <tr><th scope="col">Part</th><th scope="col">State</th><th scope="col">Within</th><th scope="col">Depth</th></tr>
          </thead>
          <tbody>
            {belief.spots.filter((s) => s.kind !== "landmark").map((s) => (
              <tr key={s.part + s.spot}>
                <th scope="row">{spotName(s)}</th>
                <td>{s.state}</td>
                <td class="number">{length(radius(s), unit)}</td>
                <td class="number depth">
                  {s.depth != null && (
                    <>
                      {depth(s.depth, s.depth_sigma, unit)} {depthTo[s.depth_to ?? "top"]}
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
