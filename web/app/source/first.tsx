// What to do before another hole: follow the pipe or trench that lies open, push a
// cable or a camera from the tank, or try the rod.
import type { Proposal } from "./answer";
import { Mind } from "./card";
import { to } from "./route";

/** Of each action: what it is, how its log is named, and where that is. */
const acts: { [action: string]: [name: string, log: string, where: string] } = {
  follow: ["Follow the line", "Log what was followed", "followed"],
  rod: ["Try the rod", "Log what the rod felt", "rod"],
  cable: ["Push from the tank", "Log what was pushed", ""],
  sonde: ["Push from the tank", "Log what was pushed", "sonde"],
};

export function First({ step, job }: { step: Proposal; job: string }) {
  const [name, log, where] = acts[step.action] ?? acts.follow;
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
