import type { AddChart } from "../workbook/plan.ts";
import type { Layout } from "./layout.ts";
import { widthOf } from "./shape.ts";

/** Where a table of results stands: its sheet, and the row of its headings. */
export interface TablePlace {
  readonly sheet: string;
  readonly headingRow: number;
  /** First row of the charts above the table; null in a sheet that was made without room for them. */
  readonly chartsFrom: number | null;
}

/** Rows of a chart that stands alone, and of one among several. */
const [ALONE, AMONG] = [14, 10];
/** More charts than these stand in pairs. */
const MOST_IN_A_COLUMN = 3;

/** Which of how many charts one that stands alone is. */
export const ONLY_CHART = { nth: 0, of: 1 } as const;

/** Rows that so many charts take above a table, with a blank one around each. */
export function chartRows(count: number): number {
  return count === 0 ? 0 : 1 + Math.ceil(count / inARow(count)) * (heightOf(count) + 1);
}

function inARow(count: number): number {
  return count > MOST_IN_A_COLUMN ? 2 : 1;
}

function heightOf(count: number): number {
  return count === 1 ? ALONE : AMONG;
}

/** Where the nth of so many charts goes: above the table and as wide as it, or beside it where there is no room above. */
export function chartPlace(
  layout: Layout,
  place: TablePlace,
  { nth, of }: { readonly nth: number; readonly of: number },
): AddChart["at"] {
  if (place.chartsFrom === null) return besideTable(layout, place, nth);
  const pair = inARow(of);
  const rows = heightOf(of);
  const firstRow = place.chartsFrom + 1 + Math.floor(nth / pair) * (rows + 1);
  const edges = columnEdges(layout, pair);
  const at = nth % pair;
  return {
    ...{ firstRow, firstColumn: edges[at] ?? 0 },
    ...{ lastRow: firstRow + rows - 1, lastColumn: (edges[at + 1] ?? 1) - 1 },
  };
}

/** The columns at which a table's width is parted into so many pieces, as equal as its columns let them be. */
function columnEdges({ columns }: Layout, pieces: number): number[] {
  const widths = columns.map((column) => (column.helper ? 0 : widthOf(column)));
  const all = widths.reduce((sum, width) => sum + width, 0);
  const edges = [0];
  let sum = 0;
  widths.forEach((width, at) => {
    sum += width;
    if (edges.length < pieces && sum >= (all * edges.length) / pieces) edges.push(at + 1);
  });
  return [...edges, columns.length];
}

const BESIDE = { rows: 16, columns: 6 } as const;

/** Right of the table, one below the other, and below the headings, which each page repeats. */
function besideTable({ columns }: Layout, { headingRow }: TablePlace, nth: number): AddChart["at"] {
  const firstColumn = columns.length + 1;
  const firstRow = headingRow + 1 + nth * (BESIDE.rows + 2);
  return {
    ...{ firstRow, firstColumn },
    ...{ lastRow: firstRow + BESIDE.rows - 1, lastColumn: firstColumn + BESIDE.columns - 1 },
  };
}
