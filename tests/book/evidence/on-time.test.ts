import { describe, expect, it } from "vitest";
import { evidenceReport } from "../../../src/book/evidence/report.ts";
import { readBook } from "../../../src/book/reading/read.ts";
import { day } from "../../../src/core/day.ts";
import { bookOf, jobOf, on, oursOf, sheetOf, type Typed } from "../../scenes/scene.ts";

const USUAL = { from: null, to: null, sites: [] } as const;

/** Replacements of one device, on the report date 2026-06-30. */
function turnsOf(heading: string, cell: Typed, last: string, logged: readonly string[] = []) {
  const headings = ["Device", "Electrode set replaced", heading];
  const snapshot = bookOf([sheetOf("Kit", [headings, ["A1", on(last), cell]])]);
  const jobs = logged.map((date) => jobOf("A1", "SET", date));
  return evidenceReport(snapshot, readBook(snapshot, oursOf({}, { jobs })), USUAL).onTime.turns;
}

describe("replacements on time beside what people write", () => {
  it.each(["electrode date unsure", "date unsure"])("stay late with the remark %s", (remark) => {
    expect(turnsOf("Remarks", remark, "2026-03-10")).toMatchObject([
      { began: day("2026-03-10"), done: null },
    ]);
  });

  it("go by an own interval shorter than a month to the day", () => {
    const logged = ["2026-06-01", "2026-06-25"];
    expect(turnsOf("Interval (days)", 14, "2026-06-25", logged)).toMatchObject([
      { due: day("2026-06-15"), daysLate: 10 },
    ]);
  });
});
