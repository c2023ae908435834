import { type Day, fromSerial, toSerial } from "../../core/day.ts";
import type { CellValue, Sheet, Snapshot } from "../workbook/snapshot.ts";
import { type Layout, readRows } from "./layout.ts";

/** The Holidays sheet: one row a day on which nobody replaces anything. */
export const HOLIDAYS: Layout = {
  name: "Holidays",
  title: "Days on which nothing is replaced",
  table: "SpareHolidays",
  about: "holidays; a due date on one moves to the working day before",
  room: 500,
  columns: [
    {
      heading: "Date",
      width: 14,
      format: "yyyy-mm-dd",
      choices: { kind: "date", from: "DATE(2000,1,1)", to: "DATE(2099,12,31)" },
      about: "A date from 2000 to 2099.",
    },
    { heading: "Name", width: 30, about: "What day it is." },
  ],
};

/** Rows of a new Holidays sheet. */
export function holidayRows(
  holidays: readonly { readonly date: Day; readonly name: string }[],
  dateSystem: Snapshot["dateSystem"],
): CellValue[][] {
  return holidays.map(({ date, name }) => [toSerial(date, dateSystem), name]);
}

/** The holidays of a Holidays sheet, and the rows whose date is no date. */
export function readHolidays(
  sheet: Sheet,
  dateSystem: Snapshot["dateSystem"],
): { readonly holidays: readonly Day[]; readonly faultyRows: readonly number[] } {
  const holidays: Day[] = [];
  const faultyRows: number[] = [];
  for (const { row, values } of readRows(sheet, HOLIDAYS)) {
    const value = values.get("Date");
    const date = typeof value === "number" ? fromSerial(value, dateSystem) : null;
    if (date === null) faultyRows.push(row);
    else holidays.push(date);
  }
  return { holidays, faultyRows };
}
