import { DATE_SYSTEM_SHIFT } from "../../src/core/day.ts";
import { showsDate } from "../../src/book/workbook/cells.ts";
import {
  cellKey,
  type CellValue,
  type Sheet,
  sheetNamed,
  type Snapshot,
  valueAt,
} from "../../src/book/workbook/snapshot.ts";
import type { Grid, GridBook, GridCell } from "./sheets.ts";

/** What a person should know of a book whose days are counted from 1904. */
export const FROM_1904 =
  "It counts its days from 1904: the grid shows what its formulas gave when it was last saved, and your spreadsheet program works them out anew.";

/**
 * A book for the grid, which counts days from 1900 alone: one that counts from 1904 has its dates moved, and
 * its formulas are shown by their results, for a formula may hold a day as a plain number.
 */
export function shownBook({ snapshot, view }: GridBook): GridBook {
  if (snapshot.dateSystem === 1900) return { snapshot, view };
  const dates = snapshot.formats.map(showsDate);
  const moved = ({ values, formats, ...sheet }: Sheet): Sheet => ({
    ...sheet,
    formats,
    formulas: new Map(),
    values: values.map((line, row) =>
      line.map((value, column) => {
        const isDate = dates[formats[row]?.[column] ?? 0] ?? false;
        return isDate ? later(value, DATE_SYSTEM_SHIFT) : value;
      }),
    ),
  });
  return { snapshot: { ...snapshot, sheets: snapshot.sheets.map(moved) }, view };
}

/** The cells of the grid as the book's file has them. */
export function filedCells(book: Snapshot, grid: Pick<Grid, "cell">): Pick<Grid, "cell"> {
  if (book.dateSystem === 1900) return grid;
  return {
    cell(name, row, column) {
      const now = grid.cell(name, row, column);
      const isDate = showsDate(now.format);
      const value = isDate ? later(now.value, -DATE_SYSTEM_SHIFT) : now.value;
      return {
        ...now,
        value,
        formula: now.formula ?? formulaKept(book, { name, row, column }, value),
      };
    },
  };
}

/** The formula whose result the grid shows, where nobody has put something else there. */
function formulaKept(
  book: Snapshot,
  { name, row, column }: { readonly name: string; readonly row: number; readonly column: number },
  value: CellValue,
): GridCell["formula"] {
  const sheet = sheetNamed(book, name);
  if (sheet === null || valueAt(sheet, row, column) !== value) return null;
  return sheet.formulas.get(cellKey(row, column)) ?? null;
}

function later(value: CellValue, days: number): CellValue {
  return typeof value === "number" ? value + days : value;
}
