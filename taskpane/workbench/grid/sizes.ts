import type { CellValue, Sheet } from "../../../src/book/workbook/snapshot.ts";
import type { SheetView } from "../../../src/xlsx/index.ts";

/** A sheet's view, and which looks let text go on in further lines. */
export type Shown = SheetView & { readonly wraps: ReadonlySet<number> };

/** The style of a look with a number format. */
export type StyleId = (look: number, format: number) => string | undefined;

/** Rows and columns in the grid's own words. */
export interface Sizes {
  readonly rowData: Record<number, { h?: number; ia?: 0 | 1; hd?: 0 | 1 }>;
  readonly columnData: Record<number, { w?: number; s?: string; hd?: 0 | 1 }>;
}

const POINT = 4 / 3;
const CHARACTER = 7;
const PADDING = 5;

/** Heights of rows and widths of columns, hidden ones among them. */
export function sizes(sheet: Sheet, view: Shown, styleId: StyleId): Sizes {
  const rowData: Sizes["rowData"] = {};
  const columnData: Sizes["columnData"] = {};
  view.looks.forEach((line, row) => {
    const height = wrappedHeight(line, sheet.values[row] ?? [], view);
    if (height > LINE + 4) rowData[row] = { h: height, ia: 0 };
  });
  for (const [row, height] of view.heights) rowData[row] = { h: Math.round(height * POINT), ia: 0 };
  for (const row of sheet.hiddenRows) rowData[row] = { ...rowData[row], hd: 1 };
  for (const [column, { width, look }] of view.columns) {
    const style = styleId(look, 0);
    columnData[column] = {
      ...(width === null ? {} : { w: Math.round(width * CHARACTER) + PADDING }),
      ...(style === undefined ? {} : { s: style }),
    };
  }
  for (const column of sheet.hiddenColumns) columnData[column] = { ...columnData[column], hd: 1 };
  return { rowData, columnData };
}

const LINE = 20;
const USUAL_WIDTH = 10;

/** The height a row needs for long texts that go on in further lines. */
function wrappedHeight(
  line: readonly number[],
  values: readonly CellValue[],
  { columns, wraps }: Shown,
): number {
  let lines = 1;
  values.forEach((value, column) => {
    if (typeof value !== "string" || !wraps.has(line[column] ?? 0)) return;
    const width = columns.get(column)?.width ?? USUAL_WIDTH;
    lines = Math.max(lines, Math.ceil((value.length * 1.15) / width));
  });
  return Math.min(lines, 6) * LINE;
}
