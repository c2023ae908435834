import type { Day } from "../../core/day.ts";
import type { CellValue, Sheet, Snapshot } from "../workbook/snapshot.ts";
import type { Problem } from "../records/records.ts";
import { cellsOf, columnsIn, date, type InputColumns, text } from "./column.ts";
import { inputRows, toldOf } from "./input-rows.ts";
import type { Layout } from "./layout.ts";

interface Holiday {
  readonly date: Day | null;
  readonly name: string;
}

const HOLIDAY_COLUMNS: InputColumns<Holiday> = {
  date: date({
    readsText: false,
    heading: "Date",
    inPlace: true,
    width: 14,
    choices: { kind: "date", from: "DATE(2000,1,1)", to: "DATE(2099,12,31)" },
    carefully: "it may be any day, so going back to a working day goes one more back",
  }),
  name: text({ heading: "Name", width: 30 }),
};

/** The Holidays sheet: one row for each day on which nothing is replaced. */
export const HOLIDAYS: Layout = {
  name: "Holidays",
  title: "Days on which nothing is replaced",
  table: "SpareHolidayList",
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

/**
 * The holidays of a Holidays sheet, and how many of its cells are no date. Text counts among these even
 * where its meaning is certain: formulas cannot read it, and all roads must give the same date.
 */
export function readHolidays(
  sheet: Sheet,
  dateSystem: Snapshot["dateSystem"],
): {
  readonly holidays: readonly Day[];
  readonly unread: number;
  readonly problems: readonly Problem[];
} {
  const rows = inputRows(sheet, HOLIDAYS, HOLIDAY_COLUMNS, dateSystem);
  const sure = rows.filter(({ doubts }) => !doubts.has("date"));
  return {
    holidays: sure.flatMap(({ record }) => record.date ?? []),
    unread: rows.length - sure.length,
    problems: toldOf(rows),
  };
}
