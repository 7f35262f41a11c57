// The app: opens the store, starts engine and exchange, shows the screens.
import { Fragment, render } from "preact";
import { useEffect, useState } from "preact/hooks";
import { useBelief } from "./believe";
import { language, speak, wanted, watchLanguage, words } from "./language";
import { Store } from "./store";
import { StoreContext, useStore, useDesk } from "./context";
import { DeskScreen } from "./desk";
import { start } from "./engine";
import { FoundScreen } from "./found";
import { GuideScreen } from "./guide";
import { JobsScreen } from "./jobs";
import { JoinScreen } from "./join";
import { LogScreen } from "./log";
import { MeasureScreen } from "./measure";
import { MoreScreen } from "./more";
import { PictureScreen } from "./pictures";
import { PlanScreen } from "./plan";
import { useRoute } from "./route";
import { Banners, Header } from "./shell";
import { persist } from "./database";
import { Sync } from "./sync";
import { TraceScreen } from "./tracing";
import { keepWhole, type Update } from "./update";

function App({ sync }: { sync: Sync }) {
  const route = useRoute();
  const [, turn] = useState(0); // of the language
  const [update, see] = useState<Update>({ ready: false, take: null });
  useEffect(() => keepWhole(see), []);
  useEffect(() => {
    document.documentElement.dataset.ready = String(update.ready);
  }, [update.ready]);
  const desk = useDesk();
  // Each screen begins at its top, for the eye and for a screen reader.
  useEffect(() => scrollTo(0, 0), [route.screen, route.about]);
  useEffect(() => watchLanguage(() => turn((n) => n + 1)), []);
  return (
    <Fragment key={language}>
      <a class="skip" href="#main" onClick={(e) => (e.preventDefault(), document.querySelector<HTMLElement>("main")?.focus())}>
        {words.shell.toContent}
      </a>
      <Banners update={update} job={route.job} />
      {route.screen === "join" ? (
        <JoinScreen token={route.about} sync={sync} />
      ) : desk && !["trace", "picture"].includes(route.screen) ? (
        <DeskScreen route={route} />
      ) : route.job ? (
        <JobScreen screen={route.screen} id={route.job} about={route.about} />
      ) : (
        <>
          <Header job={null} desk={false} />
          <JobsScreen />
        </>
      )}
    </Fragment>
  );
}

/** One job on a phone: one screen at a time. */
function JobScreen({ screen, id, about }: { screen: string; id: string; about: string }) {
  const store = useStore();
  const state = useBelief(store, id);
  if (!store.job(id)) {
    return (
      <main class="screen" id="main">
        <p class="pad">
          {words.shell.notHere} <a href="#/jobs">{words.shell.allJobs}</a>
        </p>
      </main>
    );
  }
  if (!state) return <main class="screen" id="main"><p class="pad" role="status">{words.common.working}</p></main>;
  switch (screen) {
    case "log":
      return <LogScreen state={state} />;
    case "measure":
      return <MeasureScreen key={about} state={state} about={about} />;
    case "found":
      return <FoundScreen key={about} state={state} about={about} />;
    case "guide":
      return <GuideScreen state={state} />;
    case "trace":
      return <TraceScreen job={state.job} />;
    case "picture":
      return <PictureScreen key={about} state={state} about={about} />;
    case "more":
    case "readings":
      return <MoreScreen state={state} about={about} />;
    default:
      return (
        <div class="phone">
          <Header job={state.job} desk={false} />
          <main id="main" tabIndex={-1} class="planmain">
            <PlanScreen state={state} />
          </main>
        </div>
      );
  }
}

async function begin() {
  const [store] = await Promise.all([Store.open(), speak(wanted())]);
  void start();
  void persist().then((kept) => {
    store.kept = kept;
    store.changed();
  });
  const sync = new Sync(store);
  const root = document.getElementById("app")!;
  root.textContent = "";
  render(
    <StoreContext.Provider value={store}>
      <App sync={sync} />
    </StoreContext.Provider>,
    root,
  );
  await sync.run();
}

begin().catch((e) => {
  document.getElementById("app")!.textContent = words.shell.noStart(e.message);
});
