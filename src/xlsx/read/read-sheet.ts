import { type Area, cellKey, type CellValue, type Sheet } from "../../book/workbook/snapshot.ts";
import { areaOf } from "./areas.ts";
import { type Cell, type CellSource, readRows } from "./cells.ts";
import { broken, WorkbookError } from "../file/errors.ts";
import type { Strings } from "./strings.ts";
import { SheetFormulas } from "./sheet-formulas.ts";
import { MOST_COLUMNS } from "../file/limits.ts";
import { type Outline, type Place, placeHere, prefixOf } from "../xml/outline.ts";
import { attribute, isOn, numberOf } from "../xml/attributes.ts";
import { eachChild, next, openRoot, readXml, type Xml } from "../xml/xml.ts";

/** What a sheet's own text says; its name and tables are told elsewhere. */
export interface SheetContent {
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

/** Reads a worksheet part. */
export function readSheet(text: string, part: string, book: BookSource): SheetContent {
  const xml = readXml(text, part);
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
      children.push(readGrid(xml, source, book, grid));
      return;
    }
    readSheetChild(xml, seen);
    children.push(placeFrom(xml, seen));
  });
  const root = { name, start, end: xml.end, openEnd, closeStart: xml.start, empty };
  while (next(xml));
  if (!children.some((child) => child.name === "sheetData")) throw broken(part, "it has no cells");
  return { outline: { root, prefix, children }, source, ...grid, ...seen };
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

function readGrid(xml: Xml, source: CellSource, book: BookSource, grid: Grid): Place {
  const { name, start, end: openEnd, empty } = xml;
  readRows(xml, source, {
    row: (row, at) => {
      if (isOn(at, "hidden")) grid.hiddenRows.add(row);
    },
    cell: (cell) => {
      keepCell(cell, book, grid);
    },
  });
  const closeStart = empty ? openEnd : xml.start;
  return { name, start, end: xml.end, openEnd, closeStart, empty };
}

function keepCell(cell: Cell, book: BookSource, grid: Grid): void {
  const { row, column, value } = cell;
  const formula = cell.master ?? cell.formula;
  if (value !== null) {
    const line = lineOf(grid.values, row, NO_VALUES, book);
    book.spend(Math.max(0, column - line.length));
    while (line.length < column) line.push(null);
    line[column] = value;
    if (cell.struck || book.isStruck(cell.style)) grid.struck.add(cellKey(row, column));
  }
  const format = book.formatIndex(cell.style);
  if (format !== 0) {
    const line = lineOf(grid.formats, row, NO_FORMATS, book);
    book.spend(Math.max(0, column - line.length));
    while (line.length < column) line.push(0);
    line[column] = format;
  }
  if (formula !== null) grid.formulas.put(cellKey(row, column), formula);
}

/** The row's list, the rows before it filled with one shared empty list. */
function lineOf<T>(lines: T[][], row: number, none: T[], book: BookSource): T[] {
  book.spend(Math.max(0, row - lines.length));
  while (lines.length <= row) lines.push(none);
  const line = lines[row];
  if (line && line !== none) return line;
  const fresh: T[] = [];
  lines[row] = fresh;
  return fresh;
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
