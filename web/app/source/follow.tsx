// What to do before another hole: follow the pipe or trench that lies open, push a
// cable or a camera from the tank, or try the rod.
import type { Proposal } from "./answer";
import { Mind } from "./card";
import { to } from "./route";

export function First({ step, job }: { step: Proposal; job: string }) {
  const rod = step.action === "rod";
  return (
    <section class="doubt" aria-label={rod ? "Try the rod" : step.says ? "Push from the tank" : "Follow the line"}>
      <p>
        <b>{rod ? step.grid?.says : (step.way?.says ?? step.says)}</b>
      </p>
      <Mind findings={step.findings} />
      <p class="row">
        <a class="button" href={to("measure", job, { rod: "rod", follow: "followed", sonde: "sonde" }[step.action as string] ?? "")}>
          {rod ? "Log what the rod felt" : step.says ? "Log what was pushed" : "Log what was followed"}
        </a>
      </p>
    </section>
  );
}
