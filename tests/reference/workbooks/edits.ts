import { strFromU8, strToU8, unzipSync, zipSync } from "fflate";
import type { ColumnCells, Edit } from "../../../src/book/workbook/plan.ts";
import type { Sheet } from "../../../src/book/workbook/snapshot.ts";
import { applyPlan, openWorkbook } from "../../../src/xlsx/index.ts";
import { partsOf } from "./package-rules.ts";

/** The sheet of the blank book the tests begin with. */
export const SHEET_NAME = "One";

/** Values and formulas for a sheet, nothing expected of it. */
export function fill(blocks: readonly ColumnCells[], sheet = SHEET_NAME): Edit {
  return { kind: "fillCells", sheet, blocks, expects: {} };
}

/** The bytes of a book after a few edits. */
export function after(bytes: Uint8Array, ...edits: Edit[]): Uint8Array {
  return applyPlan(openWorkbook(bytes), { summary: "x", edits });
}

/** The first sheet of a book. */
export function sheetOf(bytes: Uint8Array): Sheet {
  const [sheet] = openWorkbook(bytes).snapshot.sheets;
  if (!sheet) throw new Error("no sheet");
  return sheet;
}

/** The text of a part. */
export function part(bytes: Uint8Array, name: string): string {
  return strFromU8(partsOf(bytes).get(name) ?? new Uint8Array());
}

/** The book with the text of a part changed. */
export function withPart(
  bytes: Uint8Array,
  name: string,
  change: (text: string) => string,
): Uint8Array {
  const files = unzipSync(bytes);
  return zipSync({ ...files, [name]: strToU8(change(strFromU8(files[name] ?? new Uint8Array()))) });
}
