import type { ColumnCells, Plan } from "../../book/workbook/plan.ts";
import { checkRoom } from "../package/draft.ts";
import { type Change, sheetDraft } from "./change.ts";

/** Bytes that a filled cell takes at least, such as `<c r="B2" s="3"><v>7</v></c>`. */
const LEAST_A_CELL = 27;

/** Refuses columns with which a sheet could not be opened again, before their cells fill the memory. */
export function checkRooms(change: Change, { edits }: Plan): void {
  const filled = new Map<string, number>();
  for (const edit of edits) {
    if (edit.kind !== "addColumn") continue;
    filled.set(edit.sheet, (filled.get(edit.sheet) ?? 0) + filledIn(edit.cells));
  }
  const before = new Set(change.book.sheets.map(({ sheet }) => sheet.name));
  for (const [name, cells] of filled) {
    if (!before.has(name)) continue;
    const { path, text, content } = sheetDraft(change, name);
    const size = text.length + content.rows.bytes.length;
    checkRoom(path, size + cells * LEAST_A_CELL, change.draft.file.limits);
  }
}

function filledIn({ formula, values }: ColumnCells): number {
  return formula === undefined ? values.filter((value) => value !== null).length : values.length;
}
