import { widest } from "../workbook/cells.ts";
import { BookError } from "../workbook/errors.ts";
import type { AddSheet, SheetCell } from "../workbook/plan.ts";
import { columnLetters } from "../workbook/snapshot.ts";
import { columnValues } from "./cell-values.ts";
import {
  isEmpty,
  type ListRow,
  saidInText,
  separated,
  SEPARATORS,
  type SeparatorName,
  separatorOf,
  widthOf,
} from "./separated.ts";

/** A list as a sheet, and what a person should know of how it was read. */
export interface ListSheet {
  readonly edit: AddSheet;
  readonly rows: number;
  readonly columns: number;
  readonly separator: string;
  readonly notes: readonly string[];
}

const DATE_FORMAT = "yyyy-mm-dd";
const MOST_TOLD = 5;
const MOST_ROWS = 1_048_576;
const MOST_COLUMNS = 16_384;
/** Characters a cell holds. Source: Excel specifications and limits. */
const MOST_TEXT = 32_767;
const [NARROWEST, WIDEST] = [8, 40];

/**
 * A text list as a sheet of that name: a row a line, a cell a cell.
 *
 * @throws BookError that names every line that cannot be taken as it is.
 */
export function listSheet(sheet: string, written: string, said: SeparatorName | null): ListSheet {
  if (written.trim() === "") throw new BookError("it is empty");
  const own = saidInText(written);
  const text = own?.below ?? written;
  const name = said ?? nameOf(own?.separator ?? null) ?? separatorOf(text);
  if (name === null) {
    throw new BookError("no tab, semicolon, bar or comma separates its cells");
  }
  const { rows, faults } = separated(text, SEPARATORS[name]);
  const width = widthOf(rows).cells;
  const wrong = [...faults, ...rows.flatMap((row) => rowFault(row, width)), ...tooLarge(rows)];
  if (wrong.length > 0) throw new BookError(told(wrong));
  const { cells, widths, notes } = cellsOf(rows, width);
  return {
    edit: { kind: "addSheet", sheet, cells, widths, freezeRows: 0 },
    rows: rows.length,
    columns: width,
    separator: name,
    notes: [...notes, ...shortRows(rows, width)],
  };
}

function nameOf(separator: string | null): SeparatorName | null {
  const names = Object.keys(SEPARATORS) as SeparatorName[];
  return names.find((name) => SEPARATORS[name] === separator) ?? null;
}

function rowFault({ line, cells }: ListRow, width: number): string[] {
  const beyond = cells.slice(width);
  const long = cells.find((cell) => cell.length > MOST_TEXT);
  return [
    ...(isEmpty(beyond)
      ? []
      : [`line ${line} has ${cells.length} cells where most lines have ${width}`]),
    ...(long === undefined ? [] : [`line ${line} has a cell of more than ${MOST_TEXT} characters`]),
  ];
}

function tooLarge(rows: readonly ListRow[]): string[] {
  const width = widest(rows.map(({ cells }) => cells));
  return [
    ...(rows.length > MOST_ROWS ? [`it has more than ${MOST_ROWS} lines`] : []),
    ...(width > MOST_COLUMNS ? [`it has more than ${MOST_COLUMNS} cells in a line`] : []),
  ];
}

function told(wrong: readonly string[]): string {
  const more = wrong.length - MOST_TOLD;
  const shown = wrong.slice(0, MOST_TOLD).join("; ");
  const rest = more > 0 ? `; and ${more} more like these` : "";
  return `${shown}${rest}: put a text that holds the separator or a line break in quotation marks, or say the separator`;
}

function cellsOf(
  rows: readonly ListRow[],
  width: number,
): {
  readonly cells: readonly SheetCell[];
  readonly widths: readonly number[];
  readonly notes: readonly string[];
} {
  const cells: SheetCell[] = [];
  const widths: number[] = [];
  const notes: string[] = [];
  for (let column = 0; column < width; column += 1) {
    const texts = rows.map((row) => row.cells[column] ?? "");
    const { values, days, unclear } = columnValues(texts);
    values.forEach((value, row) => {
      if (value === null) return;
      cells.push({ row, column, value, ...(days.has(row) ? { format: DATE_FORMAT } : {}) });
    });
    const longest = texts.reduce((most, text) => Math.max(most, text.length), 0);
    widths.push(Math.min(WIDEST, Math.max(NARROWEST, longest + 2)));
    if (unclear !== null) {
      notes.push(
        `Column ${columnLetters(column)} stays text: "${unclear}" may have a decimal mark or one for thousands.`,
      );
    }
  }
  cells.sort((one, other) => one.row - other.row || one.column - other.column);
  return { cells, widths, notes };
}

/** A line break inside a text that no quotation marks keep together leaves two short lines. */
function shortRows(rows: readonly ListRow[], width: number): string[] {
  const heading = rows.findIndex(({ cells }) => cells.length === width);
  const short = rows.filter(
    ({ cells }, at) => at > heading && cells.length < width && !isEmpty(cells),
  );
  if (short.length === 0) return [];
  const lines = short.slice(0, MOST_TOLD).map(({ line }) => String(line));
  const more = short.length > MOST_TOLD ? ", …" : "";
  return [`Fewer cells than most lines, the last ones blank: line ${lines.join(", ")}${more}.`];
}
