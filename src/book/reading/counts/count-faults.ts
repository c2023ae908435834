import { type Day, isoText } from "../../../core/day.ts";
import { isBlank, type Page, quoted, textOf } from "../../workbook/cells.ts";
import { numberMeant } from "../../workbook/number-text.ts";
import { cellError } from "../dates/date-columns.ts";
import { missingDevice } from "../dates/missing-device.ts";
import {
  type CellPlace,
  counted,
  fault,
  mendable,
  listed,
  notice,
  wholeSheet,
} from "../../records/problems.ts";
import type { Problem } from "../../records/records.ts";
import { shiftProblem } from "../dates/shifts.ts";
import { type CellValue, isCellError } from "../../workbook/snapshot.ts";
import { toldOfRow } from "../rows/row-faults.ts";

/** A month after the report date. */
function futureMonth(place: CellPlace, date: Day): Problem {
  const cause = `${isoText(date).slice(0, 7)} is after the report date; its counts are not used.`;
  return fault("future date", place, cause, "Correct the month, or the report date.");
}

/** A row of counts whose month cannot be told. */
function noMonth(page: Page, place: CellPlace, row: number): Problem {
  const value = page.sheet.values[row]?.[place.column ?? 0] ?? null;
  if (isCellError(value)) return cellError(place, value.error);
  if (isBlank(value)) {
    return fault(
      "no date",
      place,
      "The row has no month; its count is not used.",
      "Type the first day of the month.",
    );
  }
  const cause = `${quoted(textOf(value))} cannot be read as one definite month; its count is not used.`;
  return fault("text date", place, cause, "Type the first day of the month as a date.");
}

/** Months of a whole sheet that come from a workbook of the other date system. */
function wholeShift(page: Page, example: Day, shift: number): Problem {
  const place = { sheet: page.sheet.name, row: null, column: null, heading: "" };
  return shiftProblem(place, example, shift);
}

/** Why what stands in a cell is no count. */
function countFault(value: CellValue, place: CellPlace): Problem {
  if (isCellError(value)) return cellError(place, value.error);
  if (value === null) {
    return fault(
      "count missing",
      place,
      "The formula in the cell has no result, so there is no count.",
      "Open the book in a spreadsheet program and save it; if that shows none, type the count.",
    );
  }
  if (typeof value !== "number") return textCount(place, textOf(value));
  return value < 0
    ? fault("count below zero", place, `${value} is below zero.`, "Type the month's count.")
    : fault(
        "count not whole",
        place,
        `${value} is not a whole number.`,
        "Type the month's count, not an average.",
      );
}

/** Text where a count belongs; states the number where it is one. */
export function textCount(place: CellPlace, written: string): Problem {
  const cause = `${quoted(written)} is text, not a number.`;
  const number = numberMeant(written);
  const fix =
    number !== null
      ? `Type ${number} as a number.`
      : "Type the count as a number, or clear the cell when there is none.";
  const told = fault("text count", place, cause, fix);
  return number === null ? told : mendable(told, number);
}

/** A row that replaces counts given before. */
function countedTwice(page: Page, row: number, name: string, months: readonly string[]): Problem {
  const place = { sheet: page.sheet.name, row, column: null, heading: "" };
  const cause = `${listed(months)} of ${quoted(name)} is counted more than once; this row replaces the earlier one.`;
  return notice("counted twice", place, cause, "Keep one count for each device and month.");
}

/** A device that no register has. */
function unknownDevice(place: CellPlace, written: string): Problem {
  const cause = `${quoted(written)} is not in the register.`;
  const fix = "Write the device as it is in the register, or add it there.";
  return fault("unknown device", place, cause, fix);
}

/** Marks under months, where counts would stand. */
function monthsMarked(sheet: string, mark: string): Problem {
  const cause = `Under its months stand marks, such as ${quoted(mark)}, and no counts: they are not used. A mark names a month, and not the day on which something was done.`;
  const fix =
    "Where they are replacements, give each part a column with the day of the last one; the first of the month where nobody knows it, since a later day would lengthen the interval.";
  return notice("months marked", wholeSheet(sheet), cause, fix);
}

/** A sheet that was chosen for counts and has none. */
function noCounts(name: string): Problem {
  return fault(
    "counts not found",
    wholeSheet(name),
    `The counts were set to the sheet ${name}, but no counts can be read there.`,
    'Correct the sheet name in Setup; "none" means that there are no counts.',
  );
}

/** Rows of a list that name no device: each is of the one named last. */
function countedAbove(page: Page, column: number, rows: readonly number[]): Problem {
  const place = { sheet: page.sheet.name, row: rows[0] ?? null, column, heading: "" };
  const numbers = listed(rows.map((row) => String(row + 1)));
  const cause = `${counted(rows.length, "row")} without a device, ${numbers}, ${rows.length === 1 ? "counts" : "count"} for the device above.`;
  return notice(
    "device missing",
    place,
    cause,
    "Write the device in each row where that is wrong.",
  );
}

const FAULTS = {
  ...{ countedAbove, countedTwice, countFault, futureMonth, missingDevice, monthsMarked },
  ...{ noCounts, noMonth, unknownDevice, wholeShift },
  ofRow: toldOfRow,
};
type Faults = typeof FAULTS;

/** Something to tell of a cell or row of counts, by the name of the function above that says it, with what it says. */
export type CountNote = {
  [Name in keyof Faults]: readonly [Name, ...Parameters<Faults[Name]>];
}[keyof Faults];

/** What is told of a sheet, by its name. */
export type SheetNote = Extract<CountNote, readonly ["monthsMarked" | "noCounts", ...unknown[]]>;

/** A note in words; reading the counts only takes it down, for the words are told later. */
export function toldOf([name, ...said]: CountNote): Problem {
  const tell = FAULTS[name] as (...all: typeof said) => Problem;
  return tell(...said);
}
