import { type Day, isoText } from "../../core/day.ts";
import { speaksAgainstDate } from "../headings/comment-text.ts";
import { firstWords, wordsSaid } from "../reading/told/first-words.ts";
import { hasWordFormat, type Page, trueDate } from "../workbook/cells.ts";
import { address, cellKey } from "../workbook/snapshot.ts";

/** Where a date of a part stands, and its heading. */
interface DateCell {
  readonly row: number;
  readonly column: number;
  readonly headerRow: number;
}

/**
 * Why a true date of a sheet that is left behind does not simply hold: a line through it, words in its number format, a
 * comment against it. Null where nothing does. A copy of its value alone would hold for certain.
 */
export function doubtOfDate(page: Page, { row, column, headerRow }: DateCell): string | null {
  const date = trueDate(page, row, column);
  if (date === null) return null;
  if (page.sheet.struck?.has(cellKey(row, column)) === true) return "struck out";
  if (hasWordFormat(page, row, column)) return "words in its number format";
  const said = againstOf(page, [cellKey(row, column), cellKey(headerRow, column)], date);
  return said === null ? null : `comment ${firstWords(said)}`;
}

/** The first comment to these cells that speaks against a date; null without one. */
function againstOf({ sheet }: Page, keys: readonly number[], date: Day): string | null {
  const said = keys.flatMap((key) => sheet.comments?.get(key) ?? []);
  return said.find((text) => speaksAgainstDate(wordsSaid(text), date)) ?? null;
}

/** A date in doubt as a cell says it: text, which no interval is counted from, with the doubt in it. */
export function doubtedDate(page: Page, cell: DateCell, doubt: string): string {
  const date = trueDate(page, cell.row, cell.column);
  return `${date === null ? "" : `${isoText(date)}, `}${doubt}`;
}

/**
 * What the comments in a row say, as a remark on its device does, but those against a date, which stands in its place.
 */
export function commentsIn(page: Page, row: number, dates: DateCell | null): string[] {
  const { comments, values } = page.sheet;
  if (comments === undefined) return [];
  const isTold = dates !== null && doubtOfDate(page, dates)?.startsWith("comment") === true;
  return (values[row] ?? []).flatMap((_, column) => {
    const said = comments.get(cellKey(row, column));
    if (said === undefined || (isTold && column === dates.column)) return [];
    return `comment to ${address(row, column)} ${firstWords(said)}`;
  });
}
