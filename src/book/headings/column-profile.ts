import { isYearless, readDateText } from "./dates.ts";
import type { Holds } from "./fields.ts";
import { isCellError } from "../workbook/snapshot.ts";
import { hasDateFormat, isBlank, keyOf, type Page, textOf } from "../workbook/cells.ts";

/** What a sample of a column's cells looks like; shares of the filled cells. */
export interface Evidence {
  readonly filled: number;
  readonly dates: number;
  readonly numbers: number;
  readonly texts: number;
  readonly distinct: number;
  /** Those of the dates that are numbers without the format of a date: they may be numbers of devices. */
  readonly bare: number;
}

const SAMPLE = 120;
/** Serials of 1982 to 2064: numbers that may be dates whose format was lost. */
const EARLIEST_SERIAL = 30000;
const LATEST_SERIAL = 60000;
/** Serials of 1900: nothing was done then, so they are small numbers that took on the format of dates beside them. */
const SMALLEST = 1;
const YEAR_1900 = 366;
const WHOLE_TEXT_NUMBER = /^[-+]?\d+(?:[.,]\d+)?$/;

/** Looks at up to 120 cells of a column, spread over the rows. */
export function evidenceOf(page: Page, column: number, first: number, last: number): Evidence {
  const step = Math.max(1, Math.floor((last - first + 1) / SAMPLE));
  const seen = new Set<string>();
  let filled = 0;
  let dates = 0;
  let numbers = 0;
  let texts = 0;
  let bare = 0;
  for (let row = first; row <= last; row += step) {
    const value = page.sheet.values[row]?.[column] ?? null;
    // An error says nothing of what its column holds.
    if (isBlank(value) || isCellError(value)) continue;
    filled += 1;
    seen.add(keyOf(textOf(value)));
    if (typeof value === "number") {
      const isFormatted = isDated(page, row, { column, value });
      if (isFormatted || isSerial(value)) dates += 1;
      else numbers += 1;
      if (!isFormatted && isSerial(value)) bare += 1;
    } else if (typeof value === "string") {
      if (WHOLE_TEXT_NUMBER.test(value.trim())) numbers += 1;
      else if (readDateText(value) === null && !isYearless(value)) texts += 1;
      else dates += 1;
    }
  }
  const of = (count: number): number => (filled === 0 ? 0 : count / filled);
  return {
    filled,
    dates: of(dates),
    numbers: of(numbers),
    texts: of(texts),
    distinct: of(seen.size),
    bare: of(bare),
  };
}

/** Whether a number has the format of a date, and may be one. */
function isDated(
  page: Page,
  row: number,
  { column, value }: { readonly column: number; readonly value: number },
): boolean {
  const isSmall = value >= SMALLEST && value < YEAR_1900;
  return !isSmall && hasDateFormat(page, row, column);
}

function isSerial(value: number): boolean {
  return value >= EARLIEST_SERIAL && value <= LATEST_SERIAL;
}

/** How well the cells fit what the field holds: 0 to 1; one half where there is nothing to see. */
export function fits(evidence: Evidence | null, holds: Holds): number {
  if (evidence === null || evidence.filled === 0) return 0.5;
  if (holds === "date") return evidence.dates;
  if (holds === "number") return evidence.numbers;
  if (holds === "id") return evidence.distinct;
  return 1 - evidence.dates;
}

/** Whether the cells say that the column cannot be that field. */
export function contradicts(evidence: Evidence | null, holds: Holds): boolean {
  if (evidence === null || evidence.filled < 3) return false;
  if (holds === "date") return evidence.dates < 0.2;
  if (holds === "number") return evidence.numbers < 0.2;
  if (holds === "text") return evidence.dates > 0.8;
  return evidence.filled >= 10 && evidence.distinct < 0.2;
}
