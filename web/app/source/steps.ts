// The steps of a plan: what is worth doing first, and the holes.
import type { DigPlan, Proposal } from "./answer";

/** The holes of a plan, the next one first. */
export const holesOf = (plan: DigPlan | null): Proposal[] => plan?.holes.filter((h) => h.rank > 0) ?? [];

/** What is worth doing before the next hole. */
export const beforehand = (plan: DigPlan | null): Proposal | undefined => plan?.holes.find((h) => h.rank === 0);
