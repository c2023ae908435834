import { evidenceOf } from "../headings/column-profile.ts";
import type { HeadingRows } from "../headings/headings.ts";
import { mayBePart, saysOther } from "../headings/other-counts.ts";
import { identifierAt, type Page } from "../workbook/cells.ts";
import { speaksOfBabies } from "./count-units.ts";

/** A list with a row for each device and month, and its columns as far as they are known. */
interface Long {
  readonly page: Page;
  readonly heading: HeadingRows;
  readonly lastRow: number;
  readonly device: number;
  readonly month: number;
  /** The column whose heading says most plainly that it holds the uses. */
  readonly count: number;
}

/** The column that holds all uses of a month, or what may hold a part each. */
interface UsesColumn {
  readonly count: number;
  readonly unclear?: readonly string[];
  /** Headings of numbers that may be uses, and are not needed. */
  readonly beside?: readonly string[];
}

/** Rows looked at, and columns that may be parts of one sum. */
const SAMPLE = 60;
const MOST_PARTS = 8;

/**
 * Which column of a list holds all uses. Numbers beside it may be a part that it lacks, such as repeat tests beside first
 * ones: only a column that is the sum of others holds them for certain; so does one of tests beside one of babies,
 * who take at least a test each. Where no column does, none is taken.
 */
export function usesColumn(long: Long, isCount: (heading: string) => boolean): UsesColumn {
  const { page, heading, device, month, count } = long;
  const lines = linesOf(long);
  const numbers = heading.texts.flatMap((_, column) =>
    column !== device && column !== month && isNumbers(long, column) ? column : [],
  );
  const at = (row: number, column: number): number => Number(page.sheet.values[row]?.[column]) || 0;
  const isMore = (column: number, than: number): boolean =>
    lines.every((row) => at(row, column) >= at(row, than));
  const text = (column: number): string => heading.texts[column] ?? "";
  const isRival = (column: number): boolean =>
    column !== count &&
    mayBePart(text(column)) &&
    !/birth/i.test(text(column)) &&
    (isCount(text(column)) || saysOther(text(column)) || differs(long, lines, column));
  const rivals = numbers.filter(isRival);
  if (rivals.length === 0) return { count };
  const counts = [count, ...rivals];
  const others = (column: number): number[] =>
    numbers.filter((one) => one !== column).slice(0, MOST_PARTS);
  const isSum = (column: number): boolean =>
    subsetsOf(others(column)).some((some) =>
      lines.every((row) => some.reduce((sum, one) => sum + at(row, one), 0) === at(row, column)),
    );
  const isBabies = (column: number): boolean => speaksOfBabies([text(column)]);
  const holdsAll = (column: number): boolean =>
    !isBabies(column) &&
    counts.every((one) => one === column || (isBabies(one) && isMore(column, one)));
  const whole = counts.find(isSum) ?? counts.find(holdsAll);
  const beside = counts.filter((one) => one !== whole).map(text);
  return whole === undefined ? { count, unclear: counts.map(text) } : { count: whole, beside };
}

function linesOf({ page, heading, lastRow, count }: Long): number[] {
  const rows: number[] = [];
  for (let row = heading.last + 1; row <= lastRow && rows.length < SAMPLE; row += 1) {
    if (typeof page.sheet.values[row]?.[count] === "number") rows.push(row);
  }
  return rows;
}

function isNumbers({ page, heading, lastRow }: Long, column: number): boolean {
  const { filled, numbers } = evidenceOf(page, column, heading.last + 1, lastRow);
  return filled > 1 && numbers > 0.5;
}

/** Whether the numbers of a device differ, as those of months do and those of rooms do not. */
function differs({ page, device }: Long, lines: readonly number[], column: number): boolean {
  const seen = new Map<string, unknown>();
  return lines.some((row) => {
    const key = identifierAt(page, row, device);
    const value = page.sheet.values[row]?.[column];
    const before = seen.get(key) ?? value;
    seen.set(key, before);
    return before !== value;
  });
}

/** All choices of at least two columns. */
function subsetsOf(columns: readonly number[]): number[][] {
  const all = Array.from({ length: 2 ** columns.length }, (_, bits) =>
    columns.filter((_column, at) => (bits >> at) % 2 === 1),
  );
  return all.filter(({ length }) => length > 1);
}
