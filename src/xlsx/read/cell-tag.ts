import { columnLetters } from "../../book/workbook/snapshot.ts";
import { broken } from "../file/errors.ts";
import { MOST_COLUMNS } from "../file/limits.ts";
import type { Xml } from "../xml/xml.ts";
import type { PlainCell } from "./plain-cell.ts";

/** The column of a plain cell, which must fit its row and the cell before it. */
export function plainColumn(
  part: string,
  { row, column: before }: { readonly row: number; readonly column: number },
  plain: PlainCell,
): number {
  const { column } = plain;
  if (plain.row !== row || column >= MOST_COLUMNS) {
    throw misplaced(part, `${columnLetters(column)}${plain.row + 1}`, row);
  }
  if (column <= before) throw outOfOrder(part, row);
  return column;
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
  else if (tag.column <= before) throw outOfOrder(xml.part, row);
  if (tag.column >= MOST_COLUMNS) throw broken(xml.part, "it has a cell beyond the last column");
}

function outOfOrder(part: string, row: number): Error {
  return broken(part, `the cells of row ${row + 1} are out of order`);
}

function misplaced(part: string, reference: string, row: number): Error {
  return broken(part, `it has a cell ${reference} in row ${row + 1}`);
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
    throw misplaced(xml.part, xml.text.slice(from, to), row);
  }
  return column - 1;
}
