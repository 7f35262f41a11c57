// All messages of the page in Spanish.
import { field } from "./es/field";
import type { Words } from "./en";
import { office } from "./es/office";

export const spanish: Words = { ...field, ...office };
