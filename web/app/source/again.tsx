// Measure one reading again: the new one is logged and the old one withdrawn.
import { useState } from "preact/hooks";
import type { Believed } from "./believe";
import { useStore } from "./context";
import type { Row } from "./entry";
import { FixTaker, fixRow } from "./fix";
import { Keypad } from "./keypad";
import { Offset } from "./offset";
import { go } from "./route";
import { nothingTyped, text, unitOf } from "./units";
import { rowText } from "./words";

/** The columns of a row that a length was typed into. */
function column(r: Row): string {
  if (r.kind === "found" || r.kind === "empty") return "depth";
  return "value";
}

export function Again({ state, row }: { state: Believed; row: Row }) {
  const store = useStore();
  const unit = unitOf(state.job.settings);
  const [typed, type] = useState(nothingTyped);
  const suspect = state.belief?.fit.suspects?.find((s) => s.reading === row.id);
  const save = async (changed: Row) => {
    const { id, time, by, unit: _, ...rest } = row;
    await store.log(state.job.id, [{ kind: "void", target: row.id, note: "measured again" }]);
    await store.logged(state.job.id, [{ ...rest, ...changed }], `measured again: ${rowText({ ...rest, ...changed })}`);
    go("plan", state.job.id);
  };
  return (
    <>
      <p>
        Until now: <b>{rowText(row)}</b>
      </p>
      {suspect && <p class="warning">▲ {suspect.says}</p>}
      {row.kind === "gnss" ? (
        <FixTaker label="Use this position" onDone={(f, s, n) => save(fixRow(row.point, f, s, n))} />
      ) : row.kind === "baseline" ? (
        <Offset from={row.from} along={row.to} unit={unit} end="Save instead" done={(value, offset) => void save({ value, offset })} />
      ) : (
        <Keypad
          unit={row.kind === "bearing" ? "°" : unit}
          label={row.from ? `${row.from} to ${row.to}` : column(row)}
          value={typed}
          onInput={type}
          done="Save instead"
          onDone={() => {
            const v = row.kind === "bearing" ? typed.decimal : text(typed, unit);
            if (v) void save({ [column(row)]: v });
          }}
        />
      )}
    </>
  );
}
