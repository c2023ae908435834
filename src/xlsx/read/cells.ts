import {
  type Area,
  type CellError,
  type CellValue,
  columnOf,
} from "../../book/workbook/snapshot.ts";
import type { DateSystem } from "../../core/day.ts";
import { broken } from "../file/errors.ts";
import { shownText } from "../xml/escape.ts";
import { expanded, type SharedFormula, sharedFormula } from "./formulas.ts";
import { isoSerial } from "./iso.ts";
import { MOST_COLUMNS, MOST_ROWS } from "../file/limits.ts";
import { richText } from "./strings.ts";
import { attribute, numberOf } from "../xml/attributes.ts";
import { content, next, skipTo, type Xml } from "../xml/xml.ts";

/** What the cells of a sheet refer to, and what is learnt on the way. */
export interface CellSource {
  readonly strings: readonly string[];
  readonly dateSystem: DateSystem;
  readonly shared: Map<number, SharedFormula>;
  /** Blocks of cells that one array formula or data table fills. */
  readonly blocks: Area[];
}

/** A cell as it is read; one object serves all cells of a sheet. */
export interface Cell extends CellTag {
  row: number;
  value: CellValue;
  /** As the file stores it; for a cell that shares one, see formulaOf. */
  formula: string | null;
  master: SharedFormula | null;
  array: boolean;
}

/** What a reader of rows is told. */
export interface RowVisitor {
  readonly row?: (row: number, xml: Xml) => void;
  readonly cell: (cell: Cell) => void;
}

/** Reads the rows of the sheetData element just opened. */
export function readRows(xml: Xml, source: CellSource, visitor: RowVisitor): void {
  if (xml.empty) return;
  const cell: Cell = {
    row: -1,
    column: -1,
    style: 0,
    type: "n",
    value: null,
    formula: null,
    master: null,
    array: false,
  };
  const depth = xml.stack.length;
  while (next(xml)) {
    if (xml.kind === "close" && xml.stack.length < depth) return;
    if (xml.kind !== "open") continue;
    if (xml.name !== "row") {
      skipTo(xml, depth);
      continue;
    }
    cell.row = rowOf(xml, cell.row);
    visitor.row?.(cell.row, xml);
    readRow(xml, cell, source, visitor);
  }
}

function readRow(xml: Xml, cell: Cell, source: CellSource, visitor: RowVisitor): void {
  if (xml.empty) return;
  const depth = xml.stack.length;
  cell.column = -1;
  while (next(xml)) {
    if (xml.kind === "close" && xml.stack.length < depth) return;
    if (xml.kind !== "open") continue;
    if (xml.name === "c") {
      readCell(xml, cell, source);
      visitor.cell(cell);
    } else skipTo(xml, depth);
  }
}

/** The row of the row element just opened; without a number it follows the one before. */
export function rowOf(xml: Xml, before: number): number {
  const given = numberOf(xml, "r");
  const row = given === null ? before + 1 : given - 1;
  if (row < 0 || row >= MOST_ROWS) throw broken(xml.part, `it has a row ${row + 1}`);
  // A row that is there twice would hide the first one.
  if (row <= before) throw broken(xml.part, "its rows are out of order");
  return row;
}

/** What the tag of a cell says; without a reference it follows the one before. */
export interface CellTag {
  column: number;
  style: number;
  type: string;
}

const REFERENCE = 114;
const STYLE = 115;
const TYPE = 116;

/** Reads the tag of the cell element just opened; `tag` holds the cell before it in the row. */
export function readCellTag(xml: Xml, row: number, tag: CellTag): void {
  const before = tag.column;
  tag.column = -1;
  tag.style = 0;
  tag.type = "n";
  for (let at = 0; at < xml.count; at += 4) {
    const name = xml.attributes[at] ?? 0;
    if ((xml.attributes[at + 1] ?? 0) - name !== 1) continue;
    const from = xml.attributes[at + 2] ?? 0;
    const to = xml.attributes[at + 3] ?? 0;
    const letter = xml.text.charCodeAt(name);
    if (letter === REFERENCE) tag.column = referencedColumn(xml, row, from, to);
    else if (letter === STYLE) tag.style = digits(xml.text, from, to);
    else if (letter === TYPE) tag.type = xml.text.slice(from, to);
  }
  if (tag.column < 0) tag.column = before + 1;
  else if (tag.column <= before)
    throw broken(xml.part, `the cells of row ${row + 1} are out of order`);
  if (tag.column >= MOST_COLUMNS) throw broken(xml.part, "it has a cell beyond the last column");
}

/** A whole number written from here to there; 0 for anything else. */
function digits(text: string, from: number, to: number): number {
  let number = 0;
  for (let at = from; at < to; at += 1) {
    const digit = text.charCodeAt(at) - 48;
    if (digit < 0 || digit > 9 || number > 1e8) return 0;
    number = number * 10 + digit;
  }
  return number;
}

function referencedColumn(xml: Xml, row: number, from: number, to: number): number {
  let column = 0;
  let at = from;
  for (; at < to; at += 1) {
    const letter = xml.text.charCodeAt(at) & ~32;
    if (letter < 65 || letter > 90) break;
    column = column * 26 + letter - 64;
  }
  let number = 0;
  for (; at < to; at += 1) {
    const digit = xml.text.charCodeAt(at) - 48;
    if (digit < 0 || digit > 9) number = NaN;
    number = number * 10 + digit;
  }
  if (number !== row + 1 || column < 1 || column > MOST_COLUMNS) {
    throw broken(xml.part, `it has a cell ${xml.text.slice(from, to)} in row ${row + 1}`);
  }
  return column - 1;
}

function readCell(xml: Xml, cell: Cell, source: CellSource): void {
  readCellTag(xml, cell.row, cell);
  cell.value = null;
  cell.formula = null;
  cell.master = null;
  cell.array = false;
  if (xml.empty) return;
  const { type } = cell;
  const depth = xml.stack.length;
  while (next(xml)) {
    if (xml.kind === "close" && xml.stack.length < depth) return;
    if (xml.kind !== "open") continue;
    if (xml.name === "v") cell.value = valueOf(type, content(xml), xml, source);
    else if (xml.name === "f") readFormula(xml, cell, source);
    else if (xml.name === "is") cell.value = richText(xml);
    skipTo(xml, depth);
  }
}

/** The formula of a cell as the file stores it, a shared one written out for the cell; null when it has none. */
export function formulaOf({ formula, master, row, column }: Cell): string | null {
  return master ? expanded(master, row, column) : formula;
}

const ERRORS = new Map<string, CellError>();

function errorOf(text: string): CellError {
  const known = ERRORS.get(text);
  if (known) return known;
  const error = { error: text };
  if (ERRORS.size < 64) ERRORS.set(text, error);
  return error;
}

function valueOf(type: string, text: string, xml: Xml, source: CellSource): CellValue {
  switch (type) {
    case "str":
      return shownText(text);
    case "inlineStr":
      return shownText(text);
    case "e":
      return errorOf(text);
    case "s":
      return text.trim() === "" ? null : sharedText(text, xml, source);
    case "b":
      return text.trim() === "" ? null : text.trim() === "1" || text.trim() === "true";
    case "d":
      return isoSerial(text, source.dateSystem) ?? text;
    default:
      return numberIn(text, xml);
  }
}

function sharedText(text: string, xml: Xml, source: CellSource): string {
  const found = /^\s*\d+\s*$/.test(text) ? source.strings[Number(text)] : undefined;
  if (found === undefined) throw broken(xml.part, `it points to a text ${text} that is not there`);
  return found;
}

function numberIn(text: string, xml: Xml): number | null {
  const number = Number(text);
  if (text.trim() === "") return null;
  if (!Number.isFinite(number)) throw broken(xml.part, `it holds ${text} where a number must be`);
  return number;
}

function readFormula(xml: Xml, cell: Cell, source: CellSource): void {
  const kind = attribute(xml, "t");
  const shared = kind === "shared" ? numberOf(xml, "si") : null;
  const area = kind === "array" || kind === "dataTable" ? areaOf(attribute(xml, "ref")) : null;
  cell.array = kind === "array";
  const text = shownText(content(xml));
  if (
    area &&
    (area.lastRow > area.firstRow || area.lastColumn > area.firstColumn || kind === "dataTable")
  )
    source.blocks.push(area);
  if (kind === "dataTable") return;
  if (shared !== null && text === "") {
    cell.master = source.shared.get(shared) ?? null;
    return;
  }
  if (shared !== null) source.shared.set(shared, sharedFormula(text, cell.row, cell.column));
  cell.formula = text === "" ? null : text;
}

/** An area as files write it, or null: A1, A1:B2, $ allowed; whole rows and columns reach the edge. */
export function areaOf(text: string | null): Area | null {
  const [from = "", to = from, more] = (text ?? "").split(":");
  const first = cornerOf(from, 0, 0);
  const last = cornerOf(to, MOST_ROWS - 1, MOST_COLUMNS - 1);
  if (!first || !last || more !== undefined) return null;
  if (first.row > last.row || first.column > last.column) return null;
  return {
    firstRow: first.row,
    firstColumn: first.column,
    lastRow: last.row,
    lastColumn: last.column,
  };
}

/** One corner of an area; a missing row or column is the edge given. */
function cornerOf(
  text: string,
  row: number,
  column: number,
): { row: number; column: number } | null {
  const match = /^\$?([A-Za-z]{0,3})\$?(\d{0,7})$/.exec(text);
  const [, letters = "", digits = ""] = match ?? [];
  if (letters + digits === "") return null;
  const corner = {
    row: digits === "" ? row : Number(digits) - 1,
    column: letters === "" ? column : columnOf(letters),
  };
  const inside = corner.row >= 0 && corner.row < MOST_ROWS && corner.column < MOST_COLUMNS;
  return inside ? corner : null;
}

/** Whether a cell lies in one of the areas. */
export function inAreas(areas: readonly Area[], row: number, column: number): boolean {
  return areas.some(
    (area) =>
      row >= area.firstRow &&
      row <= area.lastRow &&
      column >= area.firstColumn &&
      column <= area.lastColumn,
  );
}
