import { describe, expect, it } from "vitest";
import { beginBook } from "../../../../src/book/reading/begin.ts";
import { ASKED } from "../../../../src/book/reading/read.ts";
import { cellKey, type Sheet } from "../../../../src/book/workbook/snapshot.ts";
import { finished } from "../../../../src/book/workbook/steps.ts";
import { bookOf, on, oursOf, sheetOf, type Typed } from "../../../scenes/scene.ts";

/** What hears people's words is fetched for a register that has some: none may be judged without it. */
function hears(rows: Typed[][], more: Partial<Sheet> = {}): boolean {
  let isAsked = false;
  const ear: typeof ASKED.ear = () => {
    isAsked = true;
    return ASKED.ear();
  };
  const head: Typed[] = ["Device", "Site", "Electrode set replaced", "Uses a month", "Remarks"];
  const snapshot = bookOf([sheetOf("Kit", [head, ...rows], more)]);
  finished(beginBook(snapshot, oursOf(), { ...ASKED, ear }));
  return isAsked;
}

const DATE = on("2026-05-04");

describe("words beside devices", () => {
  it.each([
    ["a remark", [["V-1", "Oak", DATE, 20, "torn"]]],
    ["a box", [["V-1", "Oak", DATE, 20, false]]],
    ["words where a number should be", [["V-1", "Oak", DATE, "cushion torn", null]]],
    ["words behind a name", [["V-1 (retired)", "Oak", DATE, 20, null]]],
    ["words behind a site", [["V-1", "Oak, cushion torn", DATE, 20, null]]],
    ["a column without a heading", [["V-1", "Oak", DATE, 20, null, "torn"]]],
    ["a row of no device", [["V-1", "Oak", DATE, 20], [], [null, null, null, null, "V-1 torn"]]],
  ] as [string, Typed[][]][])("are heard: %s", (_, rows) => {
    expect(hears(rows)).toBe(true);
  });
  it("are comments, too", () => {
    const comments = new Map([[cellKey(1, 2), "not sure"]]);
    expect(hears([["V-1", "Oak", DATE, 20]], { comments })).toBe(true);
  });
  it("are none where there are names, dates and numbers alone", () => {
    expect(
      hears([
        ["V-1", "Oak", DATE, 20, null],
        ["V-2", "Elm", DATE, 30, null],
      ]),
    ).toBe(false);
  });
});
