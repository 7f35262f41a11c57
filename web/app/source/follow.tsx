// What to do before another hole: follow the pipe or trench that lies open, or try the
// rod.
import type { Proposal } from "./answer";
import { Mind } from "./card";
import { to } from "./route";

export function First({ step, job }: { step: Proposal; job: string }) {
  const rod = step.action === "rod";
  return (
    <section class="doubt" aria-label={rod ? "Try the rod" : "Follow the line"}>
      <p>
        <b>{rod ? step.grid?.says : step.way?.says}</b>
      </p>
      <Mind findings={step.findings} />
      <p class="row">
        <a class="button" href={to("measure", job, rod ? "rod" : "followed")}>
          {rod ? "Log what the rod felt" : "Log what was followed"}
        </a>
      </p>
    </section>
  );
}
