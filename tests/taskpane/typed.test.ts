import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { functions } from "../../functions/index.ts";
import { cellKey } from "../../src/book/workbook/snapshot.ts";
import { lostCalls, repairPlan } from "../../taskpane/pane/state/repair.ts";
import { callText, exampleTyped, readTyped } from "../../taskpane/pane/state/typed.ts";
import { onPaper } from "../../taskpane/paper.ts";
import { emptyPaper, paperSheet } from "./paper.ts";
import { cases } from "../cases.ts";

const book = {
  ...emptyPaper(),
  sheets: [
    paperSheet("Counts", [
      ["Month", "Uses"],
      ["a", 4],
      ["b", null],
      ["c", 9],
    ]),
    paperSheet("S01's sheet", [[7]]),
  ],
};
const range = { kind: "number", about: "", takes: "range" } as const;
const single = { kind: "number", about: "" } as const;

describe("what is typed for an argument", () => {
  it("is cells of a sheet, a blank one among them; rows below the last used one are not there", () => {
    expect(readTyped("Counts!B2:B900", range, book)).toEqual({
      cells: [[4], [null], [9]],
      text: "Counts!B2:B900",
    });
    expect(readTyped("'S01''s sheet'!$A$1", single, book)).toEqual({
      cells: [[7]],
      text: "'S01''s sheet'!A1",
    });
  });
  it("is a value: number, date, truth or text", () => {
    expect(readTyped(" 3.5 ", single, book)).toEqual({ cells: 3.5, text: "3.5" });
    expect(readTyped("2026-07-06", single, null)).toEqual({ cells: 46209, text: "DATE(2026,7,6)" });
    expect(readTyped("true", single, null)).toEqual({ cells: true, text: "TRUE" });
    expect(readTyped('a "b"', single, null)).toEqual({ cells: 'a "b"', text: '"a ""b"""' });
    expect(readTyped("2026-02-30", single, null).cells).toBe("2026-02-30");
    expect(readTyped("Nowhere!A1", single, book).cells).toBe("Nowhere!A1");
  });
  it("is several values where the argument takes them", () => {
    expect(readTyped("1; 2026-07-06;x", range, null)).toEqual({
      cells: [1, 46209, "x"],
      text: '{1;46209;"x"}',
    });
    expect(readTyped("1;2", single, null).cells).toBe("1;2");
  });
  it("never throws, whatever it is", () => {
    fc.assert(
      fc.property(fc.string({ unit: "binary" }), (text) => {
        expect(typeof readTyped(text, range, book).text).toBe("string");
      }),
      { numRuns: cases("Texts typed into Excel", 2000, 200) },
    );
  });
  it("begins with the first example of the function, which answers as the example says", () => {
    for (const definition of functions) {
      const [example] = definition.examples;
      const read = exampleTyped(definition).map((text, at) => {
        const arg = definition.args[at];
        if (arg === undefined) throw new Error("no such argument");
        return readTyped(text, arg, null);
      });
      const found = definition.call(read.map(({ cells }) => cells));
      expect([definition.id, found]).toEqual([definition.id, example?.gives]);
    }
  });
  it("is left out of the formula at its end only", () => {
    const blank = { cells: null, text: "" };
    const one = { cells: 1, text: "1" };
    expect(callText("SPAN", [one, blank, one, blank, blank])).toBe("SPARE.SPAN(1,,1)");
  });
});

describe("the repair of cells that show #NAME?", () => {
  const lost = { error: "#NAME?" };
  const sheet = paperSheet("Equipment", [
    ["D1", lost, lost],
    ["D2", lost, lost],
    ["D3", lost, 5],
  ]);
  const formulas = new Map([
    [cellKey(0, 1), "SPARE.SPAN($A1,3,6)"],
    [cellKey(1, 1), "SPARE.SPAN($A2,3,6)"],
    [cellKey(2, 1), "SPARE.SPAN($A$3,3,6)"],
    [cellKey(0, 2), "OTHER.CALL(A1)"],
    [cellKey(1, 2), "SPARE.SPAN(B22,2,2)+B2"],
  ]);
  const before = { ...emptyPaper(), sheets: [{ ...sheet, formulas }] };

  it("finds those that call our functions, and no others", () => {
    expect(lostCalls(before).map(({ row, column }) => [row, column])).toEqual([
      [0, 1],
      [1, 1],
      [1, 2],
      [2, 1],
    ]);
  });
  it("writes the very same formulas anew, in blocks of those that differ by their row alone", () => {
    const plan = repairPlan(before);
    expect(onPaper(before, plan).sheets[0]?.formulas).toEqual(formulas);
    const [edit] = plan.edits;
    expect(edit?.kind === "fillCells" ? edit.blocks.map(({ rows }) => rows) : []).toEqual([
      [0, 1],
      [1],
      [2],
    ]);
    expect(plan.summary).toBe("the same formula again in 4 cells");
  });
});
