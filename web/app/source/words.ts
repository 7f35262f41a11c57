// Parts and readings in the crew's words.
import type { Lobe, Spot } from "./answer";
import { live } from "./acts";
import type { Row, Sketch } from "./entry";
import { dates, words } from "./language";
import { noteText } from "./notes";

/** The target of a note on no part and no point. */
export const wholeJob = "job";

/** The name of a part for people: trench L3, the box. */
export const partName = (id: string, kind: string): string => words.parts.name(id, kind);

/** The kind of a part of the sketch; of a kind of part itself. */
export const kindOf = (sketch: Sketch | null, id: string) => String(sketch?.features.find((f) => String(f.id) === id)?.properties?.part ?? id);

/** A spot of a part: trench L3, far end. */
export function spotName(s: { part: string; kind: string; spot: string }): string {
  const at = words.parts.spots[s.spot] ?? s.spot;
  return partName(s.part, s.kind) + (at ? `, ${at}` : "");
}

/** One reading in a line, as the log has it. */
export function rowText(r: Row): string {
  const { rows, parts } = words;
  switch (r.kind) {
    case "tape":
      return rows.tape(r.from, r.to, r.value, r.rise ?? "");
    case "cable":
      return rows.cable(r.from, r.to, r.value);
    case "baseline":
      return rows.baseline(r.point, r.value, r.from, r.to, r.offset);
    case "gnss":
      return rows.gnss(r.point, r.accuracy ?? "");
    case "bearing":
      return rows.bearing(r.from, r.to, r.value, r.north ?? "");
    case "found":
      return rows.found(r.point, r.target, r.spot && r.spot !== "on" ? parts.spots[r.spot] || r.spot : "", r.depth ?? "", r.feature ?? "top");
    case "empty":
      return rows.empty(r.point, r.depth ?? "", parts.stops[r.stopped]?.[1] ?? "");
    case "followed":
      return rows.followed(parts.some(r.target), r.from, r.to);
    case "sonde":
      return rows.sonde(parts.some(r.target), r.point, r.depth ?? "");
    case "sign":
      return rows.sign(r.from, r.to, parts.some(r.target));
    case "rod": {
      const felt = rows.felt[r.target] ?? r.target;
      return r.point ? rows.rodAt(r.point, r.depth, felt) : rows.rodAlong(r.value, r.from, r.to, r.depth, felt);
    }
    case "level":
      return rows.level(r.point, r.value);
    case "condition":
      return rows.condition(r.target === wholeJob ? rows.theJob : r.target, noteText(r.note ?? ""));
    case "void":
      return rows.withdraws(r.target);
    default:
      return r.kind ?? "";
  }
}

export interface Part {
  id: string;
  part: string;
  name: string;
}

/** The parts of a sketch, of the kinds asked for. */
export function partsOf(sketch: Sketch | null, ...want: string[]): Part[] {
  return (sketch?.features ?? [])
    .map((f) => ({ id: String(f.id ?? ""), part: String(f.properties?.part ?? ""), name: String(f.properties?.name ?? "") }))
    .filter((p) => p.id && (!want.length || want.includes(p.part)));
}

/** Points that tapes may start from: the landmarks, then holes and stakes. */
export function pointsOf(sketch: Sketch | null, rows: Row[]): { id: string; name: string }[] {
  const marks = partsOf(sketch, "landmark").map((p) => ({ id: p.id, name: p.name }));
  const known = new Set(partsOf(sketch).map((p) => p.id));
  const holes = new Set<string>();
  for (const r of live(rows)) {
    for (const p of [r.point, r.kind === "tape" || r.kind === "cable" ? r.to : "", r.kind === "tape" || r.kind === "cable" ? r.from : ""]) {
      if (p && !known.has(p.replace(/\.(start|end)$/, ""))) holes.add(p);
    }
  }
  // What a point of the log is was noted with it.
  return [...marks, ...[...holes].map((id) => ({ id, name: live(rows).find((r) => r.kind === "condition" && r.target === id)?.note ?? "" }))];
}

/** The next free name with a stem: H4-K7 after H3, whatever others name theirs. */
export function freeName(stem: string, tag: string, sketch: Sketch | null, rows: Row[]): string {
  let n = 0;
  // The name of a withdrawn hole is not free: it may be restored.
  for (const id of [...partsOf(sketch).map((p) => p.id), ...rows.flatMap((r) => [r.point, r.from, r.to])]) {
    const m = new RegExp(`^${stem}(\\d+)(-\\w+)?$`).exec(id ?? "");
    if (m) n = Math.max(n, Number(m[1]));
  }
  return `${stem}${n + 1}-${tag}`;
}

/** When something was logged, as the device writes dates. */
export function when(time: string | undefined): string {
  const t = new Date(time ?? "");
  return Number.isNaN(t.getTime()) ? "" : t.toLocaleString(dates(), { dateStyle: "medium", timeStyle: "short" });
}

/** The radius that counts for the crew: as taped from the landmarks. */
export const radius = (s: Spot) => s.from_landmarks.radius95;

/** A probability in words. */
export const percent = (p: number) => (p > 0 && p < 0.005 ? words.units.underOne : `${Math.round(100 * p)} %`);

/** The places of a belief in pieces, the likeliest first; empty where it is in one. */
export const places = (lobes: Lobe[] = []) => (lobes.length > 1 ? words.parts.places(lobes.length, lobes.map((l) => percent(l.share)).join(", ")) : "");
