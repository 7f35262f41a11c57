// Log a hole: where, what, how deep. Three taps and the numbers.
import { useState } from "preact/hooks";
import type { Believed } from "./believe";
import { Cautions } from "./card";
import { useBook } from "./context";
import type { Row } from "./entry";
import { Choice, Screen } from "./form";
import { Keypad } from "./keypad";
import { go, to } from "./route";
import { depth, length, nothingTyped, text, unitOf } from "./units";
import { What, type Met } from "./what";
import { Where, type Placed } from "./where";
import { freeName, partName } from "./words";

export function LogScreen({ state }: { state: Believed }) {
  const book = useBook();
  const { job, belief, plan } = state;
  const unit = unitOf(job.settings);
  const [name] = useState(() => freeName("H", book.tag, job.sketch, job.rows));
  const [placed, place] = useState<Placed | null>(null);
  const [met, meet] = useState<Met | null>(null);
  const [typed, type] = useState(nothingTyped);
  const [feature, setFeature] = useState("top");

  const save = async () => {
    const deep = text(typed, unit);
    const row: Row = { kind: met!.kind, point: name };
    if (deep) row.depth = deep;
    if (met!.kind === "found") Object.assign(row, { target: met!.target, spot: met!.spot, feature });
    await book.logged(job.id, [...placed!.rows(name), row], met!.kind === "found" ? `${name} met ${met!.target}` : `${name} met nothing`);
    go("plan", job.id);
  };

  if (!placed) {
    return (
      <Screen title={`Log hole ${name}`} back={to("plan", job.id)}>
        <Where state={state} unit={unit} done={place} />
      </Screen>
    );
  }
  if (!met) {
    return (
      <Screen title={`Log hole ${name}`} back={to("plan", job.id)}>
        <Done says={placed.says} again={() => place(null)} />
        <What
          job={job}
          likely={plan?.holes[0]?.seeks ?? []}
          done={(m) => {
            meet(m);
            setFeature(m.kind === "found" && partKind(m.target) === "header" ? "crown" : "top");
          }}
        />
      </Screen>
    );
  }
  function partKind(id: string) {
    return String(job.sketch?.features.find((f) => String(f.id) === id)?.properties?.part ?? id);
  }
  const target = met.kind === "found" ? met.target : "";
  const spot = belief?.spots.find((s) => s.part === target || s.kind === target);
  const next = plan?.holes[0];
  return (
    <Screen title={`Log hole ${name}`} back={to("plan", job.id)}>
      <Done says={placed.says} again={() => place(null)} />
      <Done says={met.kind === "found" ? `met ${partName(target, partKind(target))}${met.spot === "on" || met.spot === "center" ? "" : `, ${met.spot}`}` : "met nothing"} again={() => meet(null)} />
      {met.kind === "found" ? (
        <>
          <Choice
            label="Depth down to the"
            value={feature}
            onChange={setFeature}
            options={[["top", "top"], ["crown", "top of pipe"], ["invert", "invert"], ["bottom", "bottom"]]}
          />
          {spot?.depth != null && <p class="hint">Expected {depth(spot.depth, spot.depth_sigma, unit)} to the {spot.depth_to ?? "top"}.</p>}
        </>
      ) : (
        <p class="hint">How deep did you go?{next ? ` The plan calls it empty at ${length(next.stop_depth, unit)}.` : ""}</p>
      )}
      <Keypad unit={unit} value={typed} onInput={type} label={met.kind === "found" ? "How deep" : "Empty down to"} done={text(typed, unit) ? "Save" : "Save without depth"} onDone={save} />
      <Cautions />
    </Screen>
  );
}

/** What was said in an earlier step, with a way back to it. */
function Done({ says, again }: { says: string; again: () => void }) {
  return (
    <p class="done">
      <span>✓ {says}</span>
      <button type="button" class="plain" onClick={again}>
        change
      </button>
    </p>
  );
}
