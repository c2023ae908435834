import {
  type Area,
  cellKey,
  type CellValue,
  type Filter,
  type Sheet,
  type Snapshot,
} from "../../src/book/workbook/snapshot.ts";
import { type Temper, MILD } from "./temper.ts";
import { Fault } from "./thing.ts";

/** One cell; the look holds what is neither value nor number format. */
export interface Cell {
  value: CellValue;
  formula: string | null;
  format: string;
  /** A call of ours that Excel no longer leads to the add-in, with what stands before it. */
  lost?: string | undefined;
  /** When what an add-in answers is there; until then the cell shows #BUSY!. */
  busyUntil?: number;
}

/** A table; its filter hides rows when active. */
export interface TableModel {
  readonly id: string;
  name: string;
  area: Area;
  totals: boolean;
  filtered: boolean;
}

/** Something put over an area: a rule, a list of choices, a chart. */
export interface Laid {
  readonly id: string;
  readonly area: Area;
  readonly kept: Map<string, unknown>;
}

/** A chart with its series. */
export interface ChartModel extends Laid {
  readonly series: { readonly id: string; readonly kept: Map<string, unknown> }[];
}

/** One sheet of the workbook in memory. */
export interface SheetModel {
  readonly id: string;
  name: string;
  visibility: Sheet["visibility"];
  protected: boolean;
  readonly cells: Map<number, Cell>;
  tables: TableModel[];
  filter: Filter | null;
  merges: Area[];
  readonly hiddenRows: Set<number>;
  readonly hiddenColumns: Set<number>;
  rules: Laid[];
  choices: Laid[];
  charts: ChartModel[];
  names: NameModel[];
  /** Looks by area and property, page layout, frozen panes, column widths. */
  readonly looks: Map<string, Map<string, unknown>>;
  readonly page: Map<string, unknown>;
  /** Cells whose text is struck through as a whole, and those of which a part is. */
  readonly struck: Set<number>;
  readonly struckInPart: Set<number>;
  comments: CommentModel[];
}

/** A thread: what was written to a cell, and what was answered. */
export interface CommentModel {
  readonly id: string;
  readonly cell: number;
  readonly said: readonly string[];
}

/** A defined name; the formula begins with "=". */
export interface NameModel {
  readonly name: string;
  formula: string;
}

/** A workbook in memory that behaves as Excel's does, as far as the host uses it. */
export interface BookModel {
  readonly date1904: boolean;
  /** How it behaves where Excel may behave in one way or another. */
  readonly temper: Temper;
  /** The time of the request that is worked off. */
  now: number;
  sheets: SheetModel[];
  names: NameModel[];
  /** Null where a chart is selected, or cells here and there. */
  selection: { readonly sheet: SheetModel; readonly area: Area } | null;
  /** Values of formulas, by sheet, cell and text: nothing is computed here. */
  readonly answers: Map<string, CellValue>;
  /** What was changed, in the platform's words, one entry a write. */
  readonly written: string[];
  /** A table takes in what is typed next to it; people can switch that off. */
  tablesGrow: boolean;
  serial: number;
}

/** A fresh id. */
export function freshId(book: BookModel): string {
  book.serial += 1;
  return `{${String(book.serial).padStart(8, "0")}}`;
}

/** The workbook a snapshot describes; the values of its formulas are known answers. */
export function modelOf(snapshot: Snapshot, temper: Partial<Temper> = {}): BookModel {
  const first = newSheet("{0}", "Sheet1");
  const book: BookModel = {
    temper: { ...MILD, isFixed: snapshot.fixedSheets ?? false, ...temper },
    now: 0,
    date1904: snapshot.dateSystem === 1904,
    sheets: [],
    names: snapshot.names
      .filter(({ sheet }) => sheet === null)
      .map(({ name, refersTo }) => ({ name, formula: `=${refersTo}` })),
    selection: null,
    answers: new Map(),
    written: [],
    tablesGrow: true,
    serial: 0,
  };
  for (const sheet of snapshot.sheets) book.sheets.push(sheetOf(book, snapshot, sheet));
  // A workbook is never without a sheet.
  if (book.sheets.length === 0) book.sheets.push(first);
  const area = { firstRow: 0, firstColumn: 0, lastRow: 0, lastColumn: 0 };
  book.selection = { sheet: book.sheets[0] ?? first, area };
  return book;
}

/** An empty sheet. */
export function newSheet(id: string, name: string): SheetModel {
  return {
    id,
    name,
    visibility: "visible",
    protected: false,
    cells: new Map(),
    tables: [],
    filter: null,
    merges: [],
    hiddenRows: new Set(),
    hiddenColumns: new Set(),
    rules: [],
    choices: [],
    charts: [],
    names: [],
    looks: new Map(),
    page: new Map(),
    struck: new Set(),
    struckInPart: new Set(),
    comments: [],
  };
}

function sheetOf(book: BookModel, snapshot: Snapshot, sheet: Sheet): SheetModel {
  const made = newSheet(freshId(book), sheet.name);
  made.visibility = sheet.visibility;
  made.protected = sheet.protected;
  made.merges = [...sheet.merges];
  for (const row of sheet.hiddenRows) made.hiddenRows.add(row);
  for (const column of sheet.hiddenColumns) made.hiddenColumns.add(column);
  for (const key of sheet.struck ?? []) made.struck.add(key);
  made.comments = [...(sheet.comments ?? [])].map(([cell, text]) => ({
    ...{ id: freshId(book), cell },
    said: text.split("\n"),
  }));
  made.names = snapshot.names
    .filter((name) => name.sheet === sheet.name)
    .map(({ name, refersTo }) => ({ name, formula: `=${refersTo}` }));
  const ofTable = sheet.tables.find(({ area }) => area.firstRow === sheet.filter?.area.firstRow);
  made.filter = ofTable === undefined ? sheet.filter : null;
  made.tables = sheet.tables.map((table) => ({
    id: freshId(book),
    name: table.name,
    area: table.area,
    totals: table.totalsRow,
    filtered: table === ofTable && sheet.filter?.active === true,
  }));
  sheet.values.forEach((line, row) => {
    line.forEach((value, column) => {
      const format = snapshot.formats[sheet.formats[row]?.[column] ?? 0] ?? "General";
      if (value === null && format === "General") return;
      made.cells.set(cellKey(row, column), { value, formula: null, format });
    });
  });
  for (const [key, formula] of sheet.formulas) {
    const cell = made.cells.get(key) ?? { value: null, formula: null, format: "General" };
    made.cells.set(key, { ...cell, formula });
    book.answers.set(answerKey(made, key, formula), cell.value);
  }
  return made;
}

/** Under which the value of a cell's formula is known. */
export function answerKey(sheet: Pick<SheetModel, "name">, cell: number, formula: string): string {
  return `${sheet.name}!${cell}=${formula}`;
}

/** The sheet of that name or id. */
export function sheetAt(book: BookModel, key: unknown): SheetModel {
  const wanted = String(key).toLowerCase();
  const found = book.sheets.find(({ id, name }) => id === key || name.toLowerCase() === wanted);
  if (found === undefined) throw new Fault("ItemNotFound", `no sheet ${String(key)}`);
  return found;
}

/** Refuses a change of a protected sheet. */
export function mayChange(sheet: SheetModel): void {
  if (sheet.protected) throw new Fault("AccessDenied", `${sheet.name} is protected`);
}
