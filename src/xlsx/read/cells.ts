import type { Area, CellError, CellValue } from "../../book/workbook/snapshot.ts";
import type { DateSystem } from "../../core/day.ts";
import { broken } from "../file/errors.ts";
import { shownText } from "../xml/escape.ts";
import { areaOf } from "./areas.ts";
import { type CellTag, plainColumn, readCellTag } from "./cell-tag.ts";
import type { Rows } from "./cut-sheet.ts";
import { expanded, type SharedFormula, sharedFormula } from "./formulas.ts";
import { isoSerial } from "./iso.ts";
import { plainNumber, repeatedTexts } from "./plain-value.ts";
import {
  checkedText,
  leaveCell,
  nextCell,
  nextRow,
  type RowReader,
  rowReader,
} from "./row-reader.ts";
import { richText, type Strings } from "./strings.ts";
import { attribute, numberOf } from "../xml/attributes.ts";
import { content, next, skipTo, type Xml } from "../xml/xml.ts";

/** What the cells of a sheet refer to, and what is learnt on the way. */
export interface CellSource {
  readonly strings: Strings;
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
  /** Its text is struck through in whole or in part; what its format says is told elsewhere. */
  struck: boolean;
}

/** What a reader of rows is told. */
export interface RowVisitor {
  /** The tag is null where it says nothing but its number. */
  readonly row?: (row: number, tag: Xml | null) => void;
  readonly cell: (cell: Cell) => void;
}

/** Reads the rows of a sheet. */
export function readRows(rows: Rows, source: CellSource, visitor: RowVisitor): void {
  const cell: Cell = {
    row: -1,
    column: -1,
    style: 0,
    type: "n",
    value: null,
    formula: null,
    master: null,
    array: false,
    struck: false,
  };
  const reader = rowReader(rows);
  const text = repeatedTexts(rows.bytes, (from, to) =>
    shownText(checkedText(rows.bytes.subarray(from, to), rows)),
  );
  const plain = { reader, source, text };
  while (nextRow(reader)) {
    cell.row = reader.row;
    cell.column = -1;
    visitor.row?.(reader.row, reader.tag);
    for (let form = nextCell(reader); form !== null; form = nextCell(reader)) {
      if (form === "plain") readPlain(cell, plain);
      else if (reader.window !== null) {
        readCell(reader.window, cell, source);
        leaveCell(reader);
      }
      visitor.cell(cell);
    }
  }
}

interface PlainSource {
  readonly reader: RowReader;
  readonly source: CellSource;
  /** What cells people see hold, by where it stands. */
  readonly text: (from: number, to: number) => string;
}

/** Reads the plain cell just found. */
function readPlain(cell: Cell, { reader, source, text }: PlainSource): void {
  const { plain, rows } = reader;
  const { bytes, part } = rows;
  const { valueFrom: from, valueTo: to, shared, type } = plain;
  cell.column = plainColumn(part, cell, plain);
  cell.style = plain.style;
  cell.type = type;
  cell.formula = null;
  cell.master = shared < 0 ? null : (source.shared.get(shared) ?? null);
  cell.array = false;
  cell.struck = false;
  cell.value = null;
  if (from < 0) return;
  if (type === "str" || type === "inlineStr") {
    cell.value = text(from, to);
    return;
  }
  const number = type === "n" || type === "s" ? plainNumber(bytes, from, to) : null;
  if (number !== null && type === "n") {
    cell.value = number;
    return;
  }
  const shown = number === null ? undefined : source.strings.texts[number];
  if (number === null || shown === undefined) {
    const written = checkedText(bytes.subarray(from, to), rows);
    cell.value = valueOf(type, written, part, source);
    cell.struck = type === "s" && isStruckText(written, source);
  } else {
    cell.value = shown;
    cell.struck = source.strings.struck.has(number);
  }
}

function readCell(xml: Xml, cell: Cell, source: CellSource): void {
  readCellTag(xml, cell.row, cell);
  cell.value = null;
  cell.formula = null;
  cell.master = null;
  cell.array = false;
  cell.struck = false;
  if (xml.empty) return;
  const { type } = cell;
  const depth = xml.stack.length;
  while (next(xml)) {
    if (xml.kind === "close" && xml.stack.length < depth) return;
    if (xml.kind !== "open") continue;
    if (xml.name === "v") {
      const text = content(xml);
      cell.value = valueOf(type, text, xml.part, source);
      cell.struck = type === "s" && isStruckText(text, source);
    } else if (xml.name === "f") readFormula(xml, cell, source);
    else if (xml.name === "is") cell.value = richText(xml, () => (cell.struck = true));
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

function valueOf(type: string, text: string, part: string, source: CellSource): CellValue {
  switch (type) {
    case "str":
      return shownText(text);
    case "inlineStr":
      return shownText(text);
    case "e":
      return errorOf(text);
    case "s":
      return text.trim() === "" ? null : sharedText(text, part, source);
    case "b":
      return text.trim() === "" ? null : text.trim() === "1" || text.trim() === "true";
    case "d":
      return isoSerial(text, source.dateSystem) ?? text;
    default:
      return numberIn(text, part);
  }
}

function isStruckText(text: string, { strings: { struck } }: CellSource): boolean {
  return struck.size > 0 && struck.has(Number(text));
}

function sharedText(text: string, part: string, source: CellSource): string {
  const found = /^\s*\d+\s*$/.test(text) ? source.strings.texts[Number(text)] : undefined;
  if (found === undefined) throw broken(part, `it points to a text ${text} that is not there`);
  return found;
}

function numberIn(text: string, part: string): number | null {
  const number = Number(text);
  if (text.trim() === "") return null;
  if (!Number.isFinite(number)) throw broken(part, `it holds ${text} where a number must be`);
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
