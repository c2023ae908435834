import { type Day, monthStart } from "../../../core/day.ts";
import type { MonthColumn } from "../../headings/months.ts";
import { isTick } from "../../languages/answers.ts";
import { isBlank, type Page, textOf } from "../../workbook/cells.ts";
import { cellKey } from "../../workbook/snapshot.ts";
import type { SheetNote } from "./count-faults.ts";
import type { CountSheet } from "./count-sheets.ts";

/** A letter or two, or a sign, that stands for something done in a month. */
const MARK = /^[\p{L}✓✔√☑●•*]{1,2}$/u;
const FEWEST = 2;

/** Marks under the months of a sheet, such as an x, where counts would stand; null where there are numbers. */
function marksIn(sheet: CountSheet): readonly string[] | null {
  if (sheet.shape === "long") return null;
  const { page, heading, lastRow, months } = sheet;
  const marks: string[] = [];
  let filled = 0;
  for (let row = heading.last + 1; row <= lastRow; row += 1) {
    for (const { column } of months) {
      const value = page.sheet.values[row]?.[column] ?? null;
      if (isBlank(value)) continue;
      if (typeof value !== "string") return null;
      filled += 1;
      if (MARK.test(value.trim())) marks.push(value.trim());
    }
  }
  return marks.length >= FEWEST && marks.length * 2 > filled ? marks : null;
}

/** Sheets of counts, and notes of those whose months are marked: nothing is counted by them. */
export function withoutMarked(sheets: readonly CountSheet[]): {
  readonly found: readonly CountSheet[];
  readonly notes: readonly SheetNote[];
} {
  const notes: SheetNote[] = [];
  const found = sheets.filter((sheet) => {
    const marks = marksIn(sheet);
    if (marks !== null) notes.push(["monthsMarked", sheet.page.sheet.name, marks[0] ?? ""]);
    return marks === null;
  });
  return { found, notes };
}

/** The months over the ticks of a sheet, and the day until when they count. */
export interface Ticks {
  readonly months: readonly MonthColumn[];
  readonly reportDate: Day;
}

/**
 * The first day of the latest month that is ticked in a row, none after the report date: never later than the day
 * itself; null where nothing is. A cell that is struck through, has a comment or says anything else ticks nothing.
 */
export function latestTick(page: Page, row: number, ticks: Ticks): Day | null {
  const ticked = ticks.months.flatMap((month) =>
    isTicked(page, row, { month, ...ticks }) ? monthStart(month.date) : [],
  );
  return ticked.length === 0 ? null : (Math.max(...ticked) as Day);
}

/** Columns of a row that hold something which is not taken as a tick. */
export function notTicks(page: Page, row: number, ticks: Ticks): number[] {
  return ticks.months.flatMap((month) => {
    const isFilled = !isBlank(page.sheet.values[row]?.[month.column] ?? null);
    return isFilled && !isTicked(page, row, { month, ...ticks }) ? month.column : [];
  });
}

function isTicked(
  { sheet }: Page,
  row: number,
  {
    month: { column, date },
    reportDate,
  }: Pick<Ticks, "reportDate"> & { readonly month: MonthColumn },
): boolean {
  const key = cellKey(row, column);
  if (sheet.struck?.has(key) === true || sheet.comments?.has(key) === true) return false;
  const value = sheet.values[row]?.[column] ?? null;
  return isTick(textOf(value)) && monthStart(date) <= reportDate;
}
