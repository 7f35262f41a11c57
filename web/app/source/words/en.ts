// All messages of the page in English: the source of the type that every other
// language has to meet.
import { field } from "./en/field";
import { office } from "./en/office";

export const english = { ...field, ...office };

export type Words = typeof english;
