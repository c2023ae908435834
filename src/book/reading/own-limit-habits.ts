import type { Device } from "../records/records.ts";
import { isBlank, type Page } from "../workbook/cells.ts";
import type { CellValue } from "../workbook/snapshot.ts";

/** What says that there is no date. */
const NOTHING = /^(?:[-\u2012-\u2015./\s]+|n\s*[/.]?\s*a\.?)$/i;

/** Whether a cell says that there is no limit. */
export function isNothing(value: CellValue): boolean {
  return isBlank(value) || (typeof value === "string" && NOTHING.test(value.trim()));
}

/**
 * Whether most rows in service have a limit of their own that is stricter than ours: a row without one has lost it, and
 * ours would be calmer. A column of exceptions is blank in most rows.
 */
export function isUsual(stricter: number, devices: readonly Pick<Device, "retired">[]): boolean {
  return stricter * 2 > devices.filter(({ retired }) => !retired).length;
}

/** Whether a cell is blank because one above is merged over it, which shows one limit for all their rows. */
export function isMergedAbove(
  { sheet }: Page,
  { row, column }: { readonly row: number; readonly column: number },
): boolean {
  return sheet.merges.some(
    ({ firstColumn, lastColumn, firstRow, lastRow }) =>
      firstColumn <= column && column <= lastColumn && firstRow < row && row <= lastRow,
  );
}
