import type { Day } from "../../core/day.ts";
import type { CellValue, Sheet, Snapshot } from "../workbook/snapshot.ts";
import { cellsOf, columnsIn, date, type InputColumns, recordIn, text } from "./column.ts";
import { type Layout, readRows } from "./layout.ts";

interface Holiday {
  readonly date: Day | null;
  readonly name: string;
}

const HOLIDAY_COLUMNS: InputColumns<Holiday> = {
  date: date({
    heading: "Date",
    width: 14,
    choices: { kind: "date", from: "DATE(2000,1,1)", to: "DATE(2099,12,31)" },
    about: "A date from 2000 to 2099.",
  }),
  name: text({ heading: "Name", width: 30, about: "Name of the holiday." }),
};

/** The Holidays sheet: one row for each day on which nothing is replaced. */
export const HOLIDAYS: Layout = {
  name: "Holidays",
  title: "Days on which nothing is replaced",
  table: "SpareHolidays",
  about: "holidays; a due date that falls on one moves to the working day before",
  room: 500,
  columns: columnsIn(HOLIDAY_COLUMNS),
};

/** Rows of a new Holidays sheet. */
export function holidayRows(
  holidays: readonly { readonly date: Day; readonly name: string }[],
  dateSystem: Snapshot["dateSystem"],
): CellValue[][] {
  return holidays.map((holiday) => cellsOf(HOLIDAY_COLUMNS, holiday, dateSystem));
}

/** The holidays of a Holidays sheet, and the rows whose date is no date. */
export function readHolidays(
  sheet: Sheet,
  dateSystem: Snapshot["dateSystem"],
): { readonly holidays: readonly Day[]; readonly faultyRows: readonly number[] } {
  const rows = readRows(sheet, HOLIDAYS).map((row) => ({
    row: row.row,
    date: recordIn(HOLIDAY_COLUMNS, row, dateSystem).date,
  }));
  return {
    holidays: rows.flatMap(({ date: day }) => day ?? []),
    faultyRows: rows.flatMap(({ row, date: day }) => (day === null ? row : [])),
  };
}
