import { saysOther, saysUsesAMonth } from "../headings/other-counts.ts";
import type { ColumnMatch } from "../records/records.ts";
import type { Sheet } from "../workbook/snapshot.ts";

const SPEAKS_OF_BABIES = /\b(?:bab(?:y|ies)|infants?|newborns?|births?)\b/i;
const SPEAKS_OF_USES = /\b(?:sessions?|uses|applications?)\b/i;
/** Rows in which a counts sheet says what it counts. */
const TITLE_ROWS = 8;
/** Whether a counts sheet speaks of babies and not of uses. */
export function speaksOfBabies(sheet: Sheet): boolean {
  const words = [sheet.name, ...sheet.values.slice(0, TITLE_ROWS).flat()].filter(
    (value) => typeof value === "string",
  );
  const text = words.join(" ");
  return SPEAKS_OF_BABIES.test(text) && !SPEAKS_OF_USES.test(text);
}

/**
 * Whether a usage column of the register counts uses a month: not babies, not uses a day or of nobody knows what time. A
 * column that a person chose need not say its month.
 */
export function countsUses({ heading, by }: Pick<ColumnMatch, "heading" | "by">): boolean {
  if (SPEAKS_OF_BABIES.test(heading) && !SPEAKS_OF_USES.test(heading)) return false;
  return by === "heading" ? saysUsesAMonth(heading) : !saysOther(heading);
}
