import { type CellPlace, fault } from "../records/problems.ts";
import type { Device, Part, Problem } from "../records/records.ts";
import { isBlank, type Page } from "../workbook/cells.ts";
import { cellKey, type CellValue } from "../workbook/snapshot.ts";
import type { Found } from "./register.ts";

/** The devices of a register whose limits of a part are looked at. */
export interface Rows {
  readonly part: Part;
  readonly devices: readonly Device[];
}

/** One cell of a limit. */
export interface Cell extends CellPlace {
  readonly row: number;
  readonly column: number;
}

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

/** A cell without a limit where its column says that there is one. */
export function missing(found: Found, place: Cell): Problem[] {
  const told = uncalculated(found, place);
  const cause = "It holds no limit, where most others are stricter than ours, or it is merged.";
  const fix = "Type the limit of this device in its own cell.";
  return told.length > 0 ? told : [fault("own limit unread", place, cause, fix)];
}

/** A formula that no program has calculated. */
export function uncalculated({ page: { sheet } }: Found, place: Cell) {
  if (!sheet.formulas.has(cellKey(place.row, place.column))) return [];
  const cause = "The formula in the cell has no result, and it may be stricter than ours.";
  const fix = "Open the book in a spreadsheet program and save it.";
  return [fault("own limit unread", place, cause, fix)];
}
