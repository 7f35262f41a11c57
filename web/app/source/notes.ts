// What the app itself writes into the note of a row. In the log it is a code, the
// same in every language, since crews of two languages share a log; what people
// read is here. The codes are what the app has written from the beginning, so that
// old logs read well.
import { words } from "./language";

/** The codes that are written whole. */
export const notes = {
  again: "measured again", undone: "undone", setOut: "as set out", withdrawn: "withdrawn", corrected: "corrected",
  photos: "photos", laidAgain: "laid again", ownPlan: "the plan of this job", unreadable: "could not be read", doubt: "in doubt", spoils: "in doubt: everything else fits without it",
};

/** The notes with figures in them. */
export const meanOf = (count: number, seconds: number) => `mean of ${count} fixes in ${seconds} s`;
export const outletsSeen = (count: string) => `${count} ${count === "1" ? "outlet" : "outlets"} seen`;

export const laidOn = (picture: string, marks: string) => `picture ${picture} laid on ${marks}`;
export const laidBy = (picture: string, system: string) => `picture ${picture} laid by ${system}`;
export const readIn = (picture: string) => `read in the picture ${picture}`;

/** A note as people read it: what the app wrote in their language, what a person wrote as it is. */
export const noteText = (note: string): string => note.split("; ").map(piece).join("; ");

function piece(note: string): string {
  const w = words.notes;
  const code = (Object.keys(notes) as (keyof typeof notes)[]).find((c) => notes[c] === note);
  if (code === "spoils") return w.doubtful(w.spoils);
  if (code) return w[code];
  const fixes = /^mean of (\d+) fixes in (\d+) s$/.exec(note);
  if (fixes) return w.fixes(fixes[1], fixes[2]);
  const outlets = /^(\d+) outlets? seen$/.exec(note);
  if (outlets) return w.outlets(outlets[1]);
  const laid = /^picture (.+) laid (on|by) (.+)$/.exec(note);
  if (laid) return laid[2] === "on" ? w.laidOn(laid[1], laid[3]) : w.laidBy(laid[1], piece(laid[3]));
  const read = /^read in the picture (.+)$/.exec(note);
  if (read) return w.readIn(read[1]);
  const why = /^in doubt: (.+)$/.exec(note);
  return why ? w.doubtful(why[1]) : note;
}

/** Who logged a row: a device without a name is called by its tag. */
export function who(by: string | undefined): string {
  const tag = /^device (\w\w)$/.exec(by ?? "");
  return tag ? words.parts.device(tag[1]) : (by ?? "");
}
