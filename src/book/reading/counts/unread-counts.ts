import { deviceKey } from "../../records/device-key.ts";
import { counted, fault, wholeSheet } from "../../records/problems.ts";
import type { Problem } from "../../records/records.ts";
import { hasDateFormat, identifierAt, isBlank, type Page, widest } from "../../workbook/cells.ts";
import type { CountNote } from "./count-faults.ts";
import { isPlain, lacksResult } from "./count-cells.ts";

/** Devices, and columns of numbers beside them, that may be counts. */
const ENOUGH = 3;
const MOSTLY = 0.6;
const MOST_COLUMNS = 60;

/**
 * Sheets beside whose devices stand formulas that no program has calculated, or numbers under no heading at all: they may
 * be counts, and nothing is read from them.
 */
export function unreadCounts(
  pages: readonly Page[],
  isDevice: (key: string) => boolean,
  isTaken: (page: Page, column: number) => boolean,
): Problem[] {
  return pages.flatMap((page): Problem[] => {
    const columns = openColumns(page, isTaken);
    const rows = columns.length < ENOUGH ? [] : deviceRows(page, isDevice);
    if (rows.length < ENOUGH) return [];
    const { name } = page.sheet;
    const columnsThat = (is: (row: number, column: number) => boolean): number =>
      columns.filter(
        (column) => rows.filter((row) => is(row, column)).length >= rows.length * MOSTLY,
      ).length;
    if (columnsThat((row, column) => lacksResult(page, row, column)) >= ENOUGH) {
      return [
        fault(
          "counts not read",
          wholeSheet(name),
          `Formulas of ${name} have no result, so nothing is counted from them, and the shortest intervals apply where they are the counts.`,
          SAVE,
        ),
      ];
    }
    if (columnsThat((row, column) => isBare(page, { row, first: rows[0] ?? 0, column })) < ENOUGH) {
      return [];
    }
    return [
      fault(
        "counts not read",
        wholeSheet(name),
        `${name} has numbers beside devices and no headings, so nothing is counted from them, and the shortest intervals apply where they are the counts.`,
        "If they are counts, put a row of headings above them: the device, and the month of each column, such as 2026-06.",
      ),
    ];
  });
}

/** The same of formulas among counts that are read, once for each sheet. */
export function uncalculated(notes: readonly CountNote[]): Problem[] {
  const sheets = notes.flatMap((note) =>
    note[0] === "countFault" && note[1] === null ? note[2].sheet : [],
  );
  return [...new Set(sheets)].map((name) => {
    const cells = counted(sheets.filter((one) => one === name).length, "formula");
    const cause = `${name} has ${cells} without a result among its counts: nobody knows what they count, so they lengthen no interval.`;
    return fault("counts in doubt", wholeSheet(name), cause, SAVE);
  });
}

const SAVE = "Open the book in a spreadsheet program and save it.";

/** Columns that nothing is read from, with a number or a formula without a result. */
function openColumns(
  page: Page,
  isTaken: (page: Page, column: number) => boolean,
): readonly number[] {
  const { values } = page.sheet;
  return columnsOf(page).filter(
    (column) =>
      !isTaken(page, column) &&
      values.some(
        (cells, row) => typeof cells[column] === "number" || lacksResult(page, row, column),
      ),
  );
}

function columnsOf(page: Page): number[] {
  return [...Array(Math.min(MOST_COLUMNS, widest(page.sheet.values))).keys()];
}

/** Rows that name devices, in the column that names most. */
function deviceRows(page: Page, isDevice: (key: string) => boolean): readonly number[] {
  const rowsOf = (column: number): number[] =>
    page.sheet.values.flatMap((cells, row) => {
      const isKnown =
        !isBlank(cells[column] ?? null) && isDevice(deviceKey(identifierAt(page, row, column)));
      return isKnown ? row : [];
    });
  return columnsOf(page).reduce<readonly number[]>((most, column) => {
    const rows = rowsOf(column);
    return rows.length > most.length ? rows : most;
  }, []);
}

/** A number that may be a count, of a column that nothing heads. */
function isBare(
  page: Page,
  { row, first, column }: { readonly row: number; readonly first: number; readonly column: number },
): boolean {
  const value = page.sheet.values[row]?.[column] ?? null;
  const above = page.sheet.values[first - 1]?.[column] ?? null;
  return (
    typeof value === "number" &&
    isPlain(value) &&
    !hasDateFormat(page, row, column) &&
    isBlank(above)
  );
}
