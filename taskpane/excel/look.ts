import type { Look, SheetCell } from "../../src/book/workbook/plan.ts";
import type { Area } from "../../src/book/workbook/snapshot.ts";

/** Actions that a look takes, at most. */
export const DRESS_ACTIONS = 10;

/** How many rows an area has. */
export function rowsOf({ firstRow, lastRow }: Area): number {
  return lastRow - firstRow + 1;
}

/** What a cell looks like. */
interface Dress {
  readonly look: Look;
  readonly format: string;
  readonly toRight: boolean;
  readonly away: boolean;
  readonly upright: boolean;
  readonly wraps: boolean;
  readonly middle: boolean;
}

/** Cells below one another that look alike. */
export interface Alike extends Dress {
  readonly area: Area;
}

const PLAIN: Dress = {
  look: "plain",
  format: "General",
  toRight: false,
  away: false,
  upright: false,
  wraps: false,
  middle: false,
};

/** Runs of cells of a sheet that look alike and are no plain ones. */
export function alike(cells: readonly SheetCell[]): Alike[] {
  const byColumn = [...cells].sort(
    (one, other) => one.column - other.column || one.row - other.row,
  );
  const runs: (Dress & { readonly area: { -readonly [K in keyof Area]: number } })[] = [];
  for (const cell of byColumn) {
    const { row, column } = cell;
    const dress = dressOf(cell);
    const last = runs.at(-1);
    const follows = last?.area.lastColumn === column && last.area.lastRow === row - 1;
    if (follows && isSame(last, dress)) last.area.lastRow = row;
    else {
      const area = { firstRow: row, lastRow: row, firstColumn: column, lastColumn: column };
      runs.push({ ...dress, area });
    }
  }
  return runs.filter((run) => !isSame(run, PLAIN));
}

function dressOf(cell: SheetCell): Dress {
  const { look, format, toRight, away, upright, wraps, middle } = { ...PLAIN, ...cell };
  return { look, format, toRight, away, upright, wraps, middle };
}

function isSame(one: Dress, other: Dress): boolean {
  const names = Object.keys(PLAIN) as (keyof Dress)[];
  return names.every((name) => one[name] === other[name]);
}

const HEADING_FILL = "#E7E6E6";
const INPUT_FILL = "#FFF9E5";
const EDGE = "#BFBFBF";
const NOTE = "#595959";

/** Gives a range a look and its number format. */
export function dress(range: Excel.Range, { look, format, area, ...stands }: Alike): void {
  if (format !== "General") setFormat(range, format, rowsOf(area));
  place(range.format, look, stands);
  const { font, fill, borders } = range.format;
  if (["title", "answer", "heading", "total"].includes(look)) font.bold = true;
  if (look === "total") borders.getItem("EdgeTop").color = EDGE;
  if (look === "title") font.size = 14;
  if (look === "heading") {
    fill.color = HEADING_FILL;
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

/** How the text stands in its cells. */
function place(
  format: Excel.RangeFormat,
  look: Look,
  { toRight, away, upright, wraps, middle }: Omit<Dress, "look" | "format">,
): void {
  if (toRight) {
    format.horizontalAlignment = "Right";
    format.indentLevel = indentOf(look);
  } else if (away) {
    format.horizontalAlignment = "Left";
    format.indentLevel = 1;
  }
  if (middle || look === "heading") format.verticalAlignment = "Center";
  if (upright) {
    format.horizontalAlignment = "Center";
    format.textOrientation = 90;
  } else if (wraps || look === "heading") format.wrapText = true;
}

/** How far from the right edge: the button of a table's filter covers the end of a heading. */
function indentOf(look: Look): number {
  return look === "heading" ? 2 : 1;
}

/** Gives every row of a range one number format. */
export function setFormat(range: Excel.Range, format: string, rows: number): void {
  range.numberFormat = Array.from({ length: rows }, () => [format]);
}
