import type { AddSheet, ColumnCells, Plan } from "../../src/book/workbook/plan.ts";
import {
  type CellValue,
  cellKey,
  type DefinedName,
  type Sheet,
  sheetNamed,
  type Snapshot,
  type Table,
} from "../../src/book/workbook/snapshot.ts";

/** The simplest host there is: plans applied to snapshots in memory. For tests that need no file. */
interface PaperSheet {
  name: string;
  values: CellValue[][];
  formats: number[][];
  formulas: Map<number, string>;
  hiddenRows: Set<number>;
  merges: Sheet["merges"][number][];
  tables: Table[];
}

/** An empty book. */
export function emptyPaper(dateSystem: Snapshot["dateSystem"] = 1900): Snapshot {
  return { dateSystem, formats: ["General"], sheets: [], names: [] };
}

/** A sheet of bare values; texts, numbers and blanks as they are. */
export function paperSheet(name: string, values: readonly (readonly CellValue[])[]): Sheet {
  return {
    name,
    values,
    visibility: "visible",
    protected: false,
    formats: [],
    formulas: new Map(),
    hiddenRows: new Set(),
    hiddenColumns: new Set(),
    merges: [],
    filter: null,
    tables: [],
  };
}

/** The book after the plan. */
export function onPaper(book: Snapshot, plan: Plan): Snapshot {
  const formats = [...book.formats];
  const names: DefinedName[] = [...book.names];
  const sheets = book.sheets.map((sheet) => copied(sheet));
  const indexOf = (format: string): number => {
    const at = formats.indexOf(format);
    return at >= 0 ? at : formats.push(format) - 1;
  };
  const named = (name: string): PaperSheet => {
    const found = sheets.find((sheet) => sheet.name === name);
    if (found === undefined) throw new Error(`no sheet ${name}`);
    return found;
  };
  for (const edit of plan.edits) {
    if (edit.kind === "addSheet") sheets.push(newSheet(edit, indexOf));
    else if (edit.kind === "addTable") named(edit.sheet).tables.push({ ...edit, totalsRow: false });
    else if (edit.kind === "addName") {
      names.push({ name: edit.name, sheet: null, refersTo: edit.refersTo });
    } else if (edit.kind === "addColumn") {
      const sheet = named(edit.sheet);
      put(sheet, edit.headerRow, edit.cells.column, edit.title);
      fill(sheet, edit.cells, indexOf);
    } else if (edit.kind === "fillCells") {
      for (const block of edit.blocks) fill(named(edit.sheet), block, indexOf);
    }
  }
  const made = sheets.map((sheet) => finished(sheet, sheetNamed(book, sheet.name)));
  return { ...book, formats, names, sheets: made };
}

function copied(sheet: Sheet): PaperSheet {
  return {
    name: sheet.name,
    values: sheet.values.map((row) => [...row]),
    formats: sheet.formats.map((row) => [...row]),
    formulas: new Map(sheet.formulas),
    hiddenRows: new Set(sheet.hiddenRows),
    merges: [...sheet.merges],
    tables: [...sheet.tables],
  };
}

function newSheet(edit: AddSheet, indexOf: (format: string) => number): PaperSheet {
  const sheet = copied(paperSheet(edit.sheet, []));
  for (const row of edit.hiddenRows ?? []) sheet.hiddenRows.add(row);
  sheet.merges.push(...(edit.merges ?? []));
  for (const { row, column, value, formula, format } of edit.cells) {
    put(sheet, row, column, value);
    if (formula) sheet.formulas.set(cellKey(row, column), at(formula.text, row));
    if (format) setFormat(sheet, row, column, indexOf(format));
  }
  return sheet;
}

function fill(sheet: PaperSheet, cells: ColumnCells, indexOf: (format: string) => number): void {
  const { column, rows, values, formula, format } = cells;
  for (const [index, row] of rows.entries()) {
    put(sheet, row, column, values[index] ?? null);
    if (formula) sheet.formulas.set(cellKey(row, column), at(formula.text, row));
    else sheet.formulas.delete(cellKey(row, column));
    if (format) setFormat(sheet, row, column, indexOf(format));
  }
}

function at(text: string, row: number): string {
  return text.replaceAll("{r}", String(row + 1));
}

function put(sheet: PaperSheet, row: number, column: number, value: CellValue): void {
  while (sheet.values.length <= row) sheet.values.push([]);
  const line = sheet.values[row] ?? [];
  while (line.length <= column) line.push(null);
  line[column] = value;
}

function setFormat(sheet: PaperSheet, row: number, column: number, format: number): void {
  while (sheet.formats.length <= row) sheet.formats.push([]);
  const line = sheet.formats[row] ?? [];
  while (line.length <= column) line.push(0);
  line[column] = format;
}

function finished(sheet: PaperSheet, before: Sheet | null): Sheet {
  return { ...(before ?? paperSheet(sheet.name, [])), ...sheet };
}
