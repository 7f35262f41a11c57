// The desk: jobs at the left, the plan in the middle, table and documents at the
// right.
import { useEffect, useState } from "preact/hooks";
import { useBelief, type Believed } from "./believe";
import { useStore } from "./context";
import { Choice } from "./form";
import { FoundScreen } from "./found";
import { GuideScreen } from "./guide";
import { BringIn, JobList, JobsScreen } from "./jobs";
import { words } from "./language";
import { LogScreen } from "./log";
import { MeasureScreen } from "./measure";
import { namedTabs, Panel, tabs, type Tab } from "./more";
import { People } from "./people";
import { PlanScreen } from "./plan";
import type { Route } from "./route";
import { to } from "./route";
import { Header } from "./shell";

export function DeskScreen({ route }: { route: Route }) {
  const store = useStore();
  const job = route.job ? store.job(route.job) : null;
  return (
    <div class="deskframe">
      <Header job={job} desk />
      <nav class="left" aria-label={words.more.jobs}>
        <p class="row">
          <a class="button" href={to("jobs")}>
            {words.more.newJobPeople}
          </a>
        </p>
        <JobList open={route.job} />
        <BringIn />
      </nav>
      {job ? (
        <Open key={route.job} route={route} />
      ) : (
        <div class="wide">
          <JobsScreen />
          <People />
        </div>
      )}
    </div>
  );
}

function Open({ route }: { route: Route }) {
  const store = useStore();
  const state = useBelief(store, route.job);
  const [tab, show] = useState<Tab>("readings");
  const asked = route.screen === "more" && tabs.find((t) => t === route.about);
  useEffect(() => void (asked && show(asked)), [asked]);
  if (!state) return <main class="middle" id="main"><p class="pad" role="status">{words.common.working}</p></main>;
  return (
    <>
      <main class="middle" id="main" tabIndex={-1}>
        <Middle route={route} state={state} />
      </main>
      <aside class="right" aria-label={words.more.tables}>
        <Choice label={words.more.show} value={tab} onChange={show} options={namedTabs()} />
        <Panel tab={tab} state={state} about={route.screen === "readings" ? route.about : ""} />
      </aside>
    </>
  );
}

function Middle({ route, state }: { route: Route; state: Believed }) {
  switch (route.screen) {
    case "log":
      return <LogScreen state={state} />;
    case "measure":
      return <MeasureScreen key={route.about} state={state} about={route.about} />;
    case "found":
      return <FoundScreen key={route.about} state={state} about={route.about} />;
    case "guide":
      return <GuideScreen state={state} />;
    default:
      return <PlanScreen state={state} />;
  }
}
