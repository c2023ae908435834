import { describe, expect, it } from "vitest";
import { reportsIn } from "../../../src/book/sheets/reports.ts";
import { onPaper } from "../../../taskpane/paper.ts";
import { JOBS } from "../../taskpane/contract-jobs.ts";
import { bookOf, DEMO, planOf } from "../../taskpane/desk.ts";
import { paperSheet } from "../../taskpane/paper.ts";

describe("sheets of results", () => {
  it("are told by their line of notes, the latest first", () => {
    const notes = (name: string, note: string) => paperSheet(name, [["Title"], [note]]);
    const book = bookOf(
      notes("Budget", "As of 2026-01-31. A planning aid."),
      notes("Equipment", "As of spring."),
      notes("Evidence", "As of 2026-07-06. Gaps first."),
      notes("Order list", "As of 2026-07-06."),
      { ...notes("Hidden", "As of 2026-07-06."), visibility: "hidden" },
      notes("Notes", "As of 2026-13-4."),
    );
    expect(reportsIn(book)).toEqual([
      { sheet: "Order list", asOf: "2026-07-06" },
      { sheet: "Evidence", asOf: "2026-07-06" },
      { sheet: "Budget", asOf: "2026-01-31" },
    ]);
  });

  it("are told as they are made, with their answer above the notes", () => {
    const order = JOBS["the order list"]?.(DEMO) ?? planOf();
    const made = reportsIn(onPaper(DEMO, order)).map(({ sheet }) => sheet);
    expect(made).toContain("Order list");
  });
});
