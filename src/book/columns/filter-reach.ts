import type { Register } from "../records/records.ts";
import { widest } from "../workbook/cells.ts";
import type { Edit } from "../workbook/plan.ts";
import { areaText, type Sheet, valueAt } from "../workbook/snapshot.ts";

/** What becomes of a filter, or a table, that ends left of our columns. */
export interface FilterReach {
  readonly edits: readonly Edit[];
  /** For the plan's summary; "" where nothing needs to be said. */
  readonly told: string;
}

const REACHES: FilterReach = { edits: [], told: "" };

/**
 * A filter that ends left of our columns sorts the user's cells and leaves ours where they are: rows are
 * torn apart, and a state stands beside another device. It is widened, or the person is told.
 */
export function filterReach(sheet: Sheet, last: number, register: Register): FilterReach {
  const { filter } = sheet;
  const bottom = register.rows.at(-1) ?? register.headerRow;
  const table = sheet.tables.find(
    ({ area }) =>
      area.firstRow <= bottom &&
      area.lastRow > register.headerRow &&
      area.lastColumn < last &&
      area.firstColumn <= firstOf(register),
  );
  if (table !== undefined) {
    return { edits: [], told: tornText(`The table ${table.name}`, areaText(table.area)) };
  }
  if (filter === null || filter.area.lastColumn >= last) return REACHES;
  const { area } = filter;
  if (area.firstRow > bottom || area.lastRow <= register.headerRow) return REACHES;
  if (sheet.tables.some((one) => one.area.firstRow === area.firstRow)) return REACHES;
  const grown = { ...area, lastColumn: last };
  if (filter.active || !isOneList(sheet, area.lastColumn + 1, register)) {
    return { edits: [], told: tornText("The filter", areaText(area)) };
  }
  return {
    edits: [{ kind: "growFilter", sheet: sheet.name, from: area, area: grown }],
    told: `the filter now reaches ${areaText(grown)}`,
  };
}

function tornText(what: string, area: string): string {
  return `CAUTION: ${what} over ${area} does not reach these columns; sorting through it would tear rows apart, so remove it and set it anew over all columns`;
}

/** The leftmost column of the register that is read. */
function firstOf({ matches }: Register): number {
  return Math.min(...matches.map(({ column }) => column));
}

/** Whether all columns from one on belong to the register: each has a heading, or nothing in it. */
function isOneList(sheet: Sheet, from: number, { rows, headerRow, headings }: Register): boolean {
  const isBlankHere = (column: number): boolean =>
    [headerRow, ...rows].every((row) => (valueAt(sheet, row, column) ?? "") === "");
  const width = Math.max(headings.length, widest(rows.map((row) => sheet.values[row])));
  for (let column = from; column < width; column += 1) {
    if ((headings[column] ?? "") === "" && !isBlankHere(column)) return false;
  }
  return true;
}
