import type { Xml } from "../xml/xml.ts";

/**
 * A cell written the way nearly all programs write most of their cells, such as `<c r="B2" s="3" t="s"><v>7</v></c>`:
 * found without taking it apart token by token. What is written in any other way is left to the tokens.
 */
export interface PlainCell {
  /** Where its reference stands. */
  from: number;
  to: number;
  style: number;
  type: string;
  /** Where its value stands; -1 for a cell without one. */
  valueFrom: number;
  valueTo: number;
  /** Number of the formula it shares; -1 for none. */
  shared: number;
  end: number;
}

/** A place for the cell that is found. */
export function newPlainCell(): PlainCell {
  return { from: 0, to: 0, style: 0, type: "n", valueFrom: 0, valueTo: 0, shared: -1, end: 0 };
}

const QUOTE = 34;
const AMPERSAND = 38;
const ZERO = 48;
const NINE = 57;
const LESS = 60;
const Z = 90;
const SMALL_B = 98;
const SMALL_E = 101;
const SMALL_I = 105;
const SMALL_N = 110;
const SMALL_S = 115;
const MOST_DIGITS = 9;

/** Whether a plain cell stands where the next token would start; the position stays where it is. */
export function isPlainCell({ text, at, returns }: Xml, cell: PlainCell): boolean {
  if (returns || !holds(text, at, '<c r="')) return false;
  cell.from = at + 6;
  cell.to = referenceEnd(text, cell.from);
  let next = cell.to + 1;
  if (text.charCodeAt(cell.to) !== QUOTE) return false;
  cell.style = 0;
  if (holds(text, next, ' s="')) {
    const end = digitsEnd(text, next + 4);
    if (end < 0 || text.charCodeAt(end) !== QUOTE) return false;
    cell.style = whole(text, next + 4, end);
    next = end + 1;
  }
  cell.type = "n";
  if (holds(text, next, ' t="')) {
    const type = typeAt(text, next + 4);
    if (type === null) return false;
    cell.type = type;
    next += 5 + type.length;
  }
  return cell.type === "inlineStr"
    ? isTextInside(text, next, cell)
    : isPlainInside(text, next, cell);
}

/** The type whose quoted word ends there; null where it is none that plain cells have. */
function typeAt(text: string, at: number): string | null {
  const first = text.charCodeAt(at);
  if (first === SMALL_S) {
    if (text.charCodeAt(at + 1) === QUOTE) return "s";
    return holds(text, at, 'str"') ? "str" : null;
  }
  if (first === SMALL_I) return holds(text, at, 'inlineStr"') ? "inlineStr" : null;
  if (text.charCodeAt(at + 1) !== QUOTE) return null;
  return first === SMALL_N ? "n" : first === SMALL_B ? "b" : first === SMALL_E ? "e" : null;
}

/** A text in the cell itself. */
function isTextInside(text: string, from: number, cell: PlainCell): boolean {
  cell.shared = -1;
  if (!holds(text, from, "><is><t>")) return false;
  cell.valueFrom = from + 8;
  cell.valueTo = textEnd(text, cell.valueFrom);
  cell.end = cell.valueTo + 13;
  return holds(text, cell.valueTo, "</t></is></c>");
}

/** What stands in the cell: nothing, a value, or a shared formula with its value. */
function isPlainInside(text: string, from: number, cell: PlainCell): boolean {
  cell.shared = -1;
  if (holds(text, from, "/>")) {
    cell.valueFrom = cell.valueTo = -1;
    cell.end = from + 2;
    return true;
  }
  let next = from;
  if (holds(text, from, '><f t="shared" si="')) {
    const end = digitsEnd(text, from + 19);
    if (end < 0 || !holds(text, end, '"/')) return false;
    cell.shared = whole(text, from + 19, end);
    next = end + 2;
  }
  if (!holds(text, next, "><v>")) return false;
  cell.valueFrom = next + 4;
  cell.valueTo = textEnd(text, cell.valueFrom);
  cell.end = cell.valueTo + 8;
  return holds(text, cell.valueTo, "</v></c>");
}

function holds(text: string, at: number, word: string): boolean {
  for (let index = 0; index < word.length; index += 1) {
    if (text.charCodeAt(at + index) !== word.charCodeAt(index)) return false;
  }
  return true;
}

function referenceEnd(text: string, from: number): number {
  let at = from;
  for (let code = text.charCodeAt(at); code >= ZERO && code <= Z; code = text.charCodeAt(at))
    at += 1;
  return at;
}

/** Where a short whole number ends; -1 where there is none. */
function digitsEnd(text: string, from: number): number {
  let at = from;
  for (let code = text.charCodeAt(at); code >= ZERO && code <= NINE; code = text.charCodeAt(at)) {
    at += 1;
  }
  return at > from && at - from <= MOST_DIGITS ? at : -1;
}

function whole(text: string, from: number, to: number): number {
  let number = 0;
  for (let at = from; at < to; at += 1) number = number * 10 + text.charCodeAt(at) - ZERO;
  return number;
}

/** Where a text ends that reads as it stands; elsewhere where there are references in it. */
function textEnd(text: string, from: number): number {
  for (let at = from; ; at += 1) {
    const code = text.charCodeAt(at);
    if (code === LESS || code === AMPERSAND || Number.isNaN(code)) return at;
  }
}

/** The value of a plain cell where it is a short whole number; null where it is anything else. */
export function wholeIn(text: string, { valueFrom, valueTo }: PlainCell): number | null {
  return valueFrom >= 0 && digitsEnd(text, valueFrom) === valueTo
    ? whole(text, valueFrom, valueTo)
    : null;
}
