import { describe, expect, it } from "vitest";
import { sameFormula } from "../../../src/book/workbook/same-formula.ts";

describe("two formulas", () => {
  it.each([
    ["SUM(A1:A3)", "SUM(A1:A3)"],
    // An implicit intersection, as Excel shows it since it spills (XlsxWriter's issue 980).
    ["IF(Known,1,0)", "IF(@Known,1,0)"],
    ["IF(Known,1,0)", "IF(_xlfn.SINGLE(Known),1,0)"],
    ["A1<1E-9", "A1<0.000000001"],
    ["MAX(1.50,B2)", "MAX(1.5, B2)"],
    ["spare.NextDue(A2,3)", "SPARE.NEXTDUE(A2,3)"],
    [null, null],
  ])("are the same: %s and %s", (one, other) => {
    expect(sameFormula(one, other)).toBe(true);
    expect(sameFormula(other, one)).toBe(true);
  });

  it.each([
    ["A1", "A2"],
    ["A1+1", "A1+10"],
    ['IF(A1="@home",1,2)', 'IF(A1="home",1,2)'],
    ['A1="a b"', 'A1="ab"'],
    ["'My sheet'!A1", "'Mysheet'!A1"],
    ["A1", null],
    ["AB1E5", "AB100000"],
  ])("differ: %s and %s", (one, other) => {
    expect(sameFormula(one, other)).toBe(false);
  });
});
