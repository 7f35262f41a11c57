// What to do before another hole: follow the pipe or trench that lies open, push a
// cable or a camera from the tank, or try the rod.
import type { Proposal } from "./answer";
import { Mind } from "./card";
import { words } from "./language";
import { to } from "./route";

/** Of each action: what it is, how its log is named, and where that is. */
const acts = (): { [action: string]: [name: string, log: string, where: string] } => {
  const w = words.first;
  return {
    follow: [w.follow, w.logFollowed, "followed"],
    rod: [w.rod, w.logRod, "rod"],
    cable: [w.push, w.logPushed, ""],
    sonde: [w.push, w.logPushed, "sonde"],
  };
};

export function First({ step, job }: { step: Proposal; job: string }) {
  const [name, log, where] = acts()[step.action] ?? acts().follow;
  return (
    <section class="doubt" aria-label={name}>
      <p>
        <b>{step.says}</b>
      </p>
      <Mind findings={step.findings} />
      <p class="row">
        <a class="button" href={to("measure", job, where)}>
          {log}
        </a>
      </p>
    </section>
  );
}
