import type { Choices } from "../workbook/plan.ts";
import {
  type CellValue,
  columnLetters,
  type Sheet,
  type Snapshot,
  type Table,
  sheetInFormula,
  valueAt,
} from "../workbook/snapshot.ts";

/** One column of a sheet of ours. */
export interface LayoutColumn {
  readonly heading: string;
  /** Width in characters. */
  readonly width: number;
  readonly format?: string | ((values: readonly CellValue[]) => string | undefined);
  readonly choices?: Choices;
  /** In a sheet of results: cells a person fills in, kept when the sheet is rewritten. */
  readonly input?: true;
  /** Native formula of the column's cells without "=", {r} for the row; their values are its results. */
  readonly formula?: string;
  /** What goes into it, one sentence, shown when an entry is refused; of our own sheets in columns-mean.ts. */
  readonly about?: string | undefined;
  /** Long text goes on in further lines. */
  readonly wraps?: true;
  /** Narrower than its heading, which runs upwards: a box to tick. */
  readonly upright?: true;
  /** Only a chart needs it: out of sight, and not on paper. */
  readonly helper?: true;
  /** Where its heading was renamed, what stands in its place is read as formulas do: to read it is careful. */
  readonly inPlace?: true;
}

/** A sheet of ours: a title in A1, a table below it and nothing else. */
export interface Layout {
  readonly name: string;
  readonly title: string;
  readonly table: string;
  /** What it holds, for Read me; of our own sheets in columns-mean.ts. */
  readonly about?: string | undefined;
  readonly columns: readonly LayoutColumn[];
  /** Rows that may be filled later; choices and names reach so far. */
  readonly room: number;
  /** Height in points that each row has at least, where people write into it by hand. */
  readonly rowPoints?: number;
  /** A table to write on by hand, whose headings have no filter buttons. */
  readonly buttonless?: true;
  /** Which rows are sums and bold: a formula without "=", given the reference of a heading's cell in its row. */
  readonly strong?: (of: (heading: string) => string) => string;
}

export const TITLE_ROW = 0;
export const NOTE_ROW = 1;
export const HEADING_ROW = 2;
/** Rows above and below its table's first one in which lost headings are looked for. */
const NEAR = 5;
const FIRST_ROW = HEADING_ROW + 1;

/** Lines that a sheet of results has at least between its title and its table. */
export const NOTE_LINES = 3;
/** The first row that the headings of a sheet of results may stand in, below its notes. */
export const RESULT_HEADING_ROW = NOTE_ROW + NOTE_LINES;
/** How far down they are looked for where no table tells: below notes and charts. */
const LAST_HEADING_ROW = RESULT_HEADING_ROW + 100;

/** Name of the sheet at the left, page at the right, in the codes of a print footer. */
export const FOOTER = "&L&A&RPage &P of &N";

/** Choices every yes/no cell offers. */
export const YES_NO: Choices = { kind: "list", values: ["yes", "no"] };

/** The sheet laid out so: the one that holds our table, or one that carries our name, title and headings. */
export function findSheet(snapshot: Snapshot, layout: Layout): Sheet | null {
  const table = layout.table.toLowerCase();
  return (
    snapshot.sheets.find((sheet) =>
      sheet.tables.some(({ name }) => name.toLowerCase() === table),
    ) ??
    snapshot.sheets.find(
      (sheet) =>
        isEntitled(sheet, layout) &&
        layout.columns.some((column) => headingColumn(sheet, column.heading) !== null),
    ) ??
    null
  );
}

/** Whether a sheet carries the name and the title of one of ours: a sheet that is only called so is somebody's own. */
export function isEntitled(
  sheet: Sheet,
  { name, title }: { readonly name: string; readonly title: string },
): boolean {
  return sheet.name.startsWith(name) && valueAt(sheet, TITLE_ROW, 0) === title;
}

/** Whether a sheet is the one laid out so, or a copy of it. */
export function isLaidOut(sheet: Sheet, layout: Layout): boolean {
  const table = layout.table.toLowerCase();
  return isEntitled(sheet, layout) || sheet.tables.some(({ name }) => name.toLowerCase() === table);
}

/** A name for a sheet of ours that no sheet of the book has. */
export function freeName(snapshot: Snapshot, wanted: string): string {
  const taken = new Set(snapshot.sheets.map((sheet) => sheet.name.toLowerCase()));
  let name = wanted;
  for (let count = 2; taken.has(name.toLowerCase()); count += 1) name = `${wanted} (${count})`;
  return name;
}

const headingRows = new WeakMap<Sheet, number>();

/** The row our headings stand in, found once: where our table says, for people put rows above it. */
export function headingRow(sheet: Sheet): number {
  const row = headingRows.get(sheet) ?? soughtHeadingRow(sheet);
  headingRows.set(sheet, row);
  return row;
}

function soughtHeadingRow(sheet: Sheet): number {
  const table = sheet.tables.find(({ name }) => /^spare/i.test(name));
  if (table !== undefined) return headingRowOf(sheet, table);
  // Without its table a sheet is known by the headings below its title and notes.
  for (let row = TITLE_ROW; row <= LAST_HEADING_ROW; row += 1) {
    if ((valueAt(sheet, row, 1) ?? "") !== "") return row;
  }
  return HEADING_ROW;
}

/** Where a table's headings are: programs that delete or insert rows may leave its area where it was. */
function headingRowOf(sheet: Sheet, { area, headings }: Table): number {
  const wanted = new Set(headings.map((heading) => heading.trim().toLowerCase()));
  const saysIt = (row: number): number =>
    (sheet.values[row] ?? []).filter((cell) => wanted.has(textOf(cell).toLowerCase())).length;
  const near = Array.from({ length: 2 * NEAR + 1 }, (_, at) => area.firstRow - NEAR + at);
  if (saysIt(area.firstRow) * 2 >= wanted.size) return area.firstRow;
  return near.find((row) => saysIt(row) * 2 >= wanted.size) ?? area.firstRow;
}

/** Column of a heading of ours, null when it was renamed or removed. */
export function headingColumn(sheet: Sheet, heading: string): number | null {
  const wanted = heading.toLowerCase();
  const found = (sheet.values[headingRow(sheet)] ?? []).findIndex(
    (value) => typeof value === "string" && value.trim().toLowerCase() === wanted,
  );
  return found < 0 ? null : found;
}

/** A column of a sheet of ours as an absolute reference, as far as rows may be filled. */
export function columnReference(layout: Layout, sheet: string, heading: string): string {
  const letter = columnLetters(layout.columns.findIndex((column) => column.heading === heading));
  return `${sheetInFormula(sheet)}!$${letter}$${FIRST_ROW + 1}:$${letter}$${FIRST_ROW + layout.room}`;
}

/** Text of a cell, trimmed of ordinary and non-breaking spaces; numbers as written. */
export function textOf(value: CellValue | undefined): string {
  if (typeof value === "string") return value.replaceAll("\u00a0", " ").trim();
  return typeof value === "number" || typeof value === "boolean" ? String(value) : "";
}
