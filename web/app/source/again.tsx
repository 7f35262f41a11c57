// Measure one reading again: the new one is logged and the old one withdrawn.
import { useState } from "preact/hooks";
import { instead } from "./acts";
import type { Believed } from "./believe";
import { bold, Said } from "./bold";
import { useStore } from "./context";
import type { Row } from "./entry";
import { FixTaker, fixRow } from "./fix";
import { Keypad } from "./keypad";
import { words } from "./language";
import { notes } from "./notes";
import { Offset } from "./offset";
import { useQuestion } from "./question";
import { go } from "./route";
import { nothingTyped, text, unitOf } from "./units";
import { rowText } from "./words";

/** Whether a reading is a number that can be measured again, or a hole that can be corrected. */
export const canChange = (row: Row) => !["condition", "followed", "rod", "sonde", "sign"].includes(row.kind);

export function Again({ state, row }: { state: Believed; row: Row }) {
  const store = useStore();
  const unit = unitOf(state.job.settings);
  const [typed, type] = useState(nothingTyped);
  const { sure, question } = useQuestion(state.job);
  const suspect = state.belief?.fit.suspects?.find((s) => s.reading === row.id);
  const save = async (changed: Row) => {
    // What was noted of the old one does not hold for the new.
    const { id, time, by, note, replaces, ...rest } = row;
    if (note === notes.setOut) delete rest.sigma;
    const next = { ...rest, ...changed };
    if (!(await sure([next], { instead: row }))) return;
    await store.logged(state.job.id, [instead(row, next)], words.measure.againSaid(rowText(next)), [row.id], notes.again);
    go("plan", state.job.id);
  };
  return (
    <>
      <p>
        <Said text={words.common.until(bold(rowText(row)))} />
      </p>
      {suspect && <p class="warning">▲ {suspect.says}</p>}
      {row.kind === "gnss" ? (
        <FixTaker label={words.log.usePosition} onDone={(f, s, n) => save(fixRow(row.point, f, s, n))} />
      ) : row.kind === "baseline" ? (
        <Offset from={row.from} along={row.to} unit={unit} end={words.measure.saveInstead} done={(value, offset) => void save({ value, offset })} />
      ) : (
        <Keypad
          unit={row.kind === "bearing" ? "°" : unit}
          label={row.from ? words.common.fromTo(row.from, row.to) : words.measure.heightOf(row.point)}
          value={typed}
          onInput={type}
          done={words.measure.saveInstead}
          onDone={() => {
            const value = row.kind === "bearing" ? typed.decimal : text(typed, unit);
            if (value) void save({ value });
          }}
        />
      )}
      {question}
    </>
  );
}
