import { type Area, columnOf } from "../../book/workbook/snapshot.ts";
import { MOST_COLUMNS, MOST_ROWS } from "../file/limits.ts";

/** An area as files write it, or null: A1, A1:B2, $ allowed; whole rows and columns reach the edge. */
export function areaOf(text: string | null): Area | null {
  const [from = "", to = from, more] = (text ?? "").split(":");
  const first = cornerOf(from, 0, 0);
  const last = cornerOf(to, MOST_ROWS - 1, MOST_COLUMNS - 1);
  if (!first || !last || more !== undefined) return null;
  if (first.row > last.row || first.column > last.column) return null;
  return {
    firstRow: first.row,
    firstColumn: first.column,
    lastRow: last.row,
    lastColumn: last.column,
  };
}

/** One corner of an area; a missing row or column is the edge given. */
function cornerOf(
  text: string,
  row: number,
  column: number,
): { row: number; column: number } | null {
  const match = /^\$?([A-Za-z]{0,3})\$?(\d{0,7})$/.exec(text);
  const [, letters = "", digits = ""] = match ?? [];
  if (letters + digits === "") return null;
  const corner = {
    row: digits === "" ? row : Number(digits) - 1,
    column: letters === "" ? column : columnOf(letters),
  };
  const inside = corner.row >= 0 && corner.row < MOST_ROWS && corner.column < MOST_COLUMNS;
  return inside ? corner : null;
}

/** Whether a cell lies in one of the areas. */
export function inAreas(areas: readonly Area[], row: number, column: number): boolean {
  return areas.some(
    (area) =>
      row >= area.firstRow &&
      row <= area.lastRow &&
      column >= area.firstColumn &&
      column <= area.lastColumn,
  );
}
