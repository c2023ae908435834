import type { Plan, SheetCell } from "../../src/book/workbook/plan.ts";
import type { CellValue } from "../../src/book/workbook/snapshot.ts";
import { day } from "../../src/core/day.ts";
import { newWorkbook } from "../../src/xlsx/index.ts";

/** Books of people who keep a log of their own beside a list of devices. */

/** A row as typed; text as yyyy-mm-dd in a dated column becomes a true date. */
export type TypedRow = readonly (string | number | null)[];

const ISO = /^\d{4}-\d{2}-\d{2}$/;

/** A workbook of plain sheets. */
export function typedBook(sheets: Readonly<Record<string, readonly TypedRow[]>>): Uint8Array {
  const plan: Plan = {
    summary: "a typed book",
    edits: Object.entries(sheets).map(([sheet, rows]) => ({
      kind: "addSheet" as const,
      sheet,
      cells: rows.flatMap((row, at) =>
        row.flatMap((value, column): SheetCell[] => {
          if (value === null || value === "") return [];
          const isDate = typeof value === "string" && ISO.test(value);
          const cell: CellValue = isDate ? day(value) : value;
          return [{ row: at, column, value: cell, ...(isDate ? { format: "dd/mm/yyyy" } : {}) }];
        }),
      ),
      widths: [],
      freezeRows: 0,
    })),
  };
  return newWorkbook(plan, { dateSystem: 1900 });
}

/** A list of devices without any date. */
export const DEVICES: readonly TypedRow[] = [
  ["Device", "Site", "Model"],
  ["HS-1", "North", "A"],
  ["HS-2", "North", "A"],
  ["HS-3", "South", "B"],
  ["HS-4", "South", "B"],
];

/** What its people write down, newest last. */
export const DIARY: readonly TypedRow[] = [
  ["When", "Unit", "What was done", "Who"],
  ["2026-03-02", "HS-1", "new electrodes", "ab"],
  ["2026-03-02", "HS-1", "cushion changed", "ab"],
  ["2026-03-09", "HS-2", "New electrodes", "cd"],
  ["2026-03-09", "HS-2", "cleaned", "cd"],
  ["2026-04-01", "HS-3", "replaced earpiece L", "ab"],
  ["2026-04-01", "HS-3", "new electrodes", "ab"],
  ["2026-05-04", "HS-1", "new tips", "ab"],
  ["2026-05-11", "HS-2", "new tips", "cd"],
  ["2026-05-18", "HS-4", "sent for calibration", "cd"],
];
