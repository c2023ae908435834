import type { Area } from "../../src/book/workbook/snapshot.ts";

/** Cells read in one request: an answer far below the 5 MB that Excel on the web allows. */
export const MOST_CELLS = 20_000;

/** A sheet and where it has cells; null for an empty one. */
export interface Looked {
  readonly sheet: Excel.Worksheet;
  readonly used: Area | null;
}

/** A block of cells by its first cell and its size. */
export interface Block {
  readonly firstRow: number;
  readonly firstColumn: number;
  readonly rows: number;
  readonly columns: number;
}

/** Where a loaded range lies. */
export function areaOf(
  range: Pick<Excel.Range, "rowIndex" | "columnIndex" | "rowCount" | "columnCount">,
): Area {
  return {
    firstRow: range.rowIndex,
    firstColumn: range.columnIndex,
    lastRow: range.rowIndex + range.rowCount - 1,
    lastColumn: range.columnIndex + range.columnCount - 1,
  };
}

/** An area in blocks of whole rows, none of more cells than a request may carry. */
export function blocksOf(area: Area, mostCells: number): Block[] {
  const columns = area.lastColumn - area.firstColumn + 1;
  const height = Math.max(1, Math.floor(mostCells / columns));
  const blocks: Block[] = [];
  for (let row = area.firstRow; row <= area.lastRow; row += height) {
    const rows = Math.min(height, area.lastRow - row + 1);
    blocks.push({ firstRow: row, firstColumn: area.firstColumn, rows, columns });
  }
  return blocks;
}

/** A range for an area of a sheet. */
export function rangeAt(sheet: Excel.Worksheet, area: Area): Excel.Range {
  return sheet.getRangeByIndexes(
    area.firstRow,
    area.firstColumn,
    area.lastRow - area.firstRow + 1,
    area.lastColumn - area.firstColumn + 1,
  );
}
