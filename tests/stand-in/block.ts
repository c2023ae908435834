import {
  type Area,
  areaText,
  cellAt,
  cellKey,
  type CellValue,
  columnOf,
  isCellError,
  sheetInFormula,
} from "../../src/book/workbook/snapshot.ts";
import { answerKey, type BookModel, type Cell, mayChange, type SheetModel } from "./model.ts";
import { Fault } from "./thing.ts";
import { asWritten, callsAddIn, shownAnew, shownLost } from "./rendering.ts";
import { typedInto } from "./typed.ts";

const LAST_ROW = 1_048_575;
const LAST_COLUMN = 16_383;
const CELLS_ANSWERED = 5_000_000;

/** A block of cells of a sheet. */
export interface Block {
  readonly book: BookModel;
  readonly sheet: SheetModel;
  readonly area: Area;
}

/** The area of a block from its first cell and size. */
export function areaFrom(row: number, column: number, rows: number, columns: number): Area {
  const area = {
    firstRow: row,
    firstColumn: column,
    lastRow: row + rows - 1,
    lastColumn: column + columns - 1,
  };
  if (rows < 1 || columns < 1 || area.lastRow > LAST_ROW || area.lastColumn > LAST_COLUMN) {
    throw new Fault("InvalidArgument", `there is no block of ${rows} by ${columns} there`);
  }
  return area;
}

/** The area of an address such as B2:D9, B2, $1:$2 or A:C. */
export function areaAt(address: string): Area {
  const text = address.replace(/^.*!/, "").replaceAll("$", "");
  const [, left = "", top = "", right = left, bottom = top] =
    /^([A-Z]{0,3})([0-9]{0,7})(?::([A-Z]{0,3})([0-9]{0,7}))?$/i.exec(text) ?? [];
  if (left + top === "") throw new Fault("InvalidArgument", `${address} is no address`);
  return {
    firstRow: top === "" ? 0 : Number(top) - 1,
    firstColumn: left === "" ? 0 : columnOf(left),
    lastRow: bottom === "" ? LAST_ROW : Number(bottom) - 1,
    lastColumn: right === "" ? LAST_COLUMN : columnOf(right),
  };
}

/** A block's address as the platform gives it. */
export function addressOf({ sheet, area }: Block): string {
  return `${sheetInFormula(sheet.name)}!${areaText(area)}`;
}

/** How many rows and columns an area has. */
export function sizeOf(area: Area): { readonly rows: number; readonly columns: number } {
  return {
    rows: area.lastRow - area.firstRow + 1,
    columns: area.lastColumn - area.firstColumn + 1,
  };
}

/** Whether two areas share a cell. */
export function meet(one: Area, other: Area): boolean {
  return (
    one.firstRow <= other.lastRow &&
    other.firstRow <= one.lastRow &&
    one.firstColumn <= other.lastColumn &&
    other.firstColumn <= one.lastColumn
  );
}

/** A value of every cell of a block, row by row. */
export function readBlock<T>({ sheet, area }: Block, of: (cell: Cell | undefined) => T): T[][] {
  const { rows, columns } = sizeOf(area);
  if (rows * columns > CELLS_ANSWERED) {
    throw new Fault("ResponsePayloadSizeLimitExceeded", "too many cells were asked for");
  }
  return Array.from({ length: rows }, (_, row) =>
    Array.from({ length: columns }, (_, column) =>
      of(sheet.cells.get(cellKey(area.firstRow + row, area.firstColumn + column))),
    ),
  );
}

type OfCell<T> = (cell: Cell | undefined) => T;

/** What a cell shows now: an add-in's answer may still be on its way. */
function shownNow({ now }: BookModel, cell: Cell | undefined): CellValue {
  if ((cell?.busyUntil ?? 0) > now) return { error: "#BUSY!" };
  return cell?.value ?? null;
}

/** What the platform answers for a cell's value. */
export function valueTold(book: BookModel): OfCell<string | number | boolean> {
  return (cell) => {
    const value = shownNow(book, cell) ?? "";
    return isCellError(value) ? value.error : value;
  };
}

/** What it answers for a cell's formula: the value where there is none. */
export function formulaTold(book: BookModel): OfCell<string | number | boolean> {
  const valueOf = valueTold(book);
  return (cell) => {
    const formula = cell?.formula ?? null;
    if (formula === null) return valueOf(cell);
    const told = book.temper.rendersAnew ? shownAnew(formula) : formula;
    return `=${cell?.lost === undefined ? told : shownLost(told, cell.lost)}`;
  };
}

/** The kind of a cell's value. */
export function kindTold(book: BookModel): OfCell<string> {
  return (cell) => kindOf(shownNow(book, cell), cell);
}

function kindOf(value: CellValue, cell: Cell | undefined): string {
  if (value === null) return (cell?.formula ?? null) === null ? "Empty" : "String";
  if (isCellError(value)) return "Error";
  return { string: "String", number: "Double", boolean: "Boolean" }[
    typeof value as "string" | "number" | "boolean"
  ];
}

/** Puts a rectangle of values, or one value for all, into a block; null leaves a cell as it is. */
export function writeBlock(
  block: Block,
  given: unknown,
  put: (cell: Cell, one: unknown, key: number) => void,
): void {
  const { sheet, area } = block;
  mayChange(sheet);
  const { rows, columns } = sizeOf(area);
  const fits =
    Array.isArray(given) &&
    given.length === rows &&
    given.every((line) => Array.isArray(line) && line.length === columns);
  if (Array.isArray(given) && !fits) {
    throw new Fault("InvalidArgument", `the values must be ${rows} by ${columns}`);
  }
  const lines = given as unknown[][];
  for (let row = 0; row < rows; row += 1) {
    for (let column = 0; column < columns; column += 1) {
      const one = Array.isArray(given) ? lines[row]?.[column] : given;
      if (one === null) continue;
      const key = cellKey(area.firstRow + row, area.firstColumn + column);
      const cell = sheet.cells.get(key) ?? { value: null, formula: null, format: "General" };
      put(cell, one, key);
      settle(block, key, cell);
    }
  }
}

/** Keeps a cell that holds something. */
function settle({ sheet }: Block, key: number, cell: Cell): void {
  if (cell.value === null && cell.formula === null && cell.format === "General") {
    sheet.cells.delete(key);
  } else sheet.cells.set(key, cell);
}

/** Gives a formula the value it is known to have; a call that leads nowhere has none. */
export function calculate(book: BookModel, sheet: SheetModel, key: number, cell: Cell): void {
  if (cell.formula === null) return;
  const known = book.answers.get(answerKey(sheet, key, cell.formula));
  cell.value = cell.lost === undefined && known !== undefined ? known : { error: "#NAME?" };
}

/** What a formula that was just typed is to Excel: read as it is written, led to the add-in where there is one. */
function entered(book: BookModel, typed: Omit<Cell, "format">): Omit<Cell, "format"> {
  const formula = typed.formula === null ? null : asWritten(typed.formula);
  const isCall = formula !== null && callsAddIn(formula);
  const busyUntil = isCall ? book.now + book.temper.busyFor : 0;
  return { ...typed, formula, lost: undefined, busyUntil };
}

/** Types values or formulas into a block; a table next to it takes the cells in. */
export function typeBlock(block: Block, given: unknown): void {
  const { book, sheet, area } = block;
  writeBlock(block, given, (cell, one, key) => {
    Object.assign(cell, entered(book, typedInto(one, cell.format)));
    calculate(book, sheet, key, cell);
  });
  book.written.push(`type ${addressOf(block)}`);
  for (const table of book.tablesGrow ? sheet.tables : []) {
    const beside = area.firstColumn === table.area.lastColumn + 1;
    const below = area.firstRow === table.area.lastRow + 1 && !table.totals;
    const filled = readBlock(block, (cell) => cell?.value ?? null)
      .flat()
      .some((value) => value !== null);
    if (!filled) continue;
    if (beside && area.firstRow <= table.area.lastRow && area.firstRow >= table.area.firstRow) {
      table.area = { ...table.area, lastColumn: area.lastColumn };
    } else if (
      below &&
      area.firstColumn >= table.area.firstColumn &&
      area.lastColumn <= table.area.lastColumn
    ) {
      table.area = { ...table.area, lastRow: area.lastRow };
    }
  }
}

/** The block of a sheet, or of an area of it, that is used; null when there is none. */
export function usedArea(sheet: SheetModel, valuesOnly: boolean, within?: Area): Area | null {
  let found: { -readonly [K in keyof Area]: number } | null = null;
  for (const [key, { value, formula }] of sheet.cells) {
    if (valuesOnly && value === null && formula === null) continue;
    const { row, column } = cellAt(key);
    const at = { firstRow: row, firstColumn: column, lastRow: row, lastColumn: column };
    if (within !== undefined && !meet(within, at)) continue;
    found ??= at;
    found.firstRow = Math.min(found.firstRow, row);
    found.lastRow = Math.max(found.lastRow, row);
    found.firstColumn = Math.min(found.firstColumn, column);
    found.lastColumn = Math.max(found.lastColumn, column);
  }
  return found;
}
