// Lengths as the crew reads and types them. The engine parses whatever enters a
// computation; this is for the screen and for what is written into the log.
import { words } from "./language";

const foot = 0.3048; // metres, exact: the international foot of 1959

export type Unit = "ft" | "m";

/** The working unit of a job. */
export function unitOf(settings: { unit?: string } | undefined): Unit {
  return settings?.unit === "m" ? "m" : "ft";
}

/** A length in metres as feet and whole inches, or as metres to the centimetre. */
export function length(metres: number, unit: Unit): string {
  if (unit === "m") return `${metres.toFixed(2)} m`;
  const inches = Math.round((Math.abs(metres) / foot) * 12);
  const sign = metres < 0 && inches > 0 ? "−" : "";
  const ft = Math.floor(inches / 12);
  return ft === 0 ? `${sign}${inches}″` : `${sign}${ft}′ ${inches % 12}″`;
}

/** What a tape is held to: the half inch or the centimetre that is nearest. */
function mark(metres: number): { feet: number; inches: number; half: boolean } {
  const halves = Math.round((metres / foot) * 24);
  return { feet: Math.floor(halves / 24), inches: Math.floor((halves % 24) / 2), half: halves % 2 === 1 };
}

/** A tape reading to set out with: to the half inch or the centimetre. */
export function tape(metres: number, unit: Unit): string {
  if (unit === "m") return `${metres.toFixed(2)} m`;
  const { feet, inches, half } = mark(metres);
  return `${feet}′ ${inches}${half ? "½" : ""}″`;
}

/** The same as the log has it. */
export function graduated(metres: number, unit: Unit): string {
  if (unit === "m") return `${metres.toFixed(2)} m`;
  const { feet, inches, half } = mark(metres);
  return `${feet}'${inches}${half ? " 1/2" : ""}"`;
}

/** A depth with its spread, 95 %: twice the standard deviation. */
export function depth(metres: number | null | undefined, sigma: number | null | undefined, unit: Unit): string {
  if (metres == null) return words.units.unknown;
  if (sigma == null) return length(metres, unit);
  const half = 1.96 * sigma;
  // Nothing lies above the ground.
  return metres < half ? words.units.atMost(length(metres, unit), length(metres + half, unit)) : `${length(metres, unit)} ± ${length(half, unit)}`;
}

/** What a keypad holds: feet with inches and eighths, or a decimal number. */
export interface Typed {
  feet: string;
  inches: string;
  eighths: number;
  /** Feet and tenths, or metres, where a decimal number was typed instead. */
  decimal: string;
}

export const nothingTyped: Typed = { feet: "", inches: "", eighths: 0, decimal: "" };

const nothing = (t: Typed) => t.feet === "" && t.inches === "" && t.eighths === 0;

/** Why what was typed is no length yet; empty where nothing is wrong. */
export function faulty(t: Typed): string {
  if (t.decimal !== "") return /\d/.test(t.decimal) ? "" : words.units.noFigure;
  if (t.feet !== "" && Number(t.inches) >= 12) return words.units.inchesTo11;
  return "";
}

/** What was typed as a length with unit for the log; empty where it is none. */
export function text(t: Typed, unit: Unit): string {
  if (faulty(t)) return "";
  if (t.decimal !== "") return `${Number(t.decimal)} ${unit}`;
  if (nothing(t)) return "";
  const fraction = ["", "1/8", "1/4", "3/8", "1/2", "5/8", "3/4", "7/8"][t.eighths];
  const inches = [t.inches || (fraction ? "" : "0"), fraction].filter(Boolean).join(" ");
  // Whole inches are a length of their own: 47".
  return t.feet === "" ? `${inches}"` : `${t.feet}'${inches}"`;
}

/** The same in metres, for showing only; null where nothing was typed. */
export function metres(t: Typed, unit: Unit): number | null {
  if (t.decimal !== "") {
    const n = Number(t.decimal);
    return Number.isFinite(n) ? (unit === "m" ? n : n * foot) : null;
  }
  if (nothing(t)) return null;
  return (Number(t.feet || 0) + (Number(t.inches || 0) + t.eighths / 8) / 12) * foot;
}

/** What was typed, as the crew writes it: 12′ 6½″. */
export function shown(t: Typed, unit: Unit | "°"): string {
  if (t.decimal !== "" || unit !== "ft") return t.decimal === "" ? "" : `${t.decimal}${unit === "°" ? unit : ` ${words.units.signs[unit]}`}`;
  if (nothing(t)) return "";
  const f = ["", "⅛", "¼", "⅜", "½", "⅝", "¾", "⅞"][t.eighths];
  return `${t.feet && `${t.feet}′ `}${t.inches || (f ? "" : "0")}${f}″`;
}
