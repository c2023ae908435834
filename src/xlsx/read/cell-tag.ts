import { broken } from "../file/errors.ts";
import { MOST_COLUMNS, MOST_ROWS } from "../file/limits.ts";
import { numberOf } from "../xml/attributes.ts";
import type { Xml } from "../xml/xml.ts";
import type { PlainCell } from "./plain-cell.ts";

/** The column of a plain cell, whose tag must fit its row and the cell before it. */
export function plainColumn(
  xml: Xml,
  { row, column: before }: { readonly row: number; readonly column: number },
  { from, to }: PlainCell,
): number {
  const column = referencedColumn(xml, row, from, to);
  if (column <= before) throw outOfOrder(xml, row);
  return column;
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
  else if (tag.column <= before) throw outOfOrder(xml, row);
  if (tag.column >= MOST_COLUMNS) throw broken(xml.part, "it has a cell beyond the last column");
}

function outOfOrder(xml: Xml, row: number): Error {
  return broken(xml.part, `the cells of row ${row + 1} are out of order`);
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
