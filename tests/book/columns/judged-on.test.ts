import { describe, expect, it } from "vitest";
import { columnsPlan } from "../../../src/book/columns/columns-plan.ts";
import type { Mode } from "../../../src/book/columns/our-column.ts";
import { readWorkbook } from "../../../src/book/reading/workbook.ts";
import {
  cellKey,
  sheetNamed,
  type Snapshot,
  valueAt,
} from "../../../src/book/workbook/snapshot.ts";
import { day, type Day } from "../../../src/core/day.ts";
import { bookOf, on, sheetOf } from "../../scenes/scene.ts";
import { onPaper } from "../../taskpane/paper.ts";

const BARE = bookOf([
  sheetOf("Kit", [
    ["Device", "Electrode set replaced", "Ear cushion replaced"],
    ["A-1", on("2026-05-04"), on("2026-05-04")],
    ["A-2", on("2026-05-04"), on("2026-05-04")],
  ]),
]);

function withColumns(book: Snapshot, reportDate: Day, mode: Mode): Snapshot {
  const reading = readWorkbook(book, reportDate, { reportDate });
  return onPaper(book, columnsPlan(book, reading, { mode, today: reportDate, force: false }));
}

/** The column at the end of ours: its heading, its cells, and the formula of the first. */
function judged(book: Snapshot) {
  const sheet = sheetNamed(book, "Kit");
  if (sheet === null) throw new Error("no register");
  const column = (sheet.values[0]?.length ?? 0) - 1;
  return {
    heading: valueAt(sheet, 0, column),
    cells: [1, 2].map((row) => valueAt(sheet, row, column)),
    formula: sheet.formulas.get(cellKey(1, column)) ?? null,
  };
}

describe("the day the states hold as of", () => {
  const [june, july] = [day("2026-06-30"), day("2026-07-06")];
  it.each(["portable", "live", "values"] as const)("stands beside them in each row: %s", (mode) => {
    const formula = mode === "values" ? null : "SpareReportDate";
    const first = withColumns(BARE, june, mode);
    expect(judged(first)).toEqual({ heading: "Judged on", cells: [june, june], formula });
    const later = withColumns(first, july, mode);
    expect(judged(later)).toEqual({ heading: "Judged on", cells: [july, july], formula });
  });
});
