import type { Area } from "../../src/book/workbook/snapshot.ts";

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

/** An area as one block. */
export function blockOf({ firstRow, firstColumn, lastRow, lastColumn }: Area): Block {
  const [rows, columns] = [lastRow - firstRow + 1, lastColumn - firstColumn + 1];
  return { firstRow, firstColumn, rows, columns };
}

/** The first cells of a block, whole rows where one fits into so many cells, and the blocks that are left. */
export function cutBlock<T extends Block>(block: T, mostCells: number): [T, ...T[]] {
  const { firstRow, firstColumn, rows, columns } = block;
  if (rows * columns <= mostCells) return [block];
  const height = Math.floor(mostCells / columns);
  if (height > 0) {
    const below = { firstRow: firstRow + height, rows: rows - height };
    return [
      { ...block, rows: height },
      { ...block, ...below },
    ];
  }
  const width = Math.max(1, mostCells);
  const beside = { rows: 1, firstColumn: firstColumn + width, columns: columns - width };
  const below = { firstRow: firstRow + 1, rows: rows - 1 };
  return [
    { ...block, rows: 1, columns: width },
    ...(columns > width ? [{ ...block, ...beside }] : []),
    ...(rows > 1 ? [{ ...block, ...below }] : []),
  ];
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
