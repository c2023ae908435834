import { describe, expect, it } from "vitest";
import { goneSheets } from "../../../../src/book/reading/our-sheets/gone-sheets.ts";
import { readWorkbook } from "../../../../src/book/reading/workbook.ts";
import { doubtsSay } from "../../../../src/book/records/doubts.ts";
import type { Snapshot } from "../../../../src/book/workbook/snapshot.ts";
import { emptyPaper, onPaper } from "../../../taskpane/paper.ts";
import { steadyPlan, STEADY_DATE } from "../../../scenes/steady-book.ts";

const BOOK = onPaper(emptyPaper(), steadyPlan());
const without = (...names: readonly string[]): Snapshot => ({
  ...BOOK,
  sheets: BOOK.sheets.filter(({ name }) => !names.includes(name)),
});

describe(goneSheets.name, () => {
  it("tells first of all that the Job log is gone", () => {
    const before = doubtsSay(readWorkbook(without("Job log"), STEADY_DATE)).join(" ");
    expect(before).toContain("The sheet Job log is gone: damage that was logged");
  });

  it.each(["Sites", "Holidays", "Shelf"])("tells it of %s in the check", (name) => {
    const reading = readWorkbook(without(name), STEADY_DATE);
    expect(reading.problems.map(({ kind, sheet }) => `${kind} ${sheet}`)).toContain(
      `sheet gone ${name}`,
    );
    expect(doubtsSay(reading).join(" ")).not.toContain("is gone");
  });

  it("tells nothing of a workbook that has them all, or was never ours", () => {
    expect(goneSheets(BOOK)).toEqual([]);
    const theirs = without("Setup", "Parts", "Sites", "Holidays", "Job log", "Shelf");
    expect(goneSheets(theirs)).toEqual([]);
  });

  it("is what refuses a workbook without Parts", () => {
    expect(() => readWorkbook(without("Parts"), STEADY_DATE)).toThrow(
      "The sheet Parts is gone: bring it back from an earlier copy",
    );
  });
});
