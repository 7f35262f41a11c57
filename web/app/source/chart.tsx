// The radius of what is sought after each hole: a small chart, and the same in
// words for those who cannot see it.
import type { HistoryStep as Step } from "./answer";
import { words } from "./language";
import { length, type Unit } from "./units";

const name = (s: Step) => s.after || words.strip.start;

export function Chart({ steps, unit, large = false }: { steps: Step[]; unit: Unit; large?: boolean }) {
  const [w, h, pad] = large ? [520, 220, 44] : [150, 46, 6];
  const most = Math.max(...steps.map((s) => s.radius95), 0.01);
  const x = (i: number) => pad + (i * (w - 2 * pad)) / Math.max(steps.length - 1, 1);
  const y = (r: number) => h - (large ? 30 : pad) - (r / most) * (h - (large ? 56 : 2 * pad));
  const said = steps.map((s) => `${name(s)} ${length(s.radius95, unit)}`).join(", ");
  return (
    <figure class={large ? "chart large" : "chart"}>
      <svg viewBox={`0 0 ${w} ${h}`} role="img" aria-label={words.strip.chart(said)}>
        <line class="axis" x1={pad} y1={y(0)} x2={w - pad} y2={y(0)} />
        <polyline class="curve" points={steps.map((s, i) => `${x(i)},${y(s.radius95)}`).join(" ")} />
        {steps.map((s, i) => (
          <g key={i}>
            <circle class="dot" cx={x(i)} cy={y(s.radius95)} r={large ? 5 : 3.5} />
            {large && (
              <text class="tick" x={x(i)} y={h - 10} text-anchor="middle">
                {name(s)}
              </text>
            )}
            {large && (
              <text class="value" x={x(i)} y={y(s.radius95) - 10} text-anchor="middle">
                {length(s.radius95, unit)}
              </text>
            )}
          </g>
        ))}
      </svg>
      {!large && <figcaption>{words.strip.chartOf}</figcaption>}
    </figure>
  );
}
