import type { Choices, Edit, SheetCell } from "../workbook/plan.ts";
import { onPaper } from "./paper.ts";
import { highRows, NOTE_LINES, noteLines, tableWidth, widthOf } from "./shape.ts";
import {
  type CellValue,
  columnLetters,
  type Sheet,
  type Snapshot,
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
  /** What goes into it, one sentence; shown when an entry is refused and in Read me. */
  readonly about: string;
  /** Long text goes on in further lines. */
  readonly wraps?: true;
}

/** A sheet of ours: a title in A1, a table below it and nothing else. */
export interface Layout {
  readonly name: string;
  readonly title: string;
  readonly table: string;
  readonly about: string;
  readonly columns: readonly LayoutColumn[];
  /** Rows that may be filled later; choices and names reach so far. */
  readonly room: number;
  /** Height in points that each row has at least, where people write into it by hand. */
  readonly rowPoints?: number;
}

/** One row of a sheet of ours: values by heading. */
export interface OurRow {
  readonly row: number;
  readonly values: ReadonlyMap<string, CellValue>;
}

export const TITLE_ROW = 0;
export const NOTE_ROW = 1;
export const HEADING_ROW = 2;
const FIRST_ROW = 3;

/** The first row that the headings of a sheet of results may stand in, below its notes. */
export const RESULT_HEADING_ROW = NOTE_ROW + NOTE_LINES;
/** How far down they are looked for where no table tells: more notes than these nobody reads. */
const LAST_HEADING_ROW = RESULT_HEADING_ROW + 12;

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
        sheet.name.startsWith(layout.name) &&
        valueAt(sheet, TITLE_ROW, 0) === layout.title &&
        layout.columns.some((column) => headingColumn(sheet, column.heading) !== null),
    ) ??
    null
  );
}

/** A name for a sheet of ours that no sheet of the book has. */
export function freeName(snapshot: Snapshot, wanted: string): string {
  const taken = new Set(snapshot.sheets.map((sheet) => sheet.name.toLowerCase()));
  let name = wanted;
  for (let count = 2; taken.has(name.toLowerCase()); count += 1) name = `${wanted} (${count})`;
  return name;
}

/** The row our headings stand in: where our table says, for people put rows above it. */
export function headingRow(sheet: Sheet): number {
  const table = sheet.tables.find(({ name }) => /^spare/i.test(name));
  if (table !== undefined) return table.area.firstRow;
  // Without its table a sheet of results is known by the headings below its notes.
  for (let row = HEADING_ROW; row <= LAST_HEADING_ROW; row += 1) {
    if ((valueAt(sheet, row, 1) ?? "") !== "") return row;
  }
  return HEADING_ROW;
}

/** Column of a heading of ours, null when it was renamed or removed. */
export function headingColumn(sheet: Sheet, heading: string): number | null {
  const wanted = heading.toLowerCase();
  const found = (sheet.values[headingRow(sheet)] ?? []).findIndex(
    (value) => typeof value === "string" && value.trim().toLowerCase() === wanted,
  );
  return found < 0 ? null : found;
}

/** The filled rows of a sheet of ours, each value under its heading. */
export function readRows(sheet: Sheet, layout: Layout): OurRow[] {
  const columns = layout.columns.map(
    ({ heading }) => [heading, headingColumn(sheet, heading)] as const,
  );
  const rows: OurRow[] = [];
  for (let row = headingRow(sheet) + 1; row < sheet.values.length; row += 1) {
    const values = new Map<string, CellValue>();
    for (const [heading, column] of columns) {
      const value = column === null ? null : valueAt(sheet, row, column);
      if (value !== null && value !== "") values.set(heading, value);
    }
    if (values.size > 0) rows.push({ row, values });
  }
  return rows;
}

/** What a sheet of results has besides: sentences under its title, and a footer with the report date. */
interface Dressing {
  readonly notes: readonly string[];
  readonly footer: string;
  /** Width in characters of all that is printed, charts included. */
  readonly characters: number;
}

/** The edits that make the sheet with these rows; without a dressing its cells are to be filled in. */
export function makeSheet(
  layout: Layout,
  name: string,
  rows: readonly (readonly CellValue[])[],
  dressing?: Dressing,
): Edit[] {
  const width = layout.columns.length;
  const notes = dressing === undefined ? [] : noteLines(dressing.notes, layout.columns);
  const head = dressing === undefined ? HEADING_ROW : NOTE_ROW + notes.length;
  const first = head + 1;
  const look = dressing === undefined ? "input" : "plain";
  const heights = highRows(layout.columns, rows, { head, least: layout.rowPoints });
  const high = new Set(heights.map(({ row }) => row));
  const cells: SheetCell[] = [
    { row: TITLE_ROW, column: 0, value: layout.title, look: "title" },
    ...notes.flatMap(noteCell),
    ...layout.columns.map((column, at): SheetCell => ({
      row: head,
      column: at,
      value: column.heading,
      look: "heading",
      ...(isOfNumbers(column, rows, at) ? { toRight: true } : {}),
    })),
    ...rows.flatMap((values, at) =>
      layout.columns.map((column, to): SheetCell => ({
        ...bodyCell(layout, values, to),
        row: first + at,
        look: column.input === true ? "input" : look,
        ...(high.has(first + at) ? { middle: true } : {}),
      })),
    ),
  ];
  const last = first + Math.max(rows.length, 1) - 1;
  const footer = dressing?.footer ?? FOOTER;
  return [
    {
      kind: "addSheet",
      sheet: name,
      cells,
      widths: layout.columns.map(widthOf),
      heights,
      freezeRows: first,
    },
    {
      kind: "addTable",
      sheet: name,
      name: layout.table,
      area: { firstRow: head, firstColumn: 0, lastRow: last, lastColumn: width - 1 },
      headings: layout.columns.map((column) => column.heading),
    },
    ...choicesOf(layout, name, first),
    onPaper(name, dressing?.characters ?? tableWidth(layout.columns), {
      titleRows: { first: head, last: head },
      footer,
    }),
  ];
}

function noteCell(note: string, at: number): SheetCell[] {
  return note === "" ? [] : [{ row: NOTE_ROW + at, column: 0, value: note, look: "plain" }];
}

function bodyCell(
  layout: Layout,
  values: readonly CellValue[],
  to: number,
): Omit<SheetCell, "row"> {
  const { format: wanted, formula, wraps } = layout.columns[to] ?? {};
  const format = typeof wanted === "function" ? wanted(values) : wanted;
  return {
    column: to,
    value: values[to] ?? null,
    ...(typeof values[to] === "number" ? { toRight: true } : {}),
    ...(wraps === undefined ? {} : { wraps }),
    ...(format === undefined ? {} : { format }),
    ...(formula === undefined ? {} : { formula: { text: formula, live: false } }),
  };
}

/** Whether a column holds numbers or dates, so that its heading stands above their right edge. */
function isOfNumbers(
  { format }: LayoutColumn,
  rows: readonly (readonly CellValue[])[],
  at: number,
): boolean {
  if (typeof format === "string") return format !== "@";
  return rows.some((values) => typeof values[at] === "number");
}

function choicesOf(layout: Layout, sheet: string, firstRow: number): Edit[] {
  return layout.columns.flatMap((column, at): Edit[] =>
    column.choices === undefined
      ? []
      : [
          {
            kind: "addChoices",
            sheet,
            area: {
              firstRow,
              firstColumn: at,
              lastRow: firstRow + layout.room - 1,
              lastColumn: at,
            },
            choices: column.choices,
            message: column.about,
          },
        ],
  );
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
