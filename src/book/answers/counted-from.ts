import { OLDEST } from "../../core/due.ts";
import type { Day } from "../../core/day.ts";
import type { CellValue } from "../workbook/snapshot.ts";

/**
 * Days within which a date of the register and one of the programme's own log may be the same replacement, written
 * down twice: nobody replaces a part twice within a month (common practice, no source).
 */
export const ONE_REPLACEMENT = 31;

/**
 * What an interval is counted from, given the register's cell and the last renewal in the programme's own log:
 * the later of the two; the earlier where they may be one replacement; the log's where the cell is blank. A cell
 * that cannot be a date stays what it is. The same as a formula: counted-from-formula.ts.
 */
export function countedFrom(cell: CellValue, logged: Day | null, reportDate: Day): CellValue {
  if (logged === null) return cell;
  if (cell === null || (typeof cell === "string" && /^ *$/.test(cell))) return logged;
  if (typeof cell !== "number") return cell;
  // Written so that NaN, too, is out of range.
  if (!(Math.floor(cell) <= reportDate && cell >= reportDate - OLDEST)) return cell;
  return mayBeOne(cell, logged) ? Math.min(cell, logged) : Math.max(cell, logged);
}

/** Whether two days may be one replacement. */
export function mayBeOne(one: number, other: number): boolean {
  return one !== other && Math.abs(one - other) <= ONE_REPLACEMENT;
}
