import { refusals } from "../book/workbook/expect.ts";
import type { Plan } from "../book/workbook/plan.ts";
import { applyEdit, finish } from "./write/apply.ts";
import { blankBytes } from "./write/blank.ts";
import { newChange } from "./write/change.ts";
import { checkRooms } from "./write/rooms.ts";
import { checkSaved } from "./write/check.ts";
import { plainCodec } from "./file/codec.ts";
import { writeDraft } from "./package/draft.ts";
import { WorkbookError } from "./file/errors.ts";
import { openAny, type OpenOptions, type OpenWorkbook } from "./read/open.ts";
import { checkSheetName } from "./write/new-sheet.ts";

export type { Codec } from "./file/codec.ts";
export { checkFileSize } from "./file/read-zip.ts";
export { bookEnding } from "./read/open.ts";
export { type OpenOptions, openWorkbook, type OpenWorkbook } from "./read/open.ts";
export { WorkbookError } from "./file/errors.ts";
export { applyUserEdits, type UserEdit } from "./write/user-edits.ts";
export { partsHolding, withoutPanes } from "./traces.ts";
export type { CellLook, SheetView, View } from "./view/view.ts";
export { viewOf } from "./view/view.ts";

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
  checkRooms(change, plan);
  for (const edit of plan.edits) applyEdit(change, edit);
  finish(change);
  const bytes = writeDraft(change.draft);
  checkSaved(bytes, change);
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
