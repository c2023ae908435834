import { type Day, isoText } from "../../core/day.ts";
import { isBlank, type Page, quoted, textOf } from "../workbook/cells.ts";
import { numberMeant } from "../workbook/number-text.ts";
import { cellError } from "./date-columns.ts";
import { type CellPlace, fault, mendable, listed, notice } from "../records/problems.ts";
import type { Problem } from "../records/records.ts";
import { shiftProblem } from "./shifts.ts";
import { type CellValue, isCellError } from "../workbook/snapshot.ts";

/** A month heading as people read it: a true date's heading is only a number in the file. */
export function headingText(text: string | undefined, date: Day): string {
  return text === undefined || /^\d+$/.test(text) ? isoText(date).slice(0, 7) : text;
}

/** A month after the report date. */
export function futureMonth(place: CellPlace, date: Day): Problem {
  const cause = `${isoText(date).slice(0, 7)} is after the report date; its counts are not used.`;
  return fault("future date", place, cause, "Correct the month, or the report date.");
}

/** A row of counts whose month cannot be told. */
export function noMonth(page: Page, place: CellPlace, row: number): Problem {
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
export function wholeShift(page: Page, example: Day, shift: number): Problem {
  const place = { sheet: page.sheet.name, row: null, column: null, heading: "" };
  return shiftProblem(place, example, shift);
}

/** Why what stands in a cell is no count, null for counts and blanks. */
export function countFault(value: CellValue, place: CellPlace): Problem | null {
  if (typeof value === "number") {
    if (value < 0) {
      return fault("count below zero", place, `${value} is below zero.`, "Type the month's count.");
    }
    if (!Number.isInteger(value)) {
      return fault(
        "count not whole",
        place,
        `${value} is not a whole number.`,
        "Type the month's count, not an average.",
      );
    }
    return null;
  }
  if (isBlank(value)) return null;
  if (isCellError(value)) return cellError(place, value.error);
  return textCount(place, textOf(value));
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
export function countedTwice(
  page: Page,
  row: number,
  name: string,
  months: readonly string[],
): Problem {
  const place = { sheet: page.sheet.name, row, column: null, heading: "" };
  const cause = `${listed(months)} of ${quoted(name)} is counted more than once; this row replaces the earlier one.`;
  return notice("counted twice", place, cause, "Keep one count for each device and month.");
}
