// The language of the tracing screen: the page says which it speaks.
import { english, type TraceWords } from "./words/en";

/** The messages of that language. */
export let words: TraceWords = english;

let spoken = "en";

/** How dates are written: as the device does it, where it speaks the same language. */
export const dates = (): string => navigator.languages.find((l) => l.startsWith(spoken)) ?? spoken;

/** Speaks a language; where its file cannot be had, English stays. */
export async function speak(to: string) {
  try {
    words = to === "es" ? (await import("./words/es")).spanish : english;
    spoken = to;
  } catch {
    words = english;
  }
}

/** A number as it is typed in a field of its own: one comma is the decimal point there. */
export const decimal = (typed: string): number => Number(typed.trim().replace(/^([+-]?\d*),(\d+)$/, "$1.$2"));
