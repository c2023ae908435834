import { columnLetters } from "../../book/workbook/snapshot.ts";
import { cellText, escaped, keepsSpace } from "../xml/escape.ts";
import { formulaAt, type RowFormula } from "../read/formulas.ts";
import { placeHere, withAttributes } from "../xml/outline.ts";
import { put, putAll, putWhole, type Sink } from "../file/sink.ts";
import type { Write } from "./sheet-draft.ts";
import { eachChild, next, readXml } from "../xml/xml.ts";

/** How cells of a sheet are spelt: its prefix, and the number by which a cell says it is a dynamic array. */
export interface Spelling {
  readonly prefix: string;
  readonly dynamic: number;
  /** How a cell begins and ends, and a value in it; and how the cells of a column begin. */
  readonly cell: readonly [string, string];
  readonly heads: string[];
  readonly value: readonly [string, string];
  /** Number the next shared formula gets. */
  nextShared: number;
}

/** The spelling of a sheet with that prefix. */
export function spellingOf(prefix: string, dynamic: number, nextShared: number): Spelling {
  const p = prefix;
  return {
    ...{ prefix, dynamic, nextShared },
    cell: [`<${p}c r="`, `</${p}c>`],
    heads: [],
    value: [`<${p}v>`, `</${p}v>`],
  };
}

/** Writes the element of a cell. */
export function putCell(
  sink: Sink,
  write: Write,
  { row, style }: { readonly row: number; readonly style: number },
  spelling: Spelling,
): void {
  const { column, origin, tail } = write;
  const { formula, shared } = origin;
  put(sink, (spelling.heads[column] ??= `${spelling.cell[0]}${columnLetters(column)}`));
  putWhole(sink, row + 1);
  // A formula that is shared, or none, reads alike in every row.
  const isAlike = formula === null || (shared !== null && !formula.live);
  if (tail === undefined || !isAlike) putTail(sink, write, { row, style }, spelling);
  else if (tail !== null && tail !== "once" && tail.style === style) putAll(sink, tail.bytes);
  else {
    const from = sink.filled;
    putTail(sink, write, { row, style }, spelling);
    write.tail = tail === null ? "once" : { style, bytes: sink.bytes.slice(from, sink.filled) };
  }
}

/** Writes what stands behind the number of a cell's row. */
function putTail(
  sink: Sink,
  write: Write,
  { row, style }: { readonly row: number; readonly style: number },
  spelling: Spelling,
): void {
  const { prefix: p, dynamic, cell } = spelling;
  const { value, origin } = write;
  const { formula, shared } = origin;
  if (formula && shared !== null && !formula.live) {
    put(sink, sharedHead(write, style, spelling));
  } else {
    put(sink, style > 0 ? `" s="${style}"` : '"');
    if (!formula && value === null) {
      put(sink, "/>");
      return;
    }
    if (!formula && typeof value === "string") {
      put(sink, ` t="inlineStr"><${p}is><${p}t${space(value)}>${cellText(value)}</${p}t></${p}is>`);
      put(sink, cell[1]);
      return;
    }
    put(sink, typeOf(value));
    if (formula?.live) put(sink, ` cm="${dynamic}"`);
    put(sink, formula ? `>${formulaXml(write, row, spelling, formula)}` : ">");
  }
  putValue(sink, value, spelling);
  put(sink, cell[1]);
}

/** Writes a result; short words and whole numbers, as nearly all are, without making texts of them. */
function putValue(sink: Sink, value: Write["value"], { prefix, value: [open, close] }: Spelling) {
  if (typeof value === "number" && Number.isInteger(value) && value >= 0 && value < MOST_WHOLE) {
    put(sink, open);
    putWhole(sink, value);
    put(sink, close);
  } else if (typeof value === "string" && isPlainWord(value)) {
    put(sink, open);
    put(sink, value);
    put(sink, close);
  } else put(sink, valueXml(value, prefix));
}

const MOST_WHOLE = 1e9;
const LONGEST_WORD = 40;

/** Whether a text stands in a file as it is: letters, digits, commas and such, and single spaces between them. */
function isPlainWord(text: string): boolean {
  if (text.length > LONGEST_WORD) return false;
  let before = SPACE;
  for (let at = 0; at < text.length; at += 1) {
    const code = text.charCodeAt(at);
    const isPlain = (code > AMPERSAND && code < LESS) || (code >= CAPITAL_A && code <= SMALL_Z);
    if (!isPlain && (code !== SPACE || before === SPACE)) return false;
    if (code === UNDERSCORE) return false;
    before = code;
  }
  return before !== SPACE;
}

const SPACE = 32;
const AMPERSAND = 38;
const LESS = 60;
const CAPITAL_A = 65;
const UNDERSCORE = 95;
const SMALL_Z = 122;

/** What stands between reference and value of a cell that shares its formula: alike in most cells of a column. */
function sharedHead({ value, origin }: Write, style: number, { prefix: p }: Spelling): string {
  const type = typeOf(value);
  const known = origin.heads.get(type);
  if (known?.style === style) return known.text;
  const look = style > 0 ? ` s="${style}"` : "";
  const text = `"${look}${type}><${p}f t="shared" si="${origin.shared}"/>`;
  origin.heads.set(type, { style, text });
  return text;
}

function formulaXml(write: Write, row: number, spelling: Spelling, formula: RowFormula): string {
  const { prefix: p } = spelling;
  const { origin, column } = write;
  const text = formulaAt(formula.pieces, row);
  const name = columnLetters(column);
  if (formula.live) {
    const { rows, columns } = origin.spill ?? { rows: 1, columns: 1 };
    const last = rows * columns > 1 ? `:${columnLetters(column + columns - 1)}${row + rows}` : "";
    return `<${p}f t="array" ref="${name}${row + 1}${last}">${text}</${p}f>`;
  }
  if (origin.sharedTo === null || origin.sharedTo <= row) return `<${p}f>${text}</${p}f>`;
  origin.shared = spelling.nextShared;
  spelling.nextShared += 1;
  const area = `${name}${row + 1}:${name}${origin.sharedTo + 1}`;
  return `<${p}f t="shared" ref="${area}" si="${origin.shared}">${text}</${p}f>`;
}

function typeOf(value: Write["value"]): string {
  if (typeof value === "string") return ' t="str"';
  if (typeof value === "boolean") return ' t="b"';
  return typeof value === "number" || value === null ? "" : ' t="e"';
}

function valueXml(value: Write["value"], p: string): string {
  if (value === null) return "";
  if (typeof value === "string") return `<${p}v${space(value)}>${cellText(value)}</${p}v>`;
  if (typeof value === "boolean") return `<${p}v>${value ? 1 : 0}</${p}v>`;
  // A negative zero would be read back as one; a cell knows only zero.
  if (typeof value === "number") return `<${p}v>${value === 0 ? 0 : value}</${p}v>`;
  return `<${p}v>${escaped(value.error)}</${p}v>`;
}

function space(text: string): string {
  return keepsSpace(text) ? ' xml:space="preserve"' : "";
}

/** The element of a cell as it stands in the text, with another result behind the formula it keeps. */
export function resultXml(cell: string, { value }: Write, style: number, prefix: string): string {
  const xml = readXml(cell, "");
  next(xml);
  const place = { name: "c", start: 0, end: cell.length, openEnd: xml.end, closeStart: 0 };
  const type = /^ t="(\w+)"$/.exec(typeOf(value))?.[1] ?? null;
  const open = withAttributes(
    cell,
    { ...place, empty: xml.empty },
    {
      t: type,
      s: style > 0 ? String(style) : null,
    },
  );
  let formula = "";
  eachChild(xml, () => {
    if (xml.name === "f") {
      const { start, end } = placeHere(xml);
      formula = cell.slice(start, end);
    }
  });
  const head = xml.empty && open.endsWith("/>") ? `${open.slice(0, -2)}>` : open;
  return `${head}${formula}${valueXml(value, prefix)}</${prefix}c>`;
}
