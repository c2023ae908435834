import type { Look, SheetCell } from "../../src/book/workbook/plan.ts";
import type { Area } from "../../src/book/workbook/snapshot.ts";

/** Actions that a look takes, at most. */
export const DRESS_ACTIONS = 6;

/** How many rows an area has. */
export function rowsOf({ firstRow, lastRow }: Area): number {
  return lastRow - firstRow + 1;
}

/** Cells below one another that look alike. */
export interface Alike {
  readonly area: Area;
  readonly look: Look;
  readonly format: string;
}

/** Runs of cells of a sheet that look alike and are no plain ones. */
export function alike(cells: readonly SheetCell[]): Alike[] {
  const byColumn = [...cells].sort(
    (one, other) => one.column - other.column || one.row - other.row,
  );
  const runs: { area: { -readonly [K in keyof Area]: number }; look: Look; format: string }[] = [];
  for (const { row, column, look = "plain", format = "General" } of byColumn) {
    const last = runs.at(-1);
    const follows = last?.area.lastColumn === column && last.area.lastRow === row - 1;
    if (follows && last.look === look && last.format === format) last.area.lastRow = row;
    else {
      const area = { firstRow: row, lastRow: row, firstColumn: column, lastColumn: column };
      runs.push({ area, look, format });
    }
  }
  return runs.filter(({ look, format }) => look !== "plain" || format !== "General");
}

const HEADING_FILL = "#E7E6E6";
const INPUT_FILL = "#FFF9E5";
const EDGE = "#BFBFBF";
const NOTE = "#595959";

/** Gives a range a look and its number format. */
export function dress(range: Excel.Range, { look, format, area }: Alike): void {
  if (format !== "General") setFormat(range, format, rowsOf(area));
  const { font, fill, borders } = range.format;
  if (look === "title" || look === "heading") font.bold = true;
  if (look === "title") font.size = 14;
  if (look === "heading") {
    fill.color = HEADING_FILL;
    range.format.wrapText = true;
    borders.getItem("EdgeBottom").color = EDGE;
  }
  if (look === "input") {
    fill.color = INPUT_FILL;
    for (const edge of [
      "EdgeTop",
      "EdgeBottom",
      "EdgeLeft",
      "EdgeRight",
      "InsideHorizontal",
    ] as const) {
      borders.getItem(edge).color = EDGE;
    }
  }
  if (look === "note") {
    font.italic = true;
    font.color = NOTE;
  }
}

/** Gives every row of a range one number format. */
export function setFormat(range: Excel.Range, format: string, rows: number): void {
  range.numberFormat = Array.from({ length: rows }, () => [format]);
}
