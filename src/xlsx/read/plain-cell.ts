/**
 * A cell written the way nearly all programs write most of their cells, such as `<c r="B2" s="3" t="s"><v>7</v></c>`:
 * found in the bytes of the rows without taking it apart token by token. What is written in any other way is left to
 * the tokens.
 */
export interface PlainCell {
  /** Row and column its reference names, from zero. */
  row: number;
  column: number;
  style: number;
  type: string;
  /** Where its value stands; -1 for a cell without one. */
  valueFrom: number;
  valueTo: number;
  /** Number of the formula it shares, -1 for none, and where that stands. */
  shared: number;
  formulaFrom: number;
  formulaTo: number;
  /** Where it stands itself. */
  start: number;
  end: number;
}

/** A place for the cell that is found. */
export function newPlainCell(): PlainCell {
  return {
    ...{ row: 0, column: 0, style: 0, type: "n", valueFrom: 0, valueTo: 0 },
    ...{ shared: -1, formulaFrom: 0, formulaTo: 0, start: 0, end: 0 },
  };
}

const RETURN = 13;
const QUOTE = 34;
const AMPERSAND = 38;
const ZERO = 48;
const NINE = 57;
const SLASH = 47;
const LESS = 60;
const GREATER = 62;
const A = 65;
const Z = 90;
const SMALL_B = 98;
const SMALL_E = 101;
const SMALL_I = 105;
const SMALL_N = 110;
const SMALL_S = 115;
const MOST_DIGITS = 9;
const MOST_LETTERS = 3;
const LETTERS = 26;

/** A word that cells are made of, compared four letters at a time. */
interface Piece {
  readonly size: number;
  readonly fours: readonly number[];
}

const FOUR = 4;

function piece(letters: string): Piece {
  const view = new DataView(word(letters).buffer);
  const places = [0, FOUR, 2 * FOUR, 3 * FOUR, 4 * FOUR].filter((at) => at < letters.length);
  const last = letters.length - FOUR;
  return { size: letters.length, fours: places.map((at) => view.getInt32(Math.min(at, last))) };
}

const HEAD = piece('<c r="');
const STYLE = piece(' s="');
const TYPE = piece(' t="');
const STR = piece('str"');
const INLINE = piece('inlineStr"');
const TEXT = piece("><is><t>");
const TEXT_END = piece("</t></is></c>");
const SHARED = piece('><f t="shared" si="');
const VALUE = piece("><v>");
const VALUE_END = piece("</v></c>");

/** The bytes of a word of plain letters. */
export function word(letters: string): Uint8Array<ArrayBuffer> {
  return Uint8Array.from(letters, (letter) => letter.charCodeAt(0));
}

/** Bytes, and the same four at a time. */
export interface Letters {
  readonly bytes: Uint8Array;
  readonly view: DataView;
}

/** Whether a plain cell stands there. */
export function isPlainCell(letters: Letters, at: number, cell: PlainCell): boolean {
  const { bytes, view } = letters;
  if (!stands(view, at, HEAD)) return false;
  cell.start = at;
  let next = referenceEnd(bytes, at + HEAD.size, cell);
  if (bytes[next] !== QUOTE) return false;
  next += 1;
  cell.style = 0;
  if (stands(view, next, STYLE)) {
    const end = digitsEnd(bytes, next + STYLE.size);
    if (end < 0 || bytes[end] !== QUOTE) return false;
    cell.style = whole(bytes, next + STYLE.size, end);
    next = end + 1;
  }
  cell.type = "n";
  if (stands(view, next, TYPE)) {
    const type = typeAt(letters, next + TYPE.size);
    if (type === null) return false;
    cell.type = type;
    next += TYPE.size + type.length + 1;
  }
  return cell.type === "inlineStr"
    ? isTextInside(letters, next, cell)
    : isPlainInside(letters, next, cell);
}

/** The type whose quoted word ends there; null where it is none that plain cells have. */
function typeAt({ bytes, view }: Letters, at: number): string | null {
  const first = bytes[at];
  if (first === SMALL_S) {
    if (bytes[at + 1] === QUOTE) return "s";
    return stands(view, at, STR) ? "str" : null;
  }
  if (first === SMALL_I) return stands(view, at, INLINE) ? "inlineStr" : null;
  if (bytes[at + 1] !== QUOTE) return null;
  return first === SMALL_N ? "n" : first === SMALL_B ? "b" : first === SMALL_E ? "e" : null;
}

/** A text in the cell itself. */
function isTextInside({ bytes, view }: Letters, from: number, cell: PlainCell): boolean {
  cell.shared = -1;
  if (!stands(view, from, TEXT)) return false;
  cell.valueFrom = from + TEXT.size;
  cell.valueTo = textEnd(bytes, cell.valueFrom);
  cell.end = cell.valueTo + TEXT_END.size;
  return stands(view, cell.valueTo, TEXT_END);
}

/** What stands in the cell: nothing, a value, or a shared formula with its value. */
function isPlainInside({ bytes, view }: Letters, from: number, cell: PlainCell): boolean {
  cell.shared = -1;
  if (bytes[from] === SLASH && bytes[from + 1] === GREATER) {
    cell.valueFrom = cell.valueTo = -1;
    cell.end = from + 2;
    return true;
  }
  let next = from;
  if (stands(view, from, SHARED)) {
    const end = digitsEnd(bytes, from + SHARED.size);
    if (end < 0 || bytes[end] !== QUOTE || bytes[end + 1] !== SLASH) return false;
    cell.shared = whole(bytes, from + SHARED.size, end);
    next = end + 2;
    cell.formulaFrom = from + 1;
    cell.formulaTo = next + 1;
  }
  if (!stands(view, next, VALUE)) return false;
  cell.valueFrom = next + VALUE.size;
  cell.valueTo = textEnd(bytes, cell.valueFrom);
  cell.end = cell.valueTo + VALUE_END.size;
  return stands(view, cell.valueTo, VALUE_END);
}

function stands(view: DataView, at: number, { size, fours }: Piece): boolean {
  if (at + size > view.byteLength) return false;
  for (let index = 0; index < fours.length; index += 1) {
    if (view.getInt32(at + Math.min(index * FOUR, size - FOUR)) !== fours[index]) return false;
  }
  return true;
}

/** Whether the word stands there. */
export function holds(bytes: Uint8Array, at: number, letters: Uint8Array): boolean {
  for (let index = 0; index < letters.length; index += 1) {
    if (bytes[at + index] !== letters[index]) return false;
  }
  return true;
}

/** Reads a reference such as B2 and gives where it ends; the place it began at for anything else. */
function referenceEnd(bytes: Uint8Array, from: number, cell: PlainCell): number {
  let column = 0;
  let at = from;
  for (let code = bytes[at] ?? 0; code >= A && code <= Z; code = bytes[at] ?? 0) {
    column = column * LETTERS + code - A + 1;
    at += 1;
  }
  const end = digitsEnd(bytes, at);
  if (at === from || at > from + MOST_LETTERS || end < 0) return from;
  cell.column = column - 1;
  cell.row = whole(bytes, at, end) - 1;
  return end;
}

/** Where a short whole number ends; -1 where there is none. */
export function digitsEnd(bytes: Uint8Array, from: number): number {
  let at = from;
  for (let code = bytes[at] ?? 0; code >= ZERO && code <= NINE; code = bytes[at] ?? 0) at += 1;
  return at > from && at - from <= MOST_DIGITS ? at : -1;
}

/** The whole number whose digits stand from there to there. */
export function whole(bytes: Uint8Array, from: number, to: number): number {
  let number = 0;
  for (let at = from; at < to; at += 1) number = number * 10 + (bytes[at] ?? 0) - ZERO;
  return number;
}

/** Where a text ends that reads as it stands; elsewhere where it holds references or line ends to be made one. */
function textEnd(bytes: Uint8Array, from: number): number {
  for (let at = from; at < bytes.length; at += 1) {
    const code = bytes[at];
    if (code === LESS || code === AMPERSAND || code === RETURN) return at;
  }
  return bytes.length;
}
