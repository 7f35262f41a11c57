// What to do before another hole: follow the pipe or trench that lies open, or push a
// cable or a camera from the tank.
import type { Proposal } from "./answer";
import { Mind } from "./card";
import { to } from "./route";

export function FollowFirst({ follow, job }: { follow: Proposal; job: string }) {
  return (
    <section class="doubt" aria-label={follow.says ? "Push from the tank" : "Follow the line"}>
      <p>
        <b>{follow.way?.says ?? follow.says}</b>
      </p>
      <Mind findings={follow.findings} />
      <p class="row">
        <a class="button" href={to("measure", job, { follow: "followed", sonde: "sonde" }[follow.action as string] ?? "")}>
          {follow.says ? "Log what was pushed" : "Log what was followed"}
        </a>
      </p>
    </section>
  );
}
