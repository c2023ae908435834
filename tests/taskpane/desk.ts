import { columnsPlan } from "../../src/book/columns/columns-plan.ts";
import { REPORT_DATE } from "../../src/book/demo/programme.ts";
import { DEMO_SEED, demoBook } from "../../src/book/demo/workbook.ts";
import type { Edit, Plan } from "../../src/book/workbook/plan.ts";
import type { Sheet, Snapshot } from "../../src/book/workbook/snapshot.ts";
import { readWorkbook } from "../../src/book/reading/workbook.ts";
import { excelHost } from "../../taskpane/excel/host.ts";
import type { Host } from "../../taskpane/host.ts";
import { emptyPaper, onPaper } from "./paper.ts";
import type { StandIn } from "../stand-in/install.ts";
import { type BookModel, modelOf } from "../stand-in/model.ts";
import { standInFor } from "../stand-in/script.ts";

/** Our host over Excel's own script, over a workbook in memory. */
export interface Desk extends StandIn {
  readonly model: BookModel;
  readonly host: Host;
}

/** Excel over a workbook, and our host over it. */
export function deskOf(book: Snapshot, groupsUndo = false, version?: string): Desk {
  const model = modelOf(book);
  const standIn = standInFor(model, version);
  const host = excelHost({ locale: "en", live: true, groupsUndo });
  return { ...standIn, model, host };
}

/** The demonstration's untidy book. */
export const DEMO = onPaper(emptyPaper(), demoBook(DEMO_SEED, true).plan);

/** The plan of the register's columns, with formulas. */
export function columnsOn(book: Snapshot): Plan {
  const reading = readWorkbook(book, REPORT_DATE, { reportDate: REPORT_DATE });
  return columnsPlan(book, reading, { mode: "portable", today: REPORT_DATE, force: false });
}

/** A book of these sheets alone. */
export function bookOf(...sheets: readonly Sheet[]): Snapshot {
  return { ...emptyPaper(), sheets };
}

/** A plan of these edits. */
export function planOf(...edits: readonly Edit[]): Plan {
  return { summary: "tried", edits };
}

/** Texts for cells of column A. */
export function fill(sheet: string, rows: readonly number[], values: readonly string[]): Edit {
  return { kind: "fillCells", sheet, blocks: [{ column: 0, rows, values }], expects: {} };
}

/** What an attempt fails with. */
export async function faultOf(done: Promise<unknown>): Promise<string> {
  try {
    await done;
    return "no fault";
  } catch (error) {
    return error instanceof Error ? error.message : String(error);
  }
}
