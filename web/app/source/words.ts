// Parts and readings in the crew's words.
import type { Lobe, Spot, State } from "./answer";
import { live } from "./acts";
import type { Row, Sketch } from "./entry";

const kinds: Record<string, string> = {
  box: "box", tank: "tank", lateral: "trench", header: "pipe", port: "port", building: "building",
  landmark: "landmark", well: "well", boundary: "boundary", water: "water", driveway: "driveway",
  utility: "utility", "no-dig": "no-dig area",
};

/** The target of a note on no part and no point. */
export const wholeJob = "job";

/** What ended a hole before it was deep enough. */
export const stops: [stopped: string, choice: string, says: string][] = [
  ["rock", "on rock", ", stopped on rock"],
  ["root", "at roots", ", stopped at roots"],
  ["water", "in water", ", stopped in water"],
  ["gave-up", "gave up", ", given up"],
  ["utility", "an unknown line", ", stopped on a line that is not of this system"],
];

/** The name of a part for people: trench L3, the box. */
export function partName(id: string, kind: string): string {
  const k = kinds[kind] ?? kind;
  if (id === kind && kind !== "box" && kind !== "tank") return `a ${k}, not sure which`;
  return k === id ? `the ${k}` : `${k} ${id}`;
}

/** The kind of a part of the sketch; of a kind of part itself. */
export const kindOf = (sketch: Sketch | null, id: string) => String(sketch?.features.find((f) => String(f.id) === id)?.properties?.part ?? id);

const spots: Record<string, string> = { center: "", start: "near end", end: "far end", on: "along it", edge: "edge", corner: "corner" };

/** A spot of a part: trench L3, far end. */
export function spotName(s: { part: string; kind: string; spot: string }): string {
  const at = spots[s.spot] ?? s.spot;
  return partName(s.part, s.kind) + (at ? `, ${at}` : "");
}

/** What a state means, in words. */
export const states: Record<State, string> = {
  seen: "seen: a hole met it",
  inferred: "inferred: not seen, supported by readings",
  recorded: "recorded: only the sketch shows it",
};

/** A feature of a part that a depth runs to. */
export const depthTo: Record<string, string> = { top: "top", crown: "top of the pipe", invert: "invert", bottom: "bottom" };

/** One reading in a line, as the log has it. */
export function rowText(r: Row): string {
  switch (r.kind) {
    case "tape":
      return `tape ${r.from} to ${r.to}: ${r.value}${r.rise ? `, rise ${r.rise}` : ""}`;
    case "cable":
      return `cable ${r.from} to ${r.to}: ${r.value}`;
    case "baseline":
      return `${r.point}: ${r.value} along ${r.from} to ${r.to}, ${r.offset} square off it`;
    case "gnss":
      return `fix of ${r.point}${r.accuracy ? `, within ${r.accuracy} m` : ""}`;
    case "bearing":
      return `bearing ${r.from} to ${r.to}: ${r.value}° ${r.north ?? ""}`;
    case "found":
      return `${r.point} met ${r.target}${r.spot && r.spot !== "on" ? ` (${spots[r.spot] || r.spot})` : ""}${r.depth ? ` at ${r.depth} to the ${depthTo[r.feature ?? "top"] ?? r.feature}` : ""}`;
    case "empty":
      return `${r.point} met nothing${r.depth ? ` down to ${r.depth}` : ""}${stops.find(([s]) => s === r.stopped)?.[2] ?? ""}`;
    case "followed":
      return `followed ${kinds[r.target] ? `a ${kinds[r.target]}` : r.target} from ${r.from} to ${r.to}`;
    case "sonde":
      return `sonde in ${kinds[r.target] ? `a ${kinds[r.target]}` : r.target} under ${r.point}${r.depth ? `, ${r.depth} down` : ""}`;
    case "sign":
      return `strip on the surface from ${r.from} to ${r.to}: ${kinds[r.target] ? `a ${kinds[r.target]}` : r.target}`;
    case "rod":
      return `rod ${r.point ? `at ${r.point}` : `${r.value} stabs ${r.from} to ${r.to}`}, down to ${r.depth}: ${r.target === "none" ? "nothing" : r.target === "contact" ? "something hard" : r.target}`;
    case "level":
      return `level of ${r.point}: ${r.value}`;
    case "condition":
      return `note on ${r.target === wholeJob ? "the job" : r.target}: ${r.note}`;
    case "void":
      return `withdraws ${r.target}`;
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
  return Number.isNaN(t.getTime()) ? "" : t.toLocaleString([], { dateStyle: "medium", timeStyle: "short" });
}

/** The radius that counts for the crew: as taped from the landmarks. */
export const radius = (s: Spot) => s.from_landmarks.radius95;

/** A probability in words. */
export const percent = (p: number) => (p > 0 && p < 0.005 ? "under 1 %" : `${Math.round(100 * p)} %`);

/** The places of a belief in pieces, the likeliest first; empty where it is in one. */
export const places = (lobes: Lobe[] = []) => (lobes.length > 1 ? `It may lie in ${lobes.length} places: ${lobes.map((l) => percent(l.share)).join(", ")}.` : "");
