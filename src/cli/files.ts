import {
  closeSync,
  existsSync,
  fsyncSync,
  openSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  statSync,
  writeSync,
} from "node:fs";
import { isAscii } from "node:buffer";
import { basename, dirname, extname, join } from "node:path";
import process from "node:process";
import { crc32, deflateRawSync, inflateRawSync } from "node:zlib";
import { checkFileSize, type Codec } from "../xlsx/index.ts";
import { keepCopy, type Kept, type Occasion, removeOldCopies } from "./copies.ts";
import { type Decode, readText } from "../book/lists/encoding.ts";
import { isList } from "../book/lists/list-book.ts";
import { asUsage } from "./file-errors.ts";
import { UsageError } from "./io.ts";
import { locked } from "./lock.ts";
import { FOREIGN_ENDINGS } from "./office.ts";
import { barAgainst, fileAt, protectLike, realPath } from "./place.ts";

const UTF8 = new TextEncoder();

/** Node's own zlib: several times faster than one in script. */
export const NODE_CODEC: Codec = {
  // One chunk of the right size saves a copy of the whole part.
  inflate: (bytes, size) =>
    inflateRawSync(bytes, { maxOutputLength: Math.max(size, 1), chunkSize: Math.max(size, 64) }),
  // Level 3 packs a seventh less tightly than the usual 6, and in less than half the time.
  deflate: (bytes) => deflateRawSync(bytes, { level: 3 }),
  crc32: (bytes) => crc32(bytes),
  // A Buffer's text is there ten times sooner than a TextDecoder's; of plain letters, as nearly all parts are, at once.
  decode: ({ buffer, byteOffset, length }) => {
    const bytes = Buffer.from(buffer, byteOffset, length);
    return bytes.toString(isAscii(bytes) ? "latin1" : "utf8");
  },
  encodeInto: (text, bytes) => UTF8.encodeInto(text, bytes).written,
};

/** Texts of other encodings, by node's own decoder. */
export const NODE_DECODE: Decode = (bytes, encoding) => {
  try {
    return new TextDecoder(encoding, { fatal: true, ignoreBOM: true }).decode(bytes);
  } catch {
    return null;
  }
};

/** Endings of the workbooks that are read and written. */
export const BOOK_ENDINGS = [".xlsx", ".xlsm"];

/**
 * The bytes of a file, a workbook unless other endings are said; how large it is, and that it is a file at
 * all, is looked at before.
 */
export function readFile(
  path: string,
  endings: readonly string[] = BOOK_ENDINGS,
  otherwise: (path: string) => string = notABook,
): Uint8Array {
  if (!endings.includes(extname(path).toLowerCase())) throw new UsageError(otherwise(path));
  return bytesOf(path);
}

/** The text of a file, whatever encoding it has. */
export function textOfFile(path: string): string {
  return readText(bytesOf(path), NODE_DECODE).text;
}

function bytesOf(path: string): Uint8Array {
  try {
    const found = fileAt(path);
    if (found !== null) checkFileSize(found.size);
    return readFileSync(path);
  } catch (error) {
    throw asUsage(error, path);
  }
}

/** What comes in another form becomes a workbook first. */
function notABook(path: string): string {
  const ending = extname(path).toLowerCase();
  const must = `${path} must be a .xlsx or .xlsm workbook`;
  const convert = FOREIGN_ENDINGS.includes(ending) ? " --convert" : "";
  if (convert === "" && !isList(path)) return must;
  return `${must}; npx sparespan new BOOK.xlsx --from "${path}"${convert} makes one`;
}

/** Where and how a result is written. */
export interface Target {
  readonly path: string;
  /** The ending its content asks for: programs refuse a workbook that has the other one. */
  readonly ending: string;
  /** Write over a file that is already there. */
  readonly force: boolean;
  /** The input file itself: its bytes as they were read, and what a dated copy is kept for. */
  readonly inPlace: (Occasion & { readonly read: Uint8Array }) | null;
}

/**
 * Writes a file whole or not at all: into a temporary file beside it, flushed, then renamed over. No two
 * runs of ours do so at once, and what was there keeps its protections. Gives the dated copy kept.
 */
export function writeFile(bytes: Uint8Array, target: Target): Kept | null {
  const { path, ending } = target;
  if (extname(path).toLowerCase() !== ending) {
    throw new UsageError(`${path} must end in ${ending}${MACROS[ending] ?? ""}`);
  }
  try {
    const real = realPath(path);
    return locked(real, () => replace(real, bytes, target));
  } catch (error) {
    throw asUsage(error, path);
  }
}

const MACROS: Readonly<Record<string, string>> = {
  ".xlsx": ": the workbook has no macros",
  ".xlsm": ": the workbook is made for macros",
};

function replace(real: string, bytes: Uint8Array, { path, force, inPlace }: Target): Kept | null {
  const isThere = fileAt(real) !== null;
  if (isThere && inPlace === null && !force) {
    throw new UsageError(`${path} already exists; choose another name or give --force`);
  }
  const bar = inPlace === null || force ? null : barAgainst(path);
  if (bar !== null) throw new UsageError(`${bar}, or give --force`);
  removeLeftovers(real);
  const [made, aside] = [temporary(real, "new"), temporary(real, "copy")];
  let kept: Kept | null = null;
  try {
    if (inPlace !== null) refuseChanged(path, inPlace.read);
    writeFlushed(made, bytes);
    if (isThere) protectLike(made, real);
    if (inPlace !== null) {
      kept = keepCopy(real, inPlace.read, inPlace, aside);
      // Writing takes its time, and other programs know nothing of our lock.
      refuseChanged(path, inPlace.read);
    }
    renameSync(made, real);
  } catch (error) {
    for (const path of [made, aside, ...(kept?.isNew === true ? [kept.path] : [])]) {
      rmSync(path, { force: true });
    }
    throw error;
  }
  if (inPlace !== null) removeOldCopies(real);
  return kept;
}

/** A workbook that is written over must be the one that was read. */
function refuseChanged(path: string, read: Uint8Array): void {
  if (statSync(path).size === read.length && Buffer.compare(readFileSync(path), read) === 0) return;
  throw new UsageError(
    `${path} has been changed by another program in the meantime; nothing was saved: run the command again`,
  );
}

function temporary(path: string, what: "new" | "copy"): string {
  return join(dirname(path), `.${basename(path)}.${process.pid}.sparespan-${what}`);
}

/** Removes what a run that was killed left of this file; who holds its lock is alone with it. */
function removeLeftovers(path: string): void {
  const head = `.${basename(path)}.`;
  for (const name of readdirSync(dirname(path))) {
    if (!name.startsWith(head) || !/^\d+\.sparespan-(?:new|copy)$/.test(name.slice(head.length)))
      continue;
    rmSync(join(dirname(path), name), { force: true });
  }
}

function writeFlushed(path: string, bytes: Uint8Array): void {
  const file = openSync(path, "wx");
  try {
    let written = 0;
    while (written < bytes.length) written += writeSync(file, bytes, written);
    fsyncSync(file);
  } finally {
    closeSync(file);
  }
}

/** A path with words put before its ending, the first that is free. */
export function freePath(path: string, words: string): string {
  const extension = extname(path);
  const stem = join(dirname(path), `${basename(path, extension)} ${words}`);
  let free = `${stem}${extension}`;
  for (let count = 2; existsSync(free); count += 1) free = `${stem} (${count})${extension}`;
  return free;
}
