import { identifierAt, isBlank, type Page } from "../../workbook/cells.ts";
import type { RowNote } from "./row-faults.ts";
import type { Area } from "../../workbook/snapshot.ts";

/** Sites whose cell is merged downwards over the rows of several devices. */
export interface MergedSites {
  /** The site of each row below the first of such an area. */
  readonly byRow: ReadonlyMap<number, string>;
  readonly notes: readonly RowNote[];
}

const NONE: MergedSites = { byRow: new Map(), notes: [] };

/**
 * The sites of rows that show the cell of a row above. The formulas read a device's site in its own row, so that
 * no interval follows from it.
 */
export function mergedSites(
  page: Page,
  column: number | undefined,
  { rows, heading }: { readonly rows: readonly number[]; readonly heading: string },
): MergedSites {
  if (column === undefined) return NONE;
  const { sheet } = page;
  const isDevice = new Set(rows);
  const areas = sheet.merges.filter(
    ({ firstColumn, lastColumn, firstRow, lastRow }) =>
      firstColumn <= column &&
      column <= lastColumn &&
      lastRow > firstRow &&
      !isBlank(sheet.values[firstRow]?.[firstColumn] ?? null),
  );
  const byRow = new Map<number, string>();
  const told: { readonly site: string; readonly first: number; readonly last: number }[] = [];
  for (const area of areas) {
    const below = rowsBelow(area).filter((row) => isDevice.has(row));
    if (below.length === 0) continue;
    const site = identifierAt(page, area.firstRow, area.firstColumn);
    for (const row of below) byRow.set(row, site);
    told.push({ site, first: area.firstRow, last: area.lastRow });
  }
  if (told.length === 0) return NONE;
  const place = { sheet: sheet.name, row: null, column, heading };
  return { byRow, notes: [["sitesMerged", place, told]] };
}

function rowsBelow({ firstRow, lastRow }: Area): number[] {
  return Array.from({ length: lastRow - firstRow }, (_, at) => firstRow + 1 + at);
}
