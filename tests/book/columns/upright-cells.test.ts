import { describe, expect, it } from "vitest";
import { uprightPlan } from "../../../src/book/columns/upright-cells.ts";
import { matcherFor } from "../../../src/book/headings/match.ts";
import { upright } from "../../../src/book/headings/upright.ts";
import { pagesOf } from "../../../src/book/workbook/cells.ts";
import { cellKey, type CellValue, type Sheet } from "../../../src/book/workbook/snapshot.ts";
import { day } from "../../../src/core/day.ts";
import { bookOf, on, oursOf, sheetOf } from "../../scenes/scene.ts";

/** The rows of the new sheet, and what is told of it. */
function made(more: Partial<Sheet> = {}): {
  readonly rows: readonly (readonly CellValue[])[];
  readonly told: readonly string[];
} {
  const grid = sheetOf(
    "Grid",
    [
      ["Device", "D-1", "D-2"],
      ["Site", "Oak", null],
      ["Electrodes replaced", on("2026-05-04"), on("2026-05-05")],
      ["Ear cushions replaced", on("2026-02-04"), null],
    ],
    more,
  );
  const book = bookOf([grid]);
  const found = upright(pagesOf(book), matcherFor(oursOf().parts));
  if (found === null) throw new Error("no rows");
  const { plan, told } = uprightPlan(book, found);
  const cells = plan.edits.flatMap((edit) => (edit.kind === "addSheet" ? edit.cells : []));
  const at = (row: number, column: number): CellValue =>
    cells.find((cell) => cell.row === row && cell.column === column)?.value ?? null;
  return { rows: [0, 1, 2].map((row) => [0, 1, 2, 3, 4].map((column) => at(row, column))), told };
}

const HEADINGS = ["Device", "Site", "Electrodes replaced", "Ear cushions replaced"];
const [FIRST, SECOND, CUSHION] = ["2026-05-04", "2026-05-05", "2026-02-04"].map(day);

describe("a sheet made of columns", () => {
  it("has their cells as they are", () => {
    expect(made()).toEqual({
      rows: [
        [...HEADINGS, null],
        ["D-1", "Oak", FIRST, CUSHION, null],
        ["D-2", null, SECOND, null, null],
      ],
      told: [],
    });
  });

  it("has the text of merged cells in each, and no date of them", () => {
    const merges = [1, 2, 3].map((row) => ({
      ...{ firstRow: row, lastRow: row },
      ...{ firstColumn: 1, lastColumn: 2 },
    }));
    expect(made({ merges }).rows[2]).toEqual([
      ...["D-2", "Oak", "2026-05-04, from merged cells", "2026-02-04, from merged cells", null],
    ]);
  });

  it.each<[string, Partial<Sheet>]>([
    ["2026-05-04, struck out", { struck: new Set([cellKey(2, 1)]) }],
    ["2026-05-04, given by a formula", { formulas: new Map([[cellKey(2, 1), "TODAY()"]]) }],
    ['2026-05-04, comment "not sure"', { comments: new Map([[cellKey(2, 1), "not sure"]]) }],
  ])("has no date that does not simply hold: %s", (text, more) => {
    expect(made(more).rows[1]?.[2]).toBe(text);
  });

  it("has what people wrote to the cells of a device in a column of its own", () => {
    const { rows } = made({ comments: new Map([[cellKey(3, 2), "none fitted"]]) });
    expect(rows.map((row) => row[4])).toEqual(["Remarks", null, 'comment to C4 "none fitted"']);
  });

  it("tells lines through its cells", () => {
    expect(made({ struck: new Set([cellKey(0, 1)]) }).told).toEqual([
      "Grid has cells with a line through them: dates among them are in doubt, devices count as in service.",
    ]);
  });
});
