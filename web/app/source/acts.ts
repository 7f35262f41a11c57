// What was done on this device, action by action, so that each can be undone
// whole, and nothing but it. Nothing is deleted: what an action logged is
// withdrawn, and what it withdrew is logged again.
import { voided, type Row } from "./entry";

/** One action on one job. */
export interface Act {
  job: string;
  /** What was done, for people. */
  says: string;
  /** The readings that it logged. */
  ids: string[];
  /** The readings that it withdrew. */
  gone: string[];
  /** The settings or the sketch that it replaced, and the entry that did so. */
  was?: { kind: string; body: unknown; entry: string };
  /** It was itself an undoing. */
  undone?: boolean;
}

/** The column in which a row names the one whose place it took. */
const replaces = "replaces";

/** The same reading once more, to bring it back: taken when and by whom it was. */
export function copy({ id, ...row }: Row): Row {
  return { ...row, time: row.time ?? "", by: row.by ?? "", [replaces]: id };
}

/** A row in place of another, which is to be withdrawn. */
export const instead = (old: Row, row: Row): Row => ({ ...row, [replaces]: old.id });

/** The rows that a row took the place of, the nearest first. */
export function earlier(rows: Row[], row: Row): Row[] {
  const out: Row[] = [];
  for (let r: Row | undefined = row; r; ) {
    const before: Row | undefined = rows.find((o) => r![replaces] && o.id === r![replaces] && o !== row && !out.includes(o));
    if (before) out.push(before);
    r = before;
  }
  return out;
}

/** The readings that were not withdrawn. */
export function live(rows: Row[]): Row[] {
  const gone = voided(rows);
  return rows.filter((r) => r.kind !== "void" && !gone.has(r.id));
}

/** The live reading that stands in place of a withdrawn one. */
export const standsFor = (rows: Row[], id: string) => live(rows).find((r) => earlier(rows, r).some((o) => o.id === id));

/** What undoes an action as the log stands now: ids to withdraw, readings to log again. */
export function undoing(rows: Row[], act: Act): { gone: string[]; back: Row[] } {
  const gone = act.ids.filter((id) => live(rows).some((r) => r.id === id));
  const after = [...rows, ...gone.map((target) => ({ kind: "void", target }) as Row)];
  const lost = (id: string) => !standsFor(after, id) && !live(after).some((r) => r.id === id);
  const back = rows.filter((r) => r.kind !== "void" && act.gone.includes(r.id) && lost(r.id));
  return { gone, back };
}

/** The row that withdrew a reading: who, when and why. */
export const withdrawal = (rows: Row[], id: string) => rows.find((r) => r.kind === "void" && r.target === id);
