// What to do before another hole: follow the pipe or trench that lies open.
import type { Proposal } from "./answer";
import { Mind } from "./card";
import { to } from "./route";

export function FollowFirst({ follow, job }: { follow: Proposal; job: string }) {
  return (
    <section class="doubt" aria-label="Follow the line">
      <p>
        <b>{follow.way?.says}</b>
      </p>
      <Mind findings={follow.findings} />
      <p class="row">
        <a class="button" href={to("measure", job, "followed")}>
          Log what was followed
        </a>
      </p>
    </section>
  );
}
