import { speaksAgainstDate } from "../../headings/comment-text.ts";
import { remarkReader } from "../../headings/remark-text.ts";
import { knownWords, wordsOf } from "../../headings/words.ts";
import { isLastDone } from "../../records/positions.ts";
import type { Part, Problem } from "../../records/records.ts";
import { cellKey, cellAt } from "../../workbook/snapshot.ts";
import { placeIn } from "../register/cell-place.ts";
import { unweighed } from "./comments.ts";
import { wordsSaid } from "../told/first-words.ts";
import type { Found } from "../register/register.ts";

const KNOWN = new Set(knownWords());
/** What a comment of dates or parts speaks of. */
const OF_DATES = new Set([
  ...["date", "replaced", "last", "calibration", "electrode", "cushion", "coupler", "earpad"],
]);

/**
 * Comments on a register's sheet to cells that are of no device: headings, titles, what stands below. Those that may speak
 * of dates or parts are told, for nobody knows of which.
 */
export function strayComments(found: Found, parts: readonly Part[]): Problem[] {
  const { page, register, columns } = found;
  const { comments } = page.sheet;
  if (comments === undefined) return [];
  const { says } = remarkReader(parts);
  const rows = new Set(register.rows);
  // Those to the headings of dates are heard already.
  const heads = new Set(
    [...columns].flatMap(([field, at]) =>
      isLastDone(field) ? cellKey(register.headerRow, at) : [],
    ),
  );
  return [...comments].flatMap(([key, text]): Problem[] => {
    const { row, column } = cellAt(key);
    if (rows.has(row) || heads.has(key)) return [];
    const said = wordsSaid(text);
    const isOfDates =
      says(said) !== "nothing" ||
      speaksAgainstDate(said, null) ||
      wordsOf(said, KNOWN).some((word) => OF_DATES.has(word.text));
    const place = placeIn(found, row, column);
    const heading = row === register.headerRow ? place.heading : "";
    return isOfDates ? [unweighed({ ...place, heading }, text)] : [];
  });
}
