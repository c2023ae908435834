import { decode, encode } from "../file/codec.ts";
import { broken, WorkbookError } from "../file/errors.ts";
import { type Package, partBytes } from "../package/package.ts";
import { partText } from "../xml/escape.ts";
import { placeHere } from "../xml/outline.ts";
import { eachChild, next, openRoot, readXml } from "../xml/xml.ts";
import { holds, word } from "./plain-cell.ts";

/** The rows of a sheet as the bytes of its file, which are most of it and are never one text. */
export interface Rows {
  readonly part: string;
  readonly bytes: Uint8Array;
  readonly decode: (bytes: Uint8Array) => string;
}

/** A worksheet cut in two: its text with an element for the rows that holds none, and what stood in that. */
export interface CutSheet {
  readonly text: string;
  readonly rows: Rows;
}

type Decode = Rows["decode"];

const OPEN = word("<sheetData>");
const CLOSE = word("</sheetData>");
const LESS = 60;

/**
 * Cuts a worksheet part and has it read. The cut is looked for in its bytes; where it cannot be told there, or what
 * is read does not fit together, the whole text is taken token by token, and says what is wrong with it.
 */
export function cutSheet<T>(file: Package, path: string, read: (sheet: CutSheet) => T): T {
  const { name, bytes } = partBytes(file, path);
  const decoder = file.codec.decode ?? decode;
  const cut = cutInBytes(bytes, name, decoder);
  if (cut !== null) {
    try {
      return read(cut);
    } catch (error) {
      if (!(error instanceof WorkbookError)) throw error;
    }
  }
  return read(cutText(partText(bytes, name, decoder), name, decoder));
}

function cutInBytes(bytes: Uint8Array, part: string, decoder: Decode): CutSheet | null {
  const open = find(bytes, OPEN);
  const close = findLast(bytes, CLOSE);
  if (open < 0 || close < open) return null;
  const from = open + OPEN.length;
  const head = partText(bytes.subarray(0, from), part, decoder);
  const text = head + partText(bytes.subarray(close), part, decoder);
  // Hosts have kinds of bytes of their own; code that meets several of them is slower on all.
  const plain = new Uint8Array(bytes.buffer, bytes.byteOffset + from, close - from);
  const rows = { part, bytes: plain, decode: decoder };
  return isCut(text, head.length, part) ? { text, rows } : null;
}

/** Whether the element of the rows, without any, is what stands at that place of the text. */
function isCut(text: string, at: number, part: string): boolean {
  const xml = readXml(text, part);
  openRoot(xml, "worksheet");
  while (xml.at < at && next(xml));
  const opens = xml.at === at && xml.kind === "open" && xml.name === "sheetData";
  return opens && xml.stack.length === 2 && next(xml) && xml.start === at;
}

/** Cuts the text of a worksheet. */
export function cutText(text: string, part: string, decoder: Decode = decode): CutSheet {
  const xml = readXml(text, part);
  const places: { readonly openEnd: number; readonly closeStart: number }[] = [];
  openRoot(xml, "worksheet");
  eachChild(xml, () => {
    if (xml.name === "sheetData") places.push(placeHere(xml));
  });
  while (next(xml));
  const [place, other] = places;
  if (place === undefined) throw broken(part, "it has no cells");
  if (other !== undefined) throw cellsTwice(part);
  return {
    text: text.slice(0, place.openEnd) + text.slice(place.closeStart),
    rows: { part, bytes: encode(text.slice(place.openEnd, place.closeStart)), decode: decoder },
  };
}

/** What is said of a sheet whose cells stand in two places. */
export function cellsTwice(part: string): WorkbookError {
  return broken(part, "it has its cells twice");
}

/** Where a word stands first; -1 where it does not. */
export function find(bytes: Uint8Array, letters: Uint8Array, from = 0): number {
  for (let at = bytes.indexOf(LESS, from); at >= 0; at = bytes.indexOf(LESS, at + 1)) {
    if (holds(bytes, at, letters)) return at;
  }
  return -1;
}

function findLast(bytes: Uint8Array, letters: Uint8Array): number {
  for (let at = bytes.lastIndexOf(LESS); at >= 0; at = bytes.lastIndexOf(LESS, at - 1)) {
    if (holds(bytes, at, letters)) return at;
    if (at === 0) break;
  }
  return -1;
}
