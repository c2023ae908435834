import { type Area, cellKey, type CellValue, type Sheet } from "../../book/workbook/snapshot.ts";
import { areaOf } from "./areas.ts";
import { type Cell, type CellSource, readRows } from "./cells.ts";
import { cellsTwice, type CutSheet, type Rows } from "./cut-sheet.ts";
import { WorkbookError } from "../file/errors.ts";
import type { Strings } from "./strings.ts";
import { SheetFormulas } from "./sheet-formulas.ts";
import { MOST_COLUMNS } from "../file/limits.ts";
import { type Outline, type Place, placeHere, prefixOf } from "../xml/outline.ts";
import { attribute, isOn, numberOf } from "../xml/attributes.ts";
import { eachChild, next, openRoot, readXml, type Xml } from "../xml/xml.ts";

/** What a sheet's own text says; its name and tables are told elsewhere. */
export interface SheetContent {
  /** Its text without its rows, and these. */
  readonly text: string;
  readonly rows: Rows;
  readonly outline: Outline;
  readonly source: CellSource;
  readonly values: readonly (readonly CellValue[])[];
  readonly formats: readonly (readonly number[])[];
  readonly formulas: SheetFormulas;
  readonly hiddenRows: ReadonlySet<number>;
  readonly struck: ReadonlySet<number>;
  readonly hiddenColumns: ReadonlySet<number>;
  readonly merges: readonly Area[];
  readonly filter: Sheet["filter"];
  readonly protected: boolean;
}

/** What reading a sheet needs from the book. */
export interface BookSource {
  readonly strings: Strings;
  readonly dateSystem: 1900 | 1904;
  /** Snapshot format of a cell format. */
  readonly formatIndex: (style: number) => number;
  /** Whether a cell format strikes its text through. */
  readonly isStruck: (style: number) => boolean;
  /** Takes so many cells off what the book may hold. */
  readonly spend: (cells: number) => void;
}

interface Grid {
  readonly values: CellValue[][];
  readonly formats: number[][];
  readonly formulas: SheetFormulas;
  readonly hiddenRows: Set<number>;
  readonly struck: Set<number>;
}

const NO_VALUES: CellValue[] = [];
const NO_FORMATS: number[] = [];

/** Reads a worksheet part that was cut in two. */
export function readSheet({ text, rows }: CutSheet, book: BookSource): SheetContent {
  const xml = readXml(text, rows.part);
  openRoot(xml, "worksheet");
  const { name, start, end: openEnd, empty } = xml;
  const prefix = prefixOf(xml);
  const children: Place[] = [];
  const source: CellSource = {
    strings: book.strings,
    dateSystem: book.dateSystem,
    shared: new Map(),
    blocks: [],
  };
  const grid: Grid = {
    values: [],
    formats: [],
    formulas: new SheetFormulas(),
    hiddenRows: new Set(),
    struck: new Set(),
  };
  const seen = {
    hiddenColumns: new Set<number>(),
    merges: [] as Area[],
    filter: null as Sheet["filter"],
    protected: false,
  };
  eachChild(xml, () => {
    if (xml.name === "sheetData") {
      if (children.some(({ name }) => name === "sheetData")) throw cellsTwice(rows.part);
      readGrid(rows, source, book, grid);
    }
    readSheetChild(xml, seen);
    children.push(placeFrom(xml, seen));
  });
  const root = { name, start, end: xml.end, openEnd, closeStart: xml.start, empty };
  while (next(xml));
  return { text, rows, outline: { root, prefix, children }, source, ...grid, ...seen };
}

interface Seen {
  readonly hiddenColumns: Set<number>;
  readonly merges: Area[];
  filter: Sheet["filter"];
  protected: boolean;
  place?: Place;
}

function placeFrom(xml: Xml, seen: Seen): Place {
  const place = seen.place ?? placeHere(xml);
  delete seen.place;
  return place;
}

function readSheetChild(xml: Xml, seen: Seen): void {
  const { name, start, end: openEnd, empty } = xml;
  const inside = (visit: () => void): void => {
    eachChild(xml, visit);
    const closeStart = empty ? openEnd : xml.start;
    seen.place = { name, start, end: xml.end, openEnd, closeStart, empty };
  };
  if (name === "sheetProtection") seen.protected = isOn(xml, "sheet");
  else if (name === "autoFilter") {
    const place = readFilter(xml, (filter) => (seen.filter = filter));
    seen.place = place;
  } else if (name === "cols") {
    inside(() => {
      if (xml.name === "col" && isOn(xml, "hidden")) hideColumns(xml, seen.hiddenColumns);
    });
  } else if (name === "mergeCells") {
    inside(() => {
      const area = areaOf(attribute(xml, "ref"));
      if (area) seen.merges.push(area);
    });
  }
}

function hideColumns(xml: Xml, hidden: Set<number>): void {
  const last = Math.min(numberOf(xml, "max") ?? 0, MOST_COLUMNS);
  for (let column = numberOf(xml, "min") ?? 1; column <= last; column += 1) hidden.add(column - 1);
}

/** Reads the autoFilter element just opened: active when a column of it has a criterion. */
export function readFilter(xml: Xml, tell: (filter: Sheet["filter"]) => void): Place {
  const { name, start, end: openEnd, empty } = xml;
  const area = areaOf(attribute(xml, "ref"));
  let active = false;
  eachChild(xml, () => {
    if (xml.name !== "filterColumn") return;
    eachChild(xml, () => {
      if (xml.name !== "extLst") active = true;
    });
  });
  if (area) tell({ area, active });
  const closeStart = empty ? openEnd : xml.start;
  return { name, start, end: xml.end, openEnd, closeStart, empty };
}

function readGrid(rows: Rows, source: CellSource, book: BookSource, grid: Grid): void {
  const line: RowLine = { row: -1, values: [], formats: [] };
  readRows(rows, source, {
    row: (row, tag) => {
      keepLine(line, book, grid);
      line.row = row;
      if (tag !== null && isOn(tag, "hidden")) grid.hiddenRows.add(row);
    },
    cell: (cell) => {
      keepCell(cell, line, { book, grid });
    },
  });
  keepLine(line, book, grid);
}

/** The row being read; its lists serve all rows, and what is kept of them has no room to spare. */
interface RowLine {
  row: number;
  readonly values: CellValue[];
  readonly formats: number[];
}

function keepCell(
  cell: Cell,
  { values, formats }: RowLine,
  { book, grid }: { readonly book: BookSource; readonly grid: Grid },
): void {
  const { row, column, value } = cell;
  const formula = cell.master ?? cell.formula;
  if (value !== null) {
    book.spend(column - values.length);
    while (values.length < column) values.push(null);
    values[column] = value;
    if (cell.struck || book.isStruck(cell.style)) grid.struck.add(cellKey(row, column));
  }
  const format = book.formatIndex(cell.style);
  if (format !== 0) {
    book.spend(column - formats.length);
    while (formats.length < column) formats.push(0);
    formats[column] = format;
  }
  if (formula !== null) grid.formulas.put(cellKey(row, column), formula);
}

/** Keeps the row that was read, and makes room for the next. */
function keepLine({ row, values, formats }: RowLine, book: BookSource, grid: Grid): void {
  if (values.length > 0) {
    fillUpTo(grid.values, row, NO_VALUES, book);
    grid.values.push(values.slice());
    values.length = 0;
  }
  if (formats.length > 0) {
    fillUpTo(grid.formats, row, NO_FORMATS, book);
    // Nearly all rows look like the one above.
    const above = grid.formats.at(-1) ?? NO_FORMATS;
    const isAlike =
      above.length === formats.length && formats.every((format, at) => format === above[at]);
    grid.formats.push(isAlike ? above : formats.slice());
    formats.length = 0;
  }
}

/** Rows before this one that hold nothing share one empty list. */
function fillUpTo<T>(lines: T[][], row: number, none: T[], book: BookSource): void {
  book.spend(row - lines.length);
  while (lines.length < row) lines.push(none);
}

/** Counts cells down and refuses a book that holds too many. */
export function budget(cells: number): (count: number) => void {
  let left = cells;
  return (count) => {
    left -= count + 1;
    if (left < 0) {
      throw new WorkbookError(
        "This workbook has more cells than can be read safely: split it into smaller workbooks.",
      );
    }
  };
}
