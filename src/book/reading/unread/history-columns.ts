import type { Day } from "../../../core/day.ts";
import { folded } from "../../languages/words-of.ts";
import { isLastDone } from "../../records/positions.ts";
import { positionOf } from "../../records/position-words.ts";
import type { Part, Register } from "../../records/records.ts";
import { isBlank, type Page, quoted, trueDate } from "../../workbook/cells.ts";
import { listed } from "../../records/problems.ts";

/** A column by its heading. */
export interface Headed {
  readonly heading: string;
  readonly column: number;
}

/** Rows with two dates from which on it shows that they rise. */
const TELLING = 2;
const YEAR = /(?<!\d)(?:19|20)\d\d(?!\d)/u;

/**
 * Columns like the first that hold one part's replacements one after another: their headings differ in the year alone,
 * or in nothing but a number, and their dates rise in every row. Empty where they may be anything else.
 */
export function historyOf(
  page: Page,
  { rows, headings, matches }: Register,
  first: Headed,
): readonly Headed[] {
  const used = new Set(matches.map(({ column }) => column));
  const same = headings.flatMap((heading, column) => {
    const isLike = !used.has(column) && heading !== "" && bare(heading) === bare(first.heading);
    const isDated = isLike && rows.some((row) => trueDate(page, row, column) !== null);
    return isDated ? [{ heading, column }] : [];
  });
  if (same.length < 2) return [];
  const years = new Set(same.flatMap(({ heading }) => YEAR.exec(heading)?.[0] ?? []));
  return years.size === same.length || riseIn(page, rows, same) ? same : [];
}

/** What to do with such columns, of which the latest date of each row counts. */
export function latestOfThem({ code, name }: Part, columns: readonly Headed[]): string {
  const names = listed(columns.map(({ heading }) => quoted(heading)));
  const latest = `Latest ${name}`;
  return `${names} seem to be one part's replacements, one after another: add a column with the latest of each row, as =MAX gives it, head it ${quoted(latest)} and give --match "last:${code}=${latest}"; if each is of a piece of it, number the headings, such as ${quoted(`${name} 1 replaced`)}.`;
}

/** Whether what columns say is known by a later date of the same row under another. */
export function isPassed(
  page: Page,
  { rows }: Register,
  column: number,
  latest: readonly number[],
): boolean {
  return rows.every((row) => {
    const date = trueDate(page, row, column);
    if (date === null) return isBlank(page.sheet.values[row]?.[column] ?? null);
    return latest.some((other) => (trueDate(page, row, other) ?? 0) >= date);
  });
}

/** Whether a column is headed by a year and no day in it is later than those that count: it is what was done then. */
export function isOfPastYear(page: Page, register: Register, { heading, column }: Headed): boolean {
  if (!YEAR.test(heading)) return false;
  const lasts = register.matches.filter(({ field }) => isLastDone(field));
  return isPassed(
    page,
    register,
    column,
    lasts.map((one) => one.column),
  );
}

function bare(heading: string): string {
  const text = folded(heading).replace(YEAR, " ");
  return (positionOf(text)?.rest ?? text).replaceAll(/[^\p{L}\p{N}]+/gu, " ").trim();
}

function riseIn(page: Page, rows: readonly number[], columns: readonly Headed[]): boolean {
  let telling = 0;
  for (const row of rows) {
    const dates = columns.flatMap(({ column }): Day[] => {
      const date = trueDate(page, row, column);
      return date === null ? [] : [date];
    });
    if (dates.some((date, at) => at > 0 && date <= (dates[at - 1] ?? date))) return false;
    if (dates.length > 1) telling += 1;
  }
  return telling >= TELLING;
}
