import {
  cellAt,
  type CellValue,
  isCellError,
  type Sheet,
  sheetNamed,
  type Snapshot,
  valueAt,
} from "../../src/book/workbook/snapshot.ts";
import type { UserEdit } from "../../src/xlsx/index.ts";
import type { Grid, GridCell } from "./sheets.ts";

/** Cells that may hold something else than the file, by sheet. */
export type Touched = ReadonlyMap<string, ReadonlySet<number>>;

/**
 * The cells that do hold something else than the book: what was typed, what formulas fill, and the
 * results that changed with them on whatever sheet.
 */
export function userEdits(book: Snapshot, touched: Touched, grid: Pick<Grid, "cell">): UserEdit[] {
  const cells: UserEdit[] = [];
  for (const [name, keys] of touched) {
    const sheet = sheetNamed(book, name);
    if (sheet === null) continue;
    for (const key of keys) {
      const { row, column } = cellAt(key);
      const now = grid.cell(name, row, column);
      const left = leftCell(now, beforeOf(book, sheet, key));
      if (left !== null) cells.push({ sheet: sheet.name, row, column, ...left });
    }
  }
  return cells;
}

type Before = Omit<GridCell, "spill">;

function beforeOf(book: Snapshot, sheet: Sheet, key: number): Before {
  const { row, column } = cellAt(key);
  return {
    value: valueAt(sheet, row, column),
    formula: sheet.formulas.get(key) ?? null,
    format: book.formats[sheet.formats[row]?.[column] ?? 0] ?? "General",
  };
}

type Left = Omit<UserEdit, "sheet" | "row" | "column">;

function leftCell(now: GridCell, before: Before): Left | null {
  const sameFormula = now.formula === before.formula;
  const format = now.format === before.format ? null : now.format;
  if (sameFormula && format === null && isSame(now.value, before.value)) return null;
  const { formula, spill } = now;
  if (formula === null) return { value: now.value, formula: null, format };
  const ours = /(?<![\w.])SPARE\./i.test(formula);
  const filling = spill === null ? {} : { spill };
  if (!sameFormula || (ours && spill !== null)) {
    const live = ours || spill !== null;
    return { value: now.value, formula: { text: formula, live }, format, ...filling };
  }
  // What the grid cannot calculate keeps the file's result until a spreadsheet program does.
  const value = isUnknown(now.value) ? before.value : now.value;
  if (format === null && isSame(value, before.value)) return null;
  return { value, formula: "kept", format };
}

function isUnknown(value: CellValue): boolean {
  return isCellError(value) && value.error === "#NAME?";
}

/** Whether two cells hold the same; a number may lose its last bits on the way through the grid. */
function isSame(one: CellValue, other: CellValue): boolean {
  if (isCellError(one)) return isCellError(other) && one.error === other.error;
  if (typeof one === "number" && typeof other === "number") {
    return Math.abs(one - other) <= 1e-12 * Math.max(Math.abs(one), Math.abs(other));
  }
  return (one ?? "") === (other ?? "");
}
