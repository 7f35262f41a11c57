// The language of this device: its own setting, not one of a job. English comes
// with the page; another language is a file of its own, kept offline with the rest.
import { english, type Words } from "./words/en";

/** A language by its code of BCP 47. */
export type Language = "en" | "es";

/** Every language by its own name. */
export const languages: [Language, string][] = [["en", "English"], ["es", "Español"]];

/** The language that is spoken now. */
export let language: Language = "en";

/** The messages of that language. */
export let words: Words = english;

const key = "language"; // of the local storage
const known = (code: string): Language | undefined => languages.find(([l]) => l === code.split("-")[0].toLowerCase())?.[0];

/** The language that was chosen by hand, else the first of the device's own that there is. */
export function wanted(): Language {
  let chosen: string | null = null;
  try {
    chosen = localStorage.getItem(key);
  } catch {
    // This browser keeps nothing.
  }
  return known(chosen ?? "") ?? navigator.languages.map(known).find((l) => l) ?? "en";
}

/** Speaks a language from now on. Where its file cannot be had, English stays. */
export async function speak(to: Language) {
  try {
    words = to === "es" ? (await import("./words/es")).spanish : english;
    language = to;
  } catch {
    [words, language] = [english, "en"];
  }
  document.documentElement.lang = language;
  // An app that is installed from now on has its name in this language.
  document.querySelector("link[rel=manifest]")?.setAttribute("href", language === "en" ? "/manifest.webmanifest" : `/static/${language}.webmanifest`);
}

/** Speaks a language that was chosen by hand, and remembers it. */
export async function choose(to: Language) {
  try {
    localStorage.setItem(key, to);
  } catch {
    // Then it holds until the page is closed.
  }
  await speak(to);
  watchers.forEach((f) => f());
}

const watchers = new Set<() => void>();

/** Reports each time that another language was chosen; returns a function that ends it. */
export function watchLanguage(f: () => void): () => void {
  watchers.add(f);
  return () => watchers.delete(f);
}

/** How dates are written: as the device does it, where it speaks the same language. */
export const dates = (): string => navigator.languages.find((l) => known(l) === language) ?? language;

