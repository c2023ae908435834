import { broken } from "../file/errors.ts";
import { character, plain, said } from "./references.ts";

/**
 * A position in an XML text, moved token by token. It checks well-formedness as it goes; document
 * types and entities other than the predefined and numeric ones are refused.
 */
export interface Xml {
  readonly part: string;
  readonly text: string;
  /** Where the next token starts. */
  at: number;
  kind: "open" | "close" | "text" | "end";
  /** Name without its prefix. */
  name: string;
  /** The token, text.slice(start, end). */
  start: number;
  end: number;
  /** An element without content: no close token follows. */
  empty: boolean;
  /** Text that is taken as it stands (CDATA). */
  literal: boolean;
  /** Text without references or foreign line ends: it reads as it stands. */
  bare: boolean;
  /** Open elements with their prefixes. */
  readonly stack: string[];
  /** Four positions an attribute: name from, to, value from, to. */
  readonly attributes: number[];
  count: number;
  ampersand: number;
  readonly returns: boolean;
  rooted: boolean;
  /** Where the text has a letter for each byte: what such letters say. */
  readonly decode: ((letters: string) => string) | null;
}

const LESS = 60;
const GREATER = 62;
const SLASH = 47;
const EQUALS = 61;
const QUESTION = 63;
const EXCLAMATION = 33;
const QUOTE = 34;
const APOSTROPHE = 39;
const SPACE = 32;

/** A text to be read from its beginning. */
export function readXml(text: string, part: string, decode: Xml["decode"] = null): Xml {
  return {
    part,
    text,
    at: 0,
    kind: "end",
    name: "",
    start: 0,
    end: 0,
    empty: false,
    literal: false,
    bare: false,
    returns: text.includes("\r"),
    stack: [],
    attributes: [],
    count: 0,
    ampersand: -1,
    rooted: false,
    decode,
  };
}

/** Moves to the next token; false after the last one. */
export function next(xml: Xml): boolean {
  for (;;) {
    const start = xml.at;
    xml.start = start;
    if (start >= xml.text.length) return finish(xml);
    if (xml.text.charCodeAt(start) !== LESS) {
      if (readText(xml, start)) return true;
      continue;
    }
    const mark = xml.text.charCodeAt(start + 1);
    if (mark === SLASH) return readClose(xml, start);
    if (mark === QUESTION) xml.at = after(xml, "?>", start + 2);
    else if (mark !== EXCLAMATION) return readOpen(xml, start);
    else if (xml.text.startsWith("<!--", start)) xml.at = after(xml, "-->", start + 4);
    else if (xml.text.startsWith("<![CDATA[", start)) return readLiteral(xml, start);
    else throw broken(xml.part, "it holds a document type, which workbooks never need");
  }
}

function finish(xml: Xml): boolean {
  if (xml.stack.length > 0 || !xml.rooted) throw broken(xml.part, "it ends too early");
  xml.kind = "end";
  return false;
}

function after(xml: Xml, mark: string, from: number): number {
  const found = xml.text.indexOf(mark, from);
  if (found < 0) throw broken(xml.part, "it ends too early");
  return found + mark.length;
}

function readText(xml: Xml, start: number): boolean {
  const found = xml.text.indexOf("<", start);
  const end = found < 0 ? xml.text.length : found;
  xml.at = end;
  if (xml.stack.length === 0) {
    if (xml.text.slice(start, end).trim() !== "") throw broken(xml.part, "text outside its root");
    return false;
  }
  xml.bare = !checkReferences(xml, start, end) && !xml.returns;
  xml.kind = "text";
  xml.literal = false;
  xml.end = end;
  return true;
}

function readLiteral(xml: Xml, start: number): boolean {
  if (xml.stack.length === 0) throw broken(xml.part, "text outside its root");
  xml.at = after(xml, "]]>", start + 9);
  xml.kind = "text";
  xml.literal = true;
  xml.end = xml.at;
  return true;
}

function readClose(xml: Xml, start: number): boolean {
  const open = xml.stack.pop();
  if (open === undefined || !xml.text.startsWith(open, start + 2)) throw mismatch(xml, start);
  const end = skipSpace(xml.text, start + 2 + open.length);
  if (xml.text.charCodeAt(end) !== GREATER) throw mismatch(xml, start);
  xml.at = end + 1;
  xml.end = end + 1;
  xml.kind = "close";
  xml.name = localName(open);
  return true;
}

function readOpen(xml: Xml, start: number): boolean {
  const { text } = xml;
  if (xml.stack.length === 0 && xml.rooted) throw mismatch(xml, start);
  const nameTo = nameEnd(text, start + 1);
  if (nameTo === start + 1) throw mismatch(xml, start);
  const name = text.slice(start + 1, nameTo);
  const at = readAttributes(xml, start, nameTo);
  xml.empty = text.charCodeAt(at) === SLASH;
  if (xml.empty && text.charCodeAt(at + 1) !== GREATER) throw mismatch(xml, start);
  xml.at = xml.end = xml.empty ? at + 2 : at + 1;
  if (!xml.empty) xml.stack.push(name);
  xml.rooted = true;
  xml.kind = "open";
  xml.name = localName(name);
  return true;
}

/** Notes the attributes of a tag and returns where they end. */
function readAttributes(xml: Xml, start: number, nameTo: number): number {
  const { text, attributes } = xml;
  let count = 0;
  let letters = 0;
  let alike = false;
  for (let at = nameTo; ;) {
    const from = skipSpace(text, at);
    const mark = text.charCodeAt(from);
    if (mark === GREATER || mark === SLASH) {
      xml.count = count;
      if (alike && hasTwice(xml)) throw mismatch(xml, start);
      return from;
    }
    const to = nameEnd(text, from);
    const equals = skipSpace(text, to);
    if (from === at || to === from || text.charCodeAt(equals) !== EQUALS)
      throw mismatch(xml, start);
    // Only names that begin alike can be the same; a bit for each letter tells.
    const bit = 1 << (mark & 31);
    alike ||= (letters & bit) !== 0;
    letters |= bit;
    const value = skipSpace(text, equals + 1) + 1;
    const end = valueEnd(xml, value);
    attributes[count] = from;
    attributes[count + 1] = to;
    attributes[count + 2] = value;
    attributes[count + 3] = end;
    count += 4;
    at = end + 1;
  }
}

/** Whether an attribute is there twice. */
function hasTwice({ text, attributes, count }: Xml): boolean {
  const names = new Set<string>();
  for (let at = 0; at < count; at += 4) {
    names.add(text.slice(attributes[at], attributes[at + 1]));
  }
  return names.size * 4 < count;
}

/** End of an attribute's value, whose quote stands before `from`. */
function valueEnd(xml: Xml, from: number): number {
  const quote = xml.text.charCodeAt(from - 1);
  if (quote !== QUOTE && quote !== APOSTROPHE) throw mismatch(xml, from);
  for (let at = from; at < xml.text.length; at += 1) {
    const code = xml.text.charCodeAt(at);
    if (code === LESS) break;
    if (code === quote) {
      checkReferences(xml, from, at);
      return at;
    }
  }
  throw mismatch(xml, from);
}

function nameEnd(text: string, from: number): number {
  for (let at = from; ; at += 1) {
    const code = text.charCodeAt(at);
    const ends = code <= SPACE || code === GREATER || code === SLASH || code === EQUALS;
    // A position past the end gives NaN, which is no name either.
    if (ends || code === LESS || code === QUOTE || Number.isNaN(code)) return at;
  }
}

function skipSpace(text: string, from: number): number {
  for (let at = from; ; at += 1) {
    const code = text.charCodeAt(at);
    if (code !== SPACE && code !== 10 && code !== 13 && code !== 9) return at;
  }
}

function localName(name: string): string {
  const colon = name.length === 1 ? -1 : name.indexOf(":");
  return colon < 0 ? name : name.slice(colon + 1);
}

function mismatch(xml: Xml, at: number): Error {
  return broken(xml.part, `its XML is not well formed at character ${at + 1}`);
}

/** Whether there are references from here to there; those that workbooks never need are refused. */
function checkReferences(xml: Xml, from: number, to: number): boolean {
  if (xml.ampersand < from) xml.ampersand = ampersandFrom(xml.text, from);
  const found = xml.ampersand < to;
  while (xml.ampersand < to) {
    const end = xml.text.indexOf(";", xml.ampersand);
    const name = xml.text.slice(xml.ampersand + 1, Math.min(end, xml.ampersand + 12));
    if (end < 0 || end > to || character(name) === null) {
      throw broken(xml.part, "it holds an entity that workbooks never need");
    }
    xml.ampersand = ampersandFrom(xml.text, end);
  }
  return found;
}

function ampersandFrom(text: string, from: number): number {
  const found = text.indexOf("&", from);
  return found < 0 ? text.length : found;
}

/** Reads on to the end of the element just opened and returns the text directly inside it. */
export function content(xml: Xml): string {
  if (xml.empty) return "";
  const depth = xml.stack.length;
  let text = "";
  while (next(xml)) {
    if (xml.kind === "text" && xml.stack.length === depth) text += textOf(xml);
    else if (xml.kind === "close" && xml.stack.length < depth) break;
  }
  return text;
}

/** The text of a text token. */
function textOf(xml: Xml): string {
  if (xml.literal) return said(xml, xml.start + 9, xml.end - 3);
  const raw = said(xml, xml.start, xml.end);
  return xml.bare ? raw : plain(raw);
}

/** Visits each element directly inside the one just opened and stops behind its end. */
export function eachChild(xml: Xml, visit: (xml: Xml) => void): void {
  if (xml.empty) return;
  const depth = xml.stack.length;
  while (next(xml)) {
    if (xml.kind === "close" && xml.stack.length < depth) return;
    if (xml.kind !== "open") continue;
    visit(xml);
    skipTo(xml, depth);
  }
}

/** Reads on until no more than so many elements are open. */
export function skipTo(xml: Xml, depth: number): void {
  while (xml.stack.length > depth && next(xml));
}

/** Moves to the root element, which must have that name. */
export function openRoot(xml: Xml, name: string): void {
  if (!next(xml) || xml.kind !== "open" || xml.name !== name) {
    throw broken(xml.part, `it is no ${name}`);
  }
}
