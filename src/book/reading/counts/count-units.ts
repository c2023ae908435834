import { saysOther, saysUsesAMonth } from "../../headings/other-counts.ts";
import type { ColumnMatch } from "../../records/records.ts";

const SPEAKS_OF_BABIES = /\b(?:bab(?:y|ies)|infants?|newborns?|births?)\b/i;
const SPEAKS_OF_USES = /\b(?:sessions?|uses|applications?)\b/i;
/** Whether texts over counts speak of babies and not of uses. */
export function speaksOfBabies(texts: readonly string[]): boolean {
  const text = texts.join(" ");
  return SPEAKS_OF_BABIES.test(text) && !SPEAKS_OF_USES.test(text);
}

/**
 * Whether a usage column of the register counts uses a month: not babies, not uses a day or of nobody knows what time. A
 * column that a person chose need not say its month.
 */
export function countsUses({ heading, by }: Pick<ColumnMatch, "heading" | "by">): boolean {
  if (speaksOfBabies([heading])) return false;
  return by === "heading" ? saysUsesAMonth(heading) : !saysOther(heading);
}
