import { type Codec, plainCodec } from "../file/codec.ts";
import { type Limits, LIMITS } from "../file/limits.ts";
import { typeIn, TYPES } from "../package/content-types.ts";
import { openPackage, type Package, readPart } from "../package/package.ts";
import type { Snapshot } from "../../book/workbook/snapshot.ts";
import { type Book, readBook } from "./read-book.ts";

/** A workbook file that was opened: what it holds, and what saving needs. */
export interface OpenWorkbook {
  readonly snapshot: Snapshot;
  readonly file: Package;
  readonly book: Book;
}

/** The ending a workbook's file must have: programs refuse one made for macros under .xlsx, and the reverse. */
export function bookEnding({ file, book }: OpenWorkbook): ".xlsx" | ".xlsm" {
  const type = typeIn(readPart(file, TYPES), book.path) ?? "";
  return type.includes("macroEnabled") ? ".xlsm" : ".xlsx";
}

/** How a file is opened. */
export interface OpenOptions {
  /** A faster codec, such as node:zlib's; both must be raw deflate. */
  readonly codec?: Codec;
  readonly limits?: Partial<Limits>;
}

/**
 * Reads the bytes of an .xlsx or .xlsm file.
 *
 * @throws WorkbookError if it is no workbook, or one that must not be changed.
 */
export function openWorkbook(bytes: Uint8Array, options: OpenOptions = {}): OpenWorkbook {
  return openAny(bytes, options, false);
}

/** The same; a book without sheets is one too where a plan is about to add them. */
export function openAny(bytes: Uint8Array, options: OpenOptions, sheetless: boolean): OpenWorkbook {
  const limits = { ...LIMITS, ...options.limits };
  const file = openPackage(bytes, options.codec ?? plainCodec, limits);
  const book = readBook(file, limits, sheetless);
  return { snapshot: book.snapshot, file, book };
}
