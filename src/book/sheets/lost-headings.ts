import { fault, wholeSheet } from "../records/problems.ts";
import type { Problem } from "../records/records.ts";
import { type CellValue, type Sheet, valueAt } from "../workbook/snapshot.ts";
import { headingColumn, headingRow, type Layout, textOf } from "./layout.ts";

/** A heading of ours that stands over no column, and the strange columns of which one may be its own. */
export interface LostHeading {
  readonly heading: string;
  readonly columns: readonly number[];
}

/** The headings of a sheet of ours that were renamed or removed. */
export function lostHeadings(sheet: Sheet, { columns }: Layout): LostHeading[] {
  const found = columns.map(({ heading }) => headingColumn(sheet, heading));
  if (!found.includes(null)) return [];
  const strange = strangeColumns(sheet, found);
  return columns.flatMap(({ heading }, at) => {
    if (found[at] !== null) return [];
    const places = placesOf(found, at);
    const inPlace = strange.filter((column) => places.includes(column));
    return [{ heading, columns: inPlace.length > 0 ? inPlace : strange }];
  });
}

/** Where a column of ours stands by the nearest headings that are there; where none is, where we put it. */
function placesOf(found: readonly (number | null)[], at: number): number[] {
  const known = found.flatMap((column, index) => (column === null ? [] : [{ column, index }]));
  const before = known.filter(({ index }) => index < at).at(-1);
  const after = known.find(({ index }) => index > at);
  const near = [before, after].filter((one) => one !== undefined);
  return near.length === 0 ? [at] : near.map(({ column, index }) => column + at - index);
}

/** Columns that people added to a sheet of ours, or that stand beside its table. */
export function besideColumns(sheet: Sheet, layout: Layout): number[] {
  const known = layout.columns.map(({ heading }) => headingColumn(sheet, heading));
  return strangeColumns(sheet, [
    ...known,
    ...lostHeadings(sheet, layout).flatMap((one) => one.columns),
  ]);
}

/** Columns of a sheet of ours, besides those known, in which something stands below the headings. */
function strangeColumns(sheet: Sheet, known: readonly (number | null)[]): number[] {
  const filled = new Set<number>();
  for (const cells of sheet.values.slice(headingRow(sheet) + 1)) {
    cells.forEach((value, column) => {
      if (value !== null && value !== "") filled.add(column);
    });
  }
  return [...filled].filter((column) => !known.includes(column)).sort((a, b) => a - b);
}

/** What a row says in some columns, as one cell; texts of several are one text, which is no number and no date. */
export function cellIn(sheet: Sheet, row: number, columns: readonly number[]): CellValue {
  const cells = columns
    .map((column) => valueAt(sheet, row, column))
    .filter((value) => value !== null && value !== "");
  return cells.length > 1 ? cells.map(textOf).join("; ") : (cells[0] ?? null);
}

/** What is told of a heading that was renamed or removed. */
export function lostHeading({ name }: Sheet, heading: string): Problem {
  const cause = `No column of ${name} has this heading; what may be its own counts only where that is careful.`;
  const place = { ...wholeSheet(name), heading };
  return fault("no column", place, cause, `Write ${heading} above its column again.`);
}
