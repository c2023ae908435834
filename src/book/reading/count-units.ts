import type { Sheet } from "../workbook/snapshot.ts";

const SPEAKS_OF_BABIES = /\b(?:bab(?:y|ies)|infants?|newborns?|births?)\b/i;
const SPEAKS_OF_USES = /\b(?:sessions?|uses|applications?)\b/i;
/** Rows in which a counts sheet says what it counts. */
const TITLE_ROWS = 8;
const OTHER_PERIOD =
  /\b(?:day|daily|shift|weeks?|weekly|quarter(?:ly)?|years?|yearly|annual(?:ly)?)\b/i;

/** Whether a counts sheet speaks of babies and not of uses. */
export function speaksOfBabies(sheet: Sheet): boolean {
  const words = [sheet.name, ...sheet.values.slice(0, TITLE_ROWS).flat()].filter(
    (value) => typeof value === "string",
  );
  const text = words.join(" ");
  return SPEAKS_OF_BABIES.test(text) && !SPEAKS_OF_USES.test(text);
}

/** Whether a usage column of the register counts uses a month, not babies and not uses a day. */
export function countsUses(heading: string): boolean {
  if (OTHER_PERIOD.test(heading)) return false;
  return !SPEAKS_OF_BABIES.test(heading) || SPEAKS_OF_USES.test(heading);
}
