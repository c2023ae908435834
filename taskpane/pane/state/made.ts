import { keyOf } from "../../../src/book/workbook/cells.ts";
import type { Plan } from "../../../src/book/workbook/plan.ts";
import { OUR_NAMES } from "../../../src/book/sheets/our-sheets.ts";
import type { Place } from "../../host.ts";

/**
 * Where to look once plans are done: at the first sheet of results, else at the first new column; null where
 * neither was made. The sheets that come along with any first change are not what was asked for.
 */
export function placeMade(plans: readonly Plan[]): Place | null {
  const edits = plans.flatMap((plan) => plan.edits);
  for (const edit of edits) {
    if (edit.kind === "addSheet" && !comesAlong(edit.sheet)) {
      return { sheet: edit.sheet, row: 0, column: 0 };
    }
  }
  for (const edit of edits) {
    if (edit.kind !== "addColumn") continue;
    const { sheet, headerRow, cells } = edit;
    return { sheet, row: headerRow, column: cells.column };
  }
  return null;
}

function comesAlong(sheet: string): boolean {
  const name = keyOf(sheet.replace(/ \(\d+\)$/, ""));
  return OUR_NAMES.some((one) => keyOf(one) === name);
}
