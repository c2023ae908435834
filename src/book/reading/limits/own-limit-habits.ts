import type { Day } from "../../../core/day.ts";
import { type CellPlace, fault } from "../../records/problems.ts";
import type { Device, Part, Problem } from "../../records/records.ts";
import { isBlank, type Page } from "../../workbook/cells.ts";
import { cellKey, type CellValue } from "../../workbook/snapshot.ts";
import type { Found } from "../register/register.ts";

/** The devices of a register whose limits of a part are looked at. */
export interface Rows {
  readonly part: Part;
  readonly devices: readonly Device[];
}

/** The same, with what puts a doubt into words. */
export interface Told extends Rows {
  readonly say: Say;
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

/** Why a limit is not to be trusted; its words come later (own-limit-words.ts). */
export type Why =
  | "met"
  | "copied"
  | "met, others stricter"
  | "far"
  | "unread"
  | "missing"
  | "no result"
  | "not whole"
  | "fraction"
  | "long"
  | "no unit";

/** Puts into words why: what the cell holds, and the last replacement where that counts. */
export type Say = (why: Why, value: CellValue, last: Day | null) => readonly [string, string];

/** A limit that is in doubt, or that is met. */
export function doubted(
  place: CellPlace,
  say: Say,
  [why, value, last = null]: readonly [Why, CellValue, (Day | null)?],
): Problem {
  const kind = why === "met" ? "own date past" : "own limit unread";
  return fault(kind, place, ...say(why, value, last));
}

/** A cell without a limit: a formula that no program has calculated, or one that is lost where its column has one. */
export function withoutLimit(
  { page: { sheet } }: Found,
  place: Cell,
  { isLost, say }: { readonly isLost: boolean; readonly say: Say },
): Problem[] {
  const isFormula = sheet.formulas.has(cellKey(place.row, place.column));
  if (!isFormula && !isLost) return [];
  return [doubted(place, say, [isFormula ? "no result" : "missing", null])];
}
