import { type Day, fromSerial } from "../../../core/day.ts";
import { type DateText, readDateText } from "../../headings/dates.ts";
import { isBlank, type Page } from "../../workbook/cells.ts";
import type { CountNote } from "./count-faults.ts";
import { textsApart } from "./count-parts.ts";
import type { CountSheet } from "./count-sheets.ts";
import { NO_DEVICE, sortRows } from "../rows/rows.ts";

/** A row of counts, and the row that names its device: itself, or one above it whose cell is merged or left blank. */
export interface Line {
  readonly row: number;
  readonly named: number;
  /** It names none, and nothing tells it from the row above. */
  readonly isLoose?: boolean;
}

/** The rows of a sheet of counts that belong to a device; the others are reported. */
export function linesOf(
  { notes }: { readonly notes: CountNote[] },
  sheet: CountSheet,
): readonly Line[] {
  const { page, heading, lastRow, device } = sheet;
  const columns = new Map([["device", device]]);
  const sorted = sortRows(page, heading, { lastRow, columns });
  // A last row of totals is how such sheets are kept; one inside the data is worth a word.
  for (const note of sorted.notes) if (note[2] !== lastRow) notes.push(["ofRow", note]);
  const below: number[] = [];
  const lines = sorted.rows.map((row): Line => ({ row, named: row }));
  for (const { row, reason } of sorted.leftOut) {
    if (reason !== NO_DEVICE) continue;
    const at = lines.findIndex((line) => line.row === row - 1);
    const above = lines[at];
    if (above !== undefined && continues(sheet, row, lines.slice(0, at + 1))) {
      const isLoose = textsApart(sheet, row - 1, row) === null;
      lines.splice(at + 1, 0, { row, named: above.named, isLoose });
      if (sheet.shape === "long") below.push(row);
      if (!isLoose || sheet.shape === "long") continue;
    }
    const name = heading.texts[device] ?? "";
    const place = { sheet: page.sheet.name, row, column: device, heading: name };
    notes.push(["missingDevice", page, place]);
  }
  if (below.length > 0) notes.push(["countedAbove", page, device, below]);
  return lines;
}

/** Whether a row without a device has counts of the one above it, and is no sum of all rows above. */
function continues(sheet: CountSheet, row: number, above: readonly Line[]): boolean {
  const { values } = sheet.page.sheet;
  const numberAt = (at: number, column: number): number => {
    const value = values[at]?.[column];
    return typeof value === "number" ? value : 0;
  };
  if (!isBlank(values[row]?.[sheet.device] ?? null)) return false;
  if (sheet.shape === "long") {
    return numberAt(row, sheet.count) > 0 && !isBlank(values[row]?.[sheet.month] ?? null);
  }
  const [column] = sheet.months.flatMap((month) =>
    numberAt(row, month.column) > 0 ? month.column : [],
  );
  if (column === undefined) return false;
  const sum = above.reduce((all, line) => all + numberAt(line.row, column), 0);
  return above.length === 1 || sum !== numberAt(row, column);
}

/** The day of a cell that is a number. */
export function monthDate(page: Page, row: number, column: number): Day | null {
  const value = page.sheet.values[row]?.[column] ?? null;
  return typeof value === "number" ? fromSerial(value, page.dateSystem) : null;
}

/** What a text says of a month. */
export function monthText(page: Page, row: number, column: number): DateText | null {
  const value = page.sheet.values[row]?.[column] ?? null;
  return typeof value === "string" ? readDateText(value) : null;
}
