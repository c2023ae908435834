import { monthNamed } from "../../headings/dates.ts";
import { wordsIn } from "../../languages/words-of.ts";
import type { Count } from "../../records/records.ts";
import { isBlank, keyOf, textOf } from "../../workbook/cells.ts";
import type { CountSheet } from "./count-sheets.ts";
import type { Odd } from "./odd-counts.ts";
import { saysTotal } from "../rows/rows.ts";

/** Why a count is what it is: the later of two, a sum of parts, or in doubt by other rows, columns or sheets. */
export type Why =
  | "replaced"
  | "added"
  | "rows"
  | "beneath"
  | "columns"
  | "sheets"
  | "not used"
  | "fewer"
  | "newest"
  | "copied"
  | "counter"
  | "marked"
  | "order"
  | "moved"
  | "negative"
  | "lacking"
  | Odd;

/** A count of a device and month that is not alone, and the sheet of the other. */
export interface Met {
  readonly why: Why;
  readonly count: Count;
  readonly other: string;
}

/** A count that nobody can rely on; that there were uses it still says. */
export function inDoubt(count: Count): Count {
  return { ...count, count: null, faulty: true, doubted: count.count };
}

/**
 * What two counts of a device and month are to each other. Rows that a text tells apart, such as a ward, are parts and are
 * added; of rows that nothing tells apart the later corrects the earlier, but never downwards. Columns, blocks and
 * sheets may hold parts of one count, so of them neither counts.
 */
export function met(earlier: Count, later: Count, sheet: CountSheet, isAgain: boolean): Met {
  const [before, after] = [earlier.count, later.count];
  const doubted = (why: Why): Met => ({ why, count: inDoubt(later), other: earlier.sheet });
  if (earlier.sheet !== later.sheet) {
    if (!isAlike(earlier.sheet, later.sheet, before === after)) return doubted("sheets");
  } else if (earlier.row === later.row) {
    if (before !== after) return doubted("columns");
  } else {
    const texts = textsApart(sheet, earlier.row, later.row);
    if (texts !== null) return sumOf(earlier, later, texts);
    if (earlier.row < sheet.heading.first) return doubted("rows");
  }
  // A third entry, or a smaller one, may be a part of the month: then no figure can be trusted.
  return isAgain || (before ?? 0) > (after ?? Infinity)
    ? doubted("rows")
    : { why: "replaced", count: later, other: earlier.sheet };
}

/** Two parts added; a total among them is no part. */
function sumOf(earlier: Count, later: Count, texts: readonly [string, string]): Met {
  const [before, after] = [earlier.count, later.count];
  const [isWhole, isNowWhole] = texts.map(saysTotal);
  const count = isWhole === true ? earlier : later;
  if (before === null || after === null) {
    return { why: "added", count: inDoubt(count), other: earlier.sheet };
  }
  const all = isWhole === true || isNowWhole === true ? Math.max(before, after) : before + after;
  return { why: "added", count: { ...count, count: all }, other: earlier.sheet };
}

/** The texts of two rows that tell them apart, such as wards, shifts or ears; null where both have none. */
export function textsApart(
  sheet: CountSheet,
  one: number,
  other: number,
): readonly [string, string] | null {
  const { values } = sheet.page.sheet;
  const taken =
    sheet.shape === "wide" ? sheet.months.map(({ column }) => column) : [sheet.month, sheet.count];
  for (const [column, value] of (values[one] ?? []).entries()) {
    const also = values[other]?.[column] ?? null;
    if (column === sheet.device || taken.includes(column)) continue;
    if (typeof value !== "string" || typeof also !== "string") continue;
    if (isBlank(value) || isBlank(also) || keyOf(textOf(value)) === keyOf(textOf(also))) continue;
    return [value, also];
  }
  return null;
}

/** Whether two sheets are the same by their names but for months, numbers and words of copies; of equal counts one may say more. */
function isAlike(one: string, other: string, isSame: boolean): boolean {
  const [words, others] = [wordsOf(one), wordsOf(other)];
  const all = new Set([...words, ...others]).size;
  return all <= Math[isSame ? "max" : "min"](words.size, others.size);
}

/** The words of a name, any month for the same. */
function wordsOf(name: string): Set<string> {
  const words = wordsIn(name).filter((word) => !SAYS_COPY.test(word));
  return new Set(words.map((word) => (monthNamed(word) === undefined ? word : "")));
}

const SAYS_COPY = /^(?:\d+|[qhtv]\d|cop[iy]\p{L}*|kopi\p{L}*|old|backup)$/u;
