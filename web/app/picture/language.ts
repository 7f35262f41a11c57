// The language of the screens of pictures: the page says which it speaks.
import { speak as speakTracing } from "../trace/language";
import { english, type PictureWords } from "./words/picture-en";

/** The messages of that language. */
export let says: PictureWords = english;

/** Speaks a language, on the board too; where its file cannot be had, English stays. */
export async function speak(to: string) {
  await speakTracing(to);
  try {
    says = to === "es" ? (await import("./words/picture-es")).spanish : english;
  } catch {
    says = english;
  }
}
