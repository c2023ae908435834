import type { HeadingRows } from "../../headings/headings.ts";
import { mayBePart, saysOther } from "../../headings/other-counts.ts";
import { isBlank, type Page } from "../../workbook/cells.ts";
import type { CellValue } from "../../workbook/snapshot.ts";
import { speaksOfBabies } from "./count-units.ts";

/** A list with a row for each device and month, and its columns as far as they are known. */
interface Long {
  readonly page: Page;
  readonly heading: HeadingRows;
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

type Cells = readonly CellValue[];

/** Rows looked at. */
const SAMPLE = 60;
/** What is more is a day. */
const MOST = 30_000;

/**
 * Which column of a list holds all uses. Numbers beside it may be a part that it lacks, such as repeat tests beside first
 * ones: only a column that is the sum of all others holds them for certain; so does one of tests beside one of babies,
 * who take at least a test each. Where no column does, none is taken.
 */
export function usesColumn(long: Long, isCount: (heading: string) => boolean): UsesColumn {
  const { page, heading, device, month, count } = long;
  const text = (column: number): string => heading.texts[column] ?? "";
  const lines = page.sheet.values
    .slice(heading.last + 1)
    .filter((cells) => isNumber(cells, count))
    .slice(0, SAMPLE);
  const numbers = heading.texts.flatMap((_, column) => {
    const filled = lines.filter((cells) => isNumber(cells, column)).length;
    return column !== device && column !== month && filled * 2 > lines.length ? column : [];
  });
  // The numbers of a device differ where they are those of months, and not of its room.
  const differs = (column: number): boolean =>
    lines.some((one) =>
      lines.some((other) => one[device] === other[device] && one[column] !== other[column]),
    );
  const mayBeUses = (column: number): boolean =>
    mayBePart(text(column)) &&
    !/birth/i.test(text(column)) &&
    (isCount(text(column)) || saysOther(text(column)) || differs(column));
  const counts = numbers.filter((column) => column === count || mayBeUses(column));
  if (counts.length < 2) return { count };
  const isSum = (column: number, of: readonly number[]): boolean =>
    of.length > 2 && lines.every((cells) => sumOf(cells, of) === 2 * numberIn(cells, column));
  const isBabies = (column: number): boolean => speaksOfBabies([text(column)]);
  const isOfAll = (column: number): boolean =>
    counts.every((one) => {
      const isMore = lines.every((cells) => numberIn(cells, column) >= numberIn(cells, one));
      return isMore && isBabies(one) !== (one === column);
    });
  const whole =
    counts.find((one) => isSum(one, counts) || isSum(one, numbers)) ?? counts.find(isOfAll);
  const texts = counts.filter((one) => one !== whole).map(text);
  return whole === undefined ? { count, unclear: texts } : { count: whole, beside: texts };
}

function isNumber(cells: Cells, column: number): boolean {
  const value = cells[column] ?? null;
  return !isBlank(value) && Number(value) < MOST;
}

function numberIn(cells: Cells, column: number): number {
  return Number(cells[column]) || 0;
}

function sumOf(cells: Cells, columns: readonly number[]): number {
  return columns.reduce((sum, column) => sum + numberIn(cells, column), 0);
}
