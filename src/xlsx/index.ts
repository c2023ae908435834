import { refusals } from "../book/expect.ts";
import type { Plan } from "../book/plan.ts";
import type { Snapshot } from "../book/snapshot.ts";
import { applyEdit, finish } from "./apply.ts";
import { blankBytes } from "./blank.ts";
import { newChange } from "./change.ts";
import { checkSaved } from "./check.ts";
import { type Codec, plainCodec } from "./codec.ts";
import { writeDraft } from "./draft.ts";
import { WorkbookError } from "./errors.ts";
import { type Limits, LIMITS } from "./limits.ts";
import { openPackage, type Package } from "./package.ts";
import { type Book, readBook } from "./read-book.ts";
import { checkSheetName } from "./new-sheet.ts";

export type { Codec } from "./codec.ts";
export { WorkbookError } from "./errors.ts";
export { applyLeft, type LeftCell } from "./left.ts";
export { partsHolding, withoutPanes } from "./traces.ts";
export type { CellLook, SheetView, View } from "./view.ts";
export { viewOf } from "./view.ts";

/** A workbook file that was opened: what it holds, and what saving needs. */
export interface OpenWorkbook {
  readonly snapshot: Snapshot;
  readonly file: Package;
  readonly book: Book;
  readonly limits: Limits;
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

function openAny(bytes: Uint8Array, options: OpenOptions, sheetless: boolean): OpenWorkbook {
  const limits = { ...LIMITS, ...options.limits };
  const file = openPackage(bytes, options.codec ?? plainCodec, limits);
  const book = readBook(file, limits, sheetless);
  return { snapshot: book.snapshot, file, book, limits };
}

/**
 * The bytes of the workbook with a plan applied. Parts the plan does not touch keep their bytes; the
 * result is read back and compared before it is handed over.
 *
 * @throws WorkbookError if the workbook is not as the plan expects it, or the check fails.
 */
export function applyPlan(open: OpenWorkbook, plan: Plan): Uint8Array {
  const reasons = refusals(open.snapshot, plan);
  if (reasons.length > 0) {
    throw new WorkbookError(`Nothing was changed: ${reasons.join("; ")}.`);
  }
  const change = newChange(open.file, open.book);
  for (const edit of plan.edits) applyEdit(change, edit);
  finish(change);
  const bytes = writeDraft(change.draft);
  checkSaved(bytes, change, open.limits);
  return bytes;
}

/** The bytes of an empty workbook with one sheet. */
export function blankWorkbook(sheet: string, dateSystem: 1900 | 1904 = 1900): Uint8Array {
  checkSheetName(sheet);
  return blankBytes(sheet, dateSystem, plainCodec);
}

/** The bytes of a workbook made by a plan alone; the sheets the plan adds are all it has. */
export function newWorkbook(
  plan: Plan,
  options: OpenOptions & { readonly dateSystem?: 1900 | 1904 } = {},
): Uint8Array {
  if (!plan.edits.some(({ kind }) => kind === "addSheet")) {
    throw new WorkbookError("A new workbook needs at least one sheet: add one to the plan.");
  }
  const blank = blankBytes(null, options.dateSystem ?? 1900, options.codec ?? plainCodec);
  return applyPlan(openAny(blank, options, true), plan);
}
