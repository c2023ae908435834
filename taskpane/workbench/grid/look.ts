import { type ICellData, type IRange } from "@univerjs/core";
import type { Area } from "../../../src/book/workbook/snapshot.ts";
import type { Place } from "../../host.ts";
import type { GridCell } from "../sheets.ts";
import { type KeptCell, valueOf } from "./cells.ts";
import { type Held, idOf, type Matrix, model } from "./held.ts";

/** A cell as it stands in the grid now, filled from another one's formula or not. */
export function cellIn(held: Held, sheet: string, row: number, column: number): GridCell {
  const id = idOf(held, sheet);
  const found = held.api.getActiveWorkbook()?.getSheetBySheetId(id)?.getSheet();
  const own = found?.getCellMatrix().getValue(row, column) ?? null;
  const formulas = model(held);
  const filled = at(formulas.getArrayFormulaCellData()[held.unit]?.[id], row, column);
  const formula = formulas.getFormulaStringByCell(row, column, id, held.unit);
  const area = at(formulas.getArrayFormulaRange()[held.unit]?.[id], row, column);
  const cell = isBlank(own) ? filled : own;
  return {
    value: cell ? valueOf(kept(cell)) : null,
    formula: formula ? formula.replace(/^=/, "") : null,
    format: found?.getComposedCellStyle(row, column).n?.pattern ?? "General",
    spill: area ? sizeOf(area) : null,
  };
}

function at<T>(matrix: Matrix<T> | null | undefined, row: number, column: number): T | undefined {
  return matrix?.[row]?.[column];
}

function isBlank(cell: ICellData | null | undefined): boolean {
  return (cell?.v ?? "") === "";
}

function kept({ v, t }: ICellData): KeptCell {
  return { ...(v === null || v === undefined ? {} : { v }), ...(t ? { t } : {}) };
}

function sizeOf({ startRow, endRow, startColumn, endColumn }: IRange): GridCell["spill"] {
  const size = { rows: endRow - startRow + 1, columns: endColumn - startColumn + 1 };
  return size.rows * size.columns > 1 ? size : null;
}

/** The cell at hand, and the block that is selected with it. */
export function selected({
  api,
}: Held): { readonly place: Place; readonly block: { sheet: string; area: Area } } | null {
  const sheet = api.getActiveWorkbook()?.getActiveSheet();
  const range = sheet?.getActiveRange()?.getRange();
  const at = sheet?.getActiveCell()?.getRange() ?? range;
  if (!sheet || !range || !at) return null;
  const name = sheet.getSheetName();
  return {
    place: { sheet: name, row: at.startRow, column: at.startColumn },
    block: {
      sheet: name,
      area: {
        firstRow: range.startRow,
        firstColumn: range.startColumn,
        lastRow: range.endRow,
        lastColumn: range.endColumn,
      },
    },
  };
}
