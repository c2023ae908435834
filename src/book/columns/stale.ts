import { cellsOf, type OurColumn } from "./our-column.ts";
import type { ColumnCells } from "../workbook/plan.ts";
import { sameFormula } from "../workbook/same-formula.ts";
import { cellKey, type CellValue, isCellError, type Sheet, valueAt } from "../workbook/snapshot.ts";

/** Share of formulas from which a column is one of formulas, and a constant in it is overwritten. */
const FORMULA_SHARE = 0.8;

/** Cells of our columns already in the register that no longer say what they should. */
export function staleCells(
  columns: readonly OurColumn[],
  sheet: Sheet,
  { rows, force }: { readonly rows: readonly number[]; readonly force: boolean },
): ColumnCells[] {
  return columns.flatMap((column) => {
    if (!column.there) return [];
    const keep = force ? new Set<number>() : overwritten(sheet, column.column, rows);
    const stale = rows.flatMap((row, at) =>
      keep.has(row) ||
      column.only?.has(row) === false ||
      isCurrent(sheet, row, column, column.values[at] ?? null)
        ? []
        : [at],
    );
    if (stale.length === 0) return [];
    return [
      cellsOf(
        column,
        stale.map((at) => rows[at] ?? 0),
        stale.map((at) => column.values[at] ?? null),
      ),
    ];
  });
}

function isCurrent(sheet: Sheet, row: number, column: OurColumn, value: CellValue): boolean {
  const formula = sheet.formulas.get(cellKey(row, column.column)) ?? null;
  const wanted = column.formula?.text.replaceAll("{r}", String(row + 1)) ?? null;
  const found = valueAt(sheet, row, column.column);
  const same = isCellError(found) ? false : found === value || (found === null && value === "");
  return same && sameFormula(formula, wanted);
}

/** Rows in which a constant was typed over a formula. */
function overwritten(sheet: Sheet, column: number, rows: readonly number[]): Set<number> {
  const constants = rows.filter(
    (row) =>
      !sheet.formulas.has(cellKey(row, column)) && (valueAt(sheet, row, column) ?? "") !== "",
  );
  const formulas = rows.filter((row) => sheet.formulas.has(cellKey(row, column))).length;
  const isFormulaColumn = formulas >= FORMULA_SHARE * (formulas + constants.length);
  return new Set(isFormulaColumn ? constants : []);
}
