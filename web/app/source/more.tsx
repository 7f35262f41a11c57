// Everything about a job beside its plan, on a phone: readings, dig plan, fit,
// documents, people.
import { useState } from "preact/hooks";
import type { Believed } from "./believe";
import { LanguageChoice } from "./chooser";
import { FitPanel } from "./fit";
import { Choice, Screen } from "./form";
import { Documents } from "./documents";
import { words } from "./language";
import { People } from "./people";
import { Readings } from "./readings";
import { to } from "./route";
import { DigPlan } from "./tree";

export type Tab = "readings" | "digplan" | "fit" | "documents" | "people";

/** The panels, for phone and desk. */
export const tabs: Tab[] = ["readings", "digplan", "fit", "documents", "people"];

/** The same with what they are called. */
export const namedTabs = () => tabs.map((t): [Tab, string] => [t, words.more.tabs[t]]);

export function Panel({ tab, state, about }: { tab: Tab; state: Believed; about: string }) {
  if (tab === "fit") return <FitPanel state={state} />;
  if (tab === "digplan") return <DigPlan state={state} />;
  if (tab === "documents") return <Documents state={state} />;
  if (tab === "people") return <People job={state.job.id} />;
  return <Readings state={state} about={about} />;
}

export function MoreScreen({ state, about }: { state: Believed; about: string }) {
  const asTab = tabs.some((t) => t === about);
  const [tab, show] = useState<Tab>(asTab ? (about as Tab) : "readings");
  return (
    <Screen title={state.job.settings.title || words.more.job} back={to("plan", state.job.id)}>
      <Choice label={words.more.show} value={tab} onChange={show} options={namedTabs()} />
      <Panel tab={tab} state={state} about={asTab ? "" : about} />
      <LanguageChoice />
    </Screen>
  );
}
