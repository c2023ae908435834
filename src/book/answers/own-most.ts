import { addMonths, type Day } from "../../core/day.ts";
import type { RowFacts } from "./answers.ts";

/**
 * Whole months that a row's own limits allow at most: its interval, or what lies between its last replacement and
 * its own due date; null without either.
 */
export function ownMost({ own, lastDone }: RowFacts): number | null {
  const months = own?.months ?? null;
  if (own?.due === undefined || own.due === null || typeof lastDone !== "number") return months;
  const until = Math.max(1, wholeMonths(Math.floor(lastDone) as Day, own.due));
  return Math.min(months ?? until, until);
}

function wholeMonths(from: Day, to: Day): number {
  let months = Math.ceil((to - from) / 28);
  while (months > 0 && addMonths(from, months) > to) months -= 1;
  return months;
}
