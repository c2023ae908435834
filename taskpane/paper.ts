import type { AddSheet, ColumnCells, Edit, Plan } from "../src/book/workbook/plan.ts";
import type { Receipt } from "../src/book/workbook/receipt.ts";
import {
  cellKey,
  type CellValue,
  type Sheet,
  type Snapshot,
  type Table,
} from "../src/book/workbook/snapshot.ts";

/**
 * A plan applied to a workbook on paper: what the workbook would be, without touching it. The pane looks
 * ahead with it; looks, rules, choices and charts are not part of a snapshot and leave no trace.
 */
export function onPaper(book: Snapshot, plan: Plan): Snapshot {
  const draft = draftOf(book);
  for (const edit of plan.edits) put(draft, edit);
  return finished(draft);
}

/** A plan taken back on paper, the cells as they were before. */
export function offPaper(book: Snapshot, receipt: Receipt): Snapshot {
  const draft = draftOf(book);
  for (const { sheet: name, written, before } of receipt.cells) {
    const sheet = draft.sheet(name);
    written.rows.forEach((row, at) => {
      const { value, formula, format } = before[at] ?? { value: null, formula: null, format: "" };
      setCell(sheet, [row, written.column], value, formula);
      setFormat(draft, sheet, [row, written.column], format || "General");
    });
  }
  for (const { sheet, table, area } of receipt.tables) {
    const there = draft.sheet(sheet);
    there.tables = there.tables.map((one) =>
      one.name === table ? resized(one, area, area.lastColumn - area.firstColumn + 1) : one,
    );
  }
  for (const { sheet, area } of receipt.filters) {
    draft.sheet(sheet).filter = { area, active: false };
  }
  draft.sheets = draft.sheets.filter(({ name }) => !receipt.sheets.includes(name));
  draft.names = draft.names.flatMap((name) => {
    const before = receipt.renamed.find((one) => one.name === name.name);
    if (receipt.names.includes(name.name)) return [];
    return [before === undefined ? name : { ...name, refersTo: before.refersTo }];
  });
  return finished(draft);
}

type Cell = readonly [row: number, column: number];

interface PaperSheet extends Omit<
  Sheet,
  "values" | "formats" | "formulas" | "filter" | "tables" | "lost"
> {
  values: CellValue[][];
  formats: number[][];
  formulas: Map<number, string>;
  lost?: Set<number>;
  filter: Sheet["filter"];
  tables: readonly Table[];
}

interface Draft {
  readonly book: Snapshot;
  sheets: Sheet[];
  names: Snapshot["names"][number][];
  readonly formats: string[];
  /** A sheet to write on; it is copied the first time. */
  readonly sheet: (name: string) => PaperSheet;
}

function draftOf(book: Snapshot): Draft {
  const open = new Map<string, PaperSheet>();
  const draft: Draft = {
    book,
    sheets: [...book.sheets],
    names: [...book.names],
    formats: [...book.formats],
    sheet(name) {
      const key = name.toLowerCase();
      const there = open.get(key);
      if (there !== undefined) return there;
      const at = draft.sheets.findIndex((sheet) => sheet.name.toLowerCase() === key);
      const found = draft.sheets[at];
      if (found === undefined) throw new Error(`no sheet ${name}`);
      const copy = copied(found);
      draft.sheets[at] = copy;
      open.set(key, copy);
      return copy;
    },
  };
  return draft;
}

function copied({ lost, ...sheet }: Sheet): PaperSheet {
  return {
    ...sheet,
    values: sheet.values.map((row) => [...row]),
    formats: sheet.formats.map((row) => [...row]),
    formulas: new Map(sheet.formulas),
    ...(lost === undefined ? {} : { lost: new Set(lost) }),
  };
}

function finished({ book, sheets, names, formats }: Draft): Snapshot {
  return { ...book, sheets, names, formats };
}

function put(draft: Draft, edit: Edit): void {
  switch (edit.kind) {
    case "addSheet":
      addSheet(draft, edit);
      break;
    case "addColumn":
      setCell(draft.sheet(edit.sheet), [edit.headerRow, edit.cells.column], edit.title, null);
      fill(draft, edit.sheet, edit.cells);
      break;
    case "fillCells":
      for (const block of edit.blocks) fill(draft, edit.sheet, block);
      break;
    case "addTable": {
      const sheet = draft.sheet(edit.sheet);
      const { name, area, headings } = edit;
      sheet.tables = [...sheet.tables, { name, area, headings, totalsRow: false }];
      break;
    }
    case "growTable": {
      const sheet = draft.sheet(edit.sheet);
      const more = edit.columns.map(({ title }) => title);
      sheet.tables = sheet.tables.map((table) =>
        table.name === edit.table
          ? { ...table, area: edit.area, headings: [...table.headings, ...more] }
          : table,
      );
      break;
    }
    case "growFilter":
      draft.sheet(edit.sheet).filter = { area: edit.area, active: false };
      break;
    case "addName":
      draft.names = draft.names.filter(({ name }) => name !== edit.name);
      draft.names.push({ name: edit.name, sheet: null, refersTo: edit.refersTo });
      break;
    default:
  }
}

function resized(table: Table, area: Table["area"], headings: number): Table {
  return { ...table, area, headings: table.headings.slice(0, headings) };
}

const BARE: Omit<Sheet, "name"> = {
  visibility: "visible",
  protected: false,
  values: [],
  formats: [],
  formulas: new Map(),
  hiddenRows: new Set(),
  hiddenColumns: new Set(),
  merges: [],
  filter: null,
  tables: [],
};

function addSheet(draft: Draft, edit: AddSheet): void {
  draft.sheets.push({
    ...BARE,
    name: edit.sheet,
    hiddenRows: new Set(edit.hiddenRows ?? []),
    hiddenColumns: new Set(edit.hiddenColumns ?? []),
    merges: edit.merges ?? [],
  });
  const sheet = draft.sheet(edit.sheet);
  for (const { row, column, value, formula, format } of edit.cells) {
    setCell(sheet, [row, column], value, formula === undefined ? null : at(formula.text, row));
    if (format !== undefined) setFormat(draft, sheet, [row, column], format);
  }
}

function fill(draft: Draft, name: string, { column, rows, values, ...more }: ColumnCells): void {
  const sheet = draft.sheet(name);
  const { formula, format } = more;
  rows.forEach((row, index) => {
    const text = formula === undefined ? null : at(formula.text, row);
    setCell(sheet, [row, column], values[index] ?? null, text);
    if (format !== undefined) setFormat(draft, sheet, [row, column], format);
  });
}

function at(text: string, row: number): string {
  return text.replaceAll("{r}", String(row + 1));
}

function setCell(
  sheet: PaperSheet,
  [row, column]: Cell,
  value: CellValue,
  formula: string | null,
): void {
  lineAt(sheet.values, row, column, null)[column] = value;
  sheet.lost?.delete(cellKey(row, column));
  if (formula === null) sheet.formulas.delete(cellKey(row, column));
  else sheet.formulas.set(cellKey(row, column), formula);
}

function setFormat(draft: Draft, sheet: PaperSheet, [row, column]: Cell, format: string): void {
  const found = draft.formats.indexOf(format);
  const index = found >= 0 ? found : draft.formats.push(format) - 1;
  lineAt(sheet.formats, row, column, 0)[column] = index;
}

/** A row long enough to hold a column. */
function lineAt<T>(rows: T[][], row: number, column: number, blank: T): T[] {
  while (rows.length <= row) rows.push([]);
  const line = rows[row] ?? [];
  while (line.length <= column) line.push(blank);
  return line;
}
