import { BookError } from "../workbook/errors.ts";
import { type CellValue, type Sheet, valueAt } from "../workbook/snapshot.ts";
import { headingColumn, headingRow, type Layout, textOf } from "./layout.ts";

/** The rows of a sheet of results, and the headings by whose values a row is known again. */
interface Keyed {
  readonly layout: Layout;
  readonly keys?: readonly string[];
}

interface Fresh extends Keyed {
  readonly rows: readonly (readonly CellValue[])[];
}

/** What identifies a row again, as one text. */
export function rowKey(keyed: Keyed): (row: readonly CellValue[]) => string {
  return (row) => JSON.stringify(keyCells(keyed, row));
}

function keyCells({ layout, keys = [] }: Keyed, row: readonly CellValue[]): CellValue[] {
  return keys.map((key) => row[layout.columns.findIndex(({ heading }) => heading === key)] ?? null);
}

/**
 * What people typed into the sheet, by the key of its row. Throws a BookError where a row that was typed
 * into is no longer among the results, or would move away from what stands in a column of theirs: what was
 * typed is theirs.
 */
export function keptRows(
  sheet: Sheet,
  fresh: Fresh,
): (row: readonly CellValue[], column: number) => CellValue | undefined {
  const keyOf = rowKey(fresh);
  const places = fresh.layout.columns.map(({ heading }) => headingColumn(sheet, heading));
  const head = headingRow(sheet);
  const there = sheet.values
    .slice(head + 1)
    .map((_, at) =>
      places.map((column) => (column === null ? null : valueAt(sheet, head + 1 + at, column))),
    );
  refuseGone(sheet, there, fresh);
  refuseMoved(sheet, there, fresh);
  const typed = new Map(there.map((cells) => [keyOf(cells), cells]));
  return (row, column) => typed.get(keyOf(row))?.[column];
}

/** Rows that were typed into and are no longer among the results. */
function refuseGone(sheet: Sheet, there: readonly CellValue[][], fresh: Fresh): void {
  const keyOf = rowKey(fresh);
  const known = new Set(fresh.rows.map(keyOf));
  const { columns } = fresh.layout;
  for (const cells of there) {
    const isTyped = columns.some(({ input }, at) => input && (cells[at] ?? null) !== null);
    if (!isTyped || known.has(keyOf(cells))) continue;
    const texts = keyCells(fresh, cells).filter((cell) => typeof cell === "string");
    const way = /^spareround/i.test(fresh.layout.table)
      ? "log it with sparespan log BOOK --rounds BOOK and clear it, or keep it in another workbook"
      : "move it to one of your own sheets";
    throw new BookError(
      `${sheet.name} has text typed for a row that no longer exists (${texts.join(", ")}): ${way} first.`,
    );
  }
}

/** Columns that people put into the table, which stay where they are while its rows move. */
function refuseMoved(sheet: Sheet, there: readonly CellValue[][], fresh: Fresh): void {
  if ((fresh.keys ?? []).length === 0) return;
  const keyOf = rowKey(fresh);
  const head = headingRow(sheet);
  const moves = there.flatMap((cells, at) => {
    const row = fresh.rows[at];
    return row !== undefined && keyOf(row) === keyOf(cells) ? [] : head + 1 + at;
  });
  const own = new Set(fresh.layout.columns.map(({ heading }) => headingColumn(sheet, heading)));
  const last = sheet.tables.find(({ area }) => area.firstRow === head)?.area.lastColumn ?? -1;
  for (let column = 0; column <= last; column += 1) {
    if (own.has(column) || moves.every((row) => textOf(valueAt(sheet, row, column)) === ""))
      continue;
    throw new BookError(
      `${sheet.name} has text under ${textOf(valueAt(sheet, head, column))} that its rows would move away from: log it, or move it to a sheet of your own first.`,
    );
  }
}
