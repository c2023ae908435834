import { todayOf } from "../../src/book/day/today.ts";
import { readWorkbook } from "../../src/book/reading/workbook.ts";
import { doubtsSay } from "../../src/book/records/doubts.ts";
import type { Reading } from "../../src/book/records/records.ts";
import { JOB_LOG } from "../../src/book/sheets/job-log.ts";
import type { Sheet } from "../../src/book/workbook/snapshot.ts";
import { bookOf, on, REPORT_DATE, sheetOf, type Typed } from "./scene.ts";

/** Workbooks with a Job log of ours: each device has its dates of 1 June 2026, set by its rows. */

export const JUNE = on("2026-06-01");
/** Under the title, the note and the headings. */
export const FIRST_ROW = 3;

/** A register of these devices. */
export function kitOf(...devices: readonly string[]): Sheet {
  return sheetOf("Kit", [
    ["Device", "Site", "Electrode set replaced", "Ear cushion replaced", "Calibrated"],
    ...devices.map((id) => [id, "Alder", JUNE, JUNE, JUNE]),
  ]);
}

/** The Job log with these rows, under our headings or others. */
export function logOf(
  rows: readonly (readonly Typed[])[],
  more: Partial<Sheet> = {},
  headings: readonly Typed[] = JOB_LOG.columns.map(({ heading }) => heading),
): Sheet {
  return sheetOf(JOB_LOG.name, [[JOB_LOG.title], [], headings, ...rows], more);
}

/** Reads such a workbook: parts out of use or in doubt, what is told, and what stands above the list. */
export function readLog(...sheets: readonly Sheet[]): {
  readonly reading: Reading;
  readonly out: readonly string[];
  readonly unsure: readonly string[];
  readonly told: readonly string[];
  readonly before: string;
} {
  const book = bookOf(sheets);
  const reading = readWorkbook(book, REPORT_DATE);
  const { items } = todayOf(book, reading);
  const as = (wanted: string): string[] =>
    items.flatMap(({ state, device, unit }) => (state === wanted ? [`${device} ${unit}`] : []));
  return {
    reading,
    out: as("Overdue"),
    unsure: as("Check row"),
    told: reading.problems.map(({ kind, sheet }) => `${kind} ${sheet}`),
    before: doubtsSay(reading).join(" "),
  };
}
