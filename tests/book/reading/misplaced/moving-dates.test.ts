import { describe, expect, it } from "vitest";
import { judge } from "../../../../src/book/columns/judge.ts";
import { readBook } from "../../../../src/book/reading/read.ts";
import { cellKey, type Sheet } from "../../../../src/book/workbook/snapshot.ts";
import { bookOf, on, oursOf, sheetOf } from "../../../scenes/scene.ts";

/** A register whose date of VR-01 is given by a formula; its stored result is the report date. */
function withFormula(formula: string, more: Sheet[] = []): { kinds: string[]; state: string } {
  const rows = [
    ["Device", "Site", "Electrode set replaced", "Helper"],
    ["VR-01", "S01", on("2026-06-30"), on("2026-06-30")],
    ["VR-02", "S01", on("2026-05-04"), null],
    ["VR-03", "S01", on("2026-05-04"), null],
  ];
  const formulas = new Map([
    [cellKey(1, 2), formula],
    [cellKey(1, 3), "TODAY()-DAY(1)"],
  ]);
  const snapshot = bookOf([sheetOf("Equipment", rows, { formulas }), ...more]);
  const reading = readBook(snapshot, oursOf());
  const [part] = reading.ours.parts;
  if (part === undefined) throw new Error("no part");
  const state = judge(snapshot, reading).rows(part)[0]?.answers.state ?? "";
  const kinds = reading.problems.filter(({ row, column }) => row === 1 && column === 2);
  return { kinds: kinds.map(({ kind }) => kind), state };
}

describe("a date that a formula moves on by itself", () => {
  it.each([
    "TODAY()",
    "NOW()",
    "today ( )",
    "TODAY()-30",
    'IF(B2="","",TODAY())',
    "$D$2",
    "D2+1",
    "Equipment!D2",
    "'Date''s sheet'!A1",
    "INT(RAND()*1000)+46000",
  ])("=%s is told and never a last replacement", (formula) => {
    const other = sheetOf("Date's sheet", [[on("2026-06-30")]], {
      formulas: new Map([[cellKey(0, 0), "NOW()"]]),
    });
    expect(withFormula(formula, [other])).toEqual({ kinds: ["moving date"], state: "Check row" });
  });
  it.each([
    "DATE(2026,6,30)",
    "C3+57",
    "EDATE(C3,1)",
    'IF(B2="TODAY()",C3,C3)',
    "MAX(C3:C4)",
    "Missing!D2",
  ])("=%s is a date like any other", (formula) => {
    const { kinds, state } = withFormula(formula);
    expect(kinds).not.toContain("moving date");
    expect(state).toBe("Not due");
  });
  it("that refers to itself comes to an end", () => {
    expect(withFormula("C2").state).toBe("Not due");
  });
});
