import type { ProblemKind } from "../../records/problem-kinds.ts";
import { type CellPlace, fault } from "../../records/problems.ts";
import type { Problem } from "../../records/records.ts";
import type { DateWords } from "./date-words.ts";

/** The name of words in date-words.ts, and what they speak of. */
export type Said = {
  [Name in keyof DateWords]: readonly [name: Name, ...about: Parameters<DateWords[Name]>];
}[keyof DateWords];

/**
 * A fault of which only kind and place are known yet: they put a date in doubt, and a first list shows no more. Its
 * words come with everything else that is told (date-words.ts).
 */
export function faultLater(kind: ProblemKind, place: CellPlace, ...said: Said): Problem {
  return withWords(fault(kind, place, "", ""), ...said);
}

/** A problem with words still to come. */
export function withWords(problem: Problem, ...said: Said): Problem {
  return { ...problem, said };
}
