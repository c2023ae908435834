import { encode, sameBytes } from "../file/codec.ts";
import { broken } from "../file/errors.ts";
import { MOST_ROWS } from "../file/limits.ts";
import { numberOf } from "../xml/attributes.ts";
import { next, readXml, skipTo, type Xml } from "../xml/xml.ts";
import { find, type Rows } from "./cut-sheet.ts";
import {
  digitsEnd,
  holds,
  isPlainCell,
  type Letters,
  newPlainCell,
  whole,
  word,
} from "./plain-cell.ts";

/**
 * A position in the rows of a sheet, moved row by row and cell by cell. Plain rows and cells are found in the bytes;
 * anything else is read by tokens, in a window: a text with a letter for each byte, so that positions stay the same.
 */
export interface RowReader {
  readonly rows: Rows;
  readonly letters: Letters;
  readonly plain: ReturnType<typeof newPlainCell>;
  /** Where the next thing starts. */
  at: number;
  /** The row that is open, from zero, and its tag; null for one that says nothing but its number. */
  row: number;
  tag: Xml | null;
  start: number;
  tagEnd: number;
  empty: boolean;
  /** What is read by tokens, where it begins among the bytes and where it ends. */
  window: Xml | null;
  base: number;
  until: number;
}

const ROW = word("<row");
const ROW_NUMBER = word('<row r="');
const TAG_END = word('">');
const ROW_END = word("</row>");
const SPACE = 32;
const QUOTE = 34;
const APOSTROPHE = 39;
const GREATER = 62;
const SLASH = 47;
const DATA = "sheetData";

/** Rows to be read from the first on. */
export function rowReader(rows: Rows): RowReader {
  const { bytes } = rows;
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.length);
  return {
    ...{
      rows,
      letters: { bytes, view },
      plain: newPlainCell(),
      at: 0,
      row: -1,
      tag: null,
      start: 0,
      tagEnd: 0,
    },
    ...{ empty: false, window: null, base: 0, until: 0 },
  };
}

/** Moves to the next row and behind its tag; false after the last one. */
export function nextRow(reader: RowReader): boolean {
  const { bytes } = reader.rows;
  if (reader.window !== null && reader.at < reader.until) return rowByTokens(reader);
  reader.window = null;
  while (isSpace(bytes[reader.at])) reader.at += 1;
  const { at } = reader;
  if (at >= bytes.length) return false;
  if (!isBareRow(reader) && !isTaggedRow(reader)) {
    openWindow(reader, bytes.length, [DATA]);
    return rowByTokens(reader);
  }
  reader.start = at;
  reader.at = reader.tagEnd;
  return true;
}

/** A row whose tag is its number alone. */
function isBareRow(reader: RowReader): boolean {
  const { bytes } = reader.rows;
  if (!holds(bytes, reader.at, ROW_NUMBER)) return false;
  const from = reader.at + ROW_NUMBER.length;
  const end = digitsEnd(bytes, from);
  if (end < 0 || !holds(bytes, end, TAG_END)) return false;
  reader.row = followingRow(reader, whole(bytes, from, end));
  reader.tag = null;
  reader.tagEnd = end + TAG_END.length;
  reader.empty = false;
  return true;
}

/** A row whose tag says more. */
function isTaggedRow(reader: RowReader): boolean {
  const { at, rows } = reader;
  const behind = rows.bytes[at + ROW.length];
  if (!holds(rows.bytes, at, ROW) || (behind !== GREATER && behind !== SLASH && !isSpace(behind)))
    return false;
  reader.tagEnd = tagEnd(rows.bytes, at);
  reader.tag = tokensOf(rows, at, reader.tagEnd);
  next(reader.tag);
  reader.empty = reader.tag.empty;
  reader.row = followingRow(reader, numberOf(reader.tag, "r"));
  return true;
}

/** Behind the tag that starts there; a value in quotes may hold what ends one. */
function tagEnd(bytes: Uint8Array, from: number): number {
  let quote = 0;
  for (let at = from; at < bytes.length; at += 1) {
    const code = bytes[at];
    if (quote !== 0) {
      if (code === quote) quote = 0;
    } else if (code === QUOTE || code === APOSTROPHE) quote = code;
    else if (code === GREATER) return at + 1;
  }
  return bytes.length;
}

function rowByTokens(reader: RowReader): boolean {
  const xml = windowAt(reader);
  for (;;) {
    next(xml);
    if (xml.kind === "close" && xml.stack.length === 0) {
      if (reader.base + xml.start < reader.until) throw broken(xml.part, "its rows end twice");
      reader.at = reader.until;
      return nextRow(reader);
    }
    if (xml.kind === "open" && xml.name === "row") {
      reader.start = reader.base + xml.start;
      reader.at = reader.tagEnd = reader.base + xml.end;
      reader.empty = xml.empty;
      reader.tag = xml;
      reader.row = followingRow(reader, numberOf(xml, "r"));
      return true;
    }
    if (xml.kind === "open") skipTo(xml, 1);
  }
}

/** The row of a tag; without a number it follows the one before. */
function followingRow({ rows, row: before }: RowReader, given: number | null): number {
  const row = given === null ? before + 1 : given - 1;
  if (row < 0 || row >= MOST_ROWS) throw broken(rows.part, `it has a row ${row + 1}`);
  // A row that is there twice would hide the first one.
  if (row <= before) throw broken(rows.part, "its rows are out of order");
  return row;
}

/**
 * Moves to the next cell of the row that is open: "plain" when it has gone behind one that `plain` tells of, "tokens"
 * when the window has just opened one, which leaveCell ends; null behind the end of the row.
 */
export function nextCell(reader: RowReader): "plain" | "tokens" | null {
  const { plain, rows } = reader;
  if (reader.empty) return null;
  for (;;) {
    if (isPlainCell(reader.letters, reader.at, plain)) {
      reader.at = plain.end;
      return "plain";
    }
    if (holds(rows.bytes, reader.at, ROW_END) && reader.window === null) {
      reader.at += ROW_END.length;
      return null;
    }
    const xml = windowAt(reader);
    next(xml);
    reader.at = reader.base + xml.at;
    if (xml.kind === "close" && xml.stack.length < 2) return null;
    if (xml.kind !== "open") continue;
    if (xml.name === "c") return "tokens";
    leaveCell(reader);
  }
}

/** Goes behind the end of what the window opened in the row. */
export function leaveCell(reader: RowReader): void {
  const xml = reader.window;
  if (xml === null) return;
  skipTo(xml, 2);
  reader.at = reader.base + xml.at;
}

/** The window at the place reached, opened up to the end of the row where there is none. */
function windowAt(reader: RowReader): Xml {
  const { bytes } = reader.rows;
  const open = reader.at < reader.until ? reader.window : null;
  const xml = open ?? openRowWindow(reader, bytes);
  xml.at = reader.at - reader.base;
  return xml;
}

function openRowWindow(reader: RowReader, bytes: Uint8Array): Xml {
  const end = find(bytes, ROW_END, reader.at);
  const xml = end < 0 ? null : openWindow(reader, end + ROW_END.length, [DATA, "row"]);
  // An end of a row may stand in a comment or in literal text.
  if (xml !== null && !/<[!?]/.test(xml.text)) return xml;
  return openWindow(reader, bytes.length, [DATA, "row"]);
}

function openWindow(reader: RowReader, until: number, stack: readonly string[]): Xml {
  const xml = tokensOf(reader.rows, reader.at, until, `</${DATA}>`);
  xml.stack.push(...stack);
  xml.rooted = true;
  reader.window = xml;
  reader.base = reader.at;
  reader.until = until;
  return xml;
}

/** Bytes of the rows to be read by tokens. */
function tokensOf(rows: Rows, from: number, to: number, behind = ""): Xml {
  const { part, decode } = rows;
  const piece = rows.bytes.subarray(from, to);
  if (piece.every(isPlainLetter)) return readXml(decode(piece) + behind, part);
  // Texts are made of their letters when they are asked for; that all of it is text is looked at here.
  checkedText(piece, rows);
  return readXml(lettersOf(piece) + behind, part, (letters) => decode(bytesOf(letters)));
}

function isPlainLetter(byte: number): boolean {
  return byte < 128;
}

const STEP = 4096;

/** A letter for each byte. */
function lettersOf(bytes: Uint8Array): string {
  let text = "";
  for (let at = 0; at < bytes.length; at += STEP) {
    text += String.fromCharCode(...bytes.subarray(at, at + STEP));
  }
  return text;
}

function bytesOf(letters: string): Uint8Array {
  return Uint8Array.from(letters, (letter) => letter.charCodeAt(0));
}

/** The text of bytes among the rows, which must be UTF-8. */
export function checkedText(bytes: Uint8Array, { part, decode }: Rows): string {
  const text = decode(bytes);
  if (text.includes("\ufffd") && !sameBytes(encode(text), bytes)) {
    throw broken(part, "its text is not UTF-8");
  }
  return text;
}

function isSpace(code: number | undefined): boolean {
  return code === SPACE || code === 10 || code === 13 || code === 9;
}
