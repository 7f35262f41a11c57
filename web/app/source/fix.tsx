// A fix from the phone's receiver, averaged for as long as one stands still;
// the time and the spread are shown.
import { useEffect, useState } from "preact/hooks";
import { bold, Said } from "./bold";
import { words } from "./language";
import { meanOf } from "./notes";
import * as position from "./position";

const enough = 30; // seconds after which more adds little: fixes within a minute share their error

export function FixTaker({ label, onDone }: { label: string; onDone: (f: position.Fix, seconds: number, count: number) => void }) {
  const [fixes, set] = useState<position.Fix[]>([]);
  const [wrong, say] = useState("");
  const [start] = useState(Date.now());
  const [now, tick] = useState(Date.now());
  useEffect(() => position.watch((f) => (say(""), set((all) => [...all, f])), say), []);
  useEffect(() => {
    const t = setInterval(() => tick(Date.now()), 500);
    return () => clearInterval(t);
  }, []);
  const seconds = Math.round((now - start) / 1000);
  const mean = position.average(fixes);
  return (
    <div class="fixtaker">
      <p role="status" class="big">
        {mean ? words.fix.within(mean.accuracy.toFixed(1)) : words.fix.waiting}
      </p>
      <p>
        <Said text={words.fix.still(bold(`${seconds} s`), enough, fixes.length)} />
      </p>
      <progress max={enough} value={Math.min(seconds, enough)} aria-label={words.fix.averaged} />
      {wrong && <p class="warning">▲ {wrong}</p>}
      {mean && mean.accuracy > 8 && <p class="warning">{words.fix.coarse(mean.accuracy.toFixed(0))}</p>}
      <button type="button" class="go wide" disabled={!mean} onClick={() => mean && onDone(mean, seconds, fixes.length)}>
        {label}
      </button>
    </div>
  );
}

/** A fix as a row of the log. */
export function fixRow(point: string, f: position.Fix, seconds: number, count: number) {
  return {
    kind: "gnss", point, lon: f.lon.toFixed(8), lat: f.lat.toFixed(8), accuracy: f.accuracy.toFixed(2),
    note: meanOf(count, seconds),
  };
}
