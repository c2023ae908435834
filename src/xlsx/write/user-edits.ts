import type { CellValue } from "../../book/workbook/snapshot.ts";
import { finish } from "./apply.ts";
import { newChange, sheetDraft } from "./change.ts";
import { checkSaved } from "./check.ts";
import { writeDraft } from "../package/draft.ts";
import type { OpenWorkbook } from "../read/open.ts";
import { originOf, writeUserEdit } from "./sheet-draft.ts";

/** A cell as somebody left it in a grid. */
export interface UserEdit {
  readonly sheet: string;
  readonly row: number;
  readonly column: number;
  readonly value: CellValue;
  /** Without "="; null for a plain value; "kept" where only the result is another one. */
  readonly formula: { readonly text: string; readonly live: boolean } | "kept" | null;
  /** Number format code; null leaves the cell's own. */
  readonly format: string | null;
  /** How many cells the formula fills, its own included; absent when it is one. */
  readonly spill?: { readonly rows: number; readonly columns: number };
}

/**
 * The bytes of the workbook with cells as somebody left them; everything else keeps its bytes, and the
 * result is read back and compared as after a plan.
 *
 * @throws WorkbookError if a cell belongs to somebody else's array formula, or the check fails.
 */
export function applyUserEdits(open: OpenWorkbook, cells: readonly UserEdit[]): Uint8Array {
  const change = newChange(open.file, open.book);
  for (const { sheet, row, column, value, formula, format, spill } of cells) {
    const kept = formula === "kept";
    const plain = originOf({ kind: "alone" }, kept || formula === null ? undefined : formula);
    const origin = {
      ...plain,
      format,
      ...(kept ? { keeps: true as const } : {}),
      ...(spill ? { spill } : {}),
    };
    writeUserEdit(sheetDraft(change, sheet), row, { column, value, origin });
  }
  finish(change);
  const bytes = writeDraft(change.draft);
  checkSaved(bytes, change);
  return bytes;
}
