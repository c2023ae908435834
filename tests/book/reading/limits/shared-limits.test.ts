import { describe, expect, it } from "vitest";
import { readBook } from "../../../../src/book/reading/read.ts";
import { doubtsSay } from "../../../../src/book/records/doubts.ts";
import { bookOf, on, oursOf, sheetOf, type Typed } from "../../../scenes/scene.ts";

const LAST = ["2026-05-04", "2026-05-11", "2026-05-20"].map(on);

/** What is said first of a limit without a part's name; invented layouts. */
function said(headings: readonly string[], limits: readonly Typed[]): string[] {
  const dates = headings.length - 2;
  const rows = limits.map((limit, at): Typed[] => [
    `H-${at + 1}`,
    ...Array.from({ length: dates }, () => LAST[at] ?? null),
    limit,
  ]);
  const book = bookOf([sheetOf("Kit", [headings, ...rows])]);
  return doubtsSay(readBook(book, oursOf()));
}

const TWO = ["Device", "Electrodes replaced", "Ear cushions replaced"];

describe("a limit behind the dates of several parts", () => {
  it("is told first, since it counts for the last alone", () => {
    expect(said([...TWO, "Interval (months)"], [2, 2, 2])[0]).toMatch(
      /^"Interval \(months\)" counts for CUSHION alone, and may be the limit of "Electrodes replaced" too/,
    );
    expect(said([...TWO, "Calibrated", "Interval"], [2, 2, 2])[0]).toMatch(
      /^"Interval" counts for CALIBRATION alone, and may be the limit of "Electrodes replaced" and "Ear cushions replaced" too/,
    );
    const due = ["2026-06-01", "2026-06-01", "2026-06-01"].map(on);
    expect(said([...TWO, "Next due"], due)[0]).toMatch(/^"Next due" counts for CUSHION alone/);
  });

  it.each([
    ["none is stricter for the others", [...TWO, "Interval (months)"], [9, 9, 9]],
    [
      "its dates are whole months after the last's own",
      [...TWO, "Next due"],
      ["2026-07-04", "2026-07-11", "2026-07-20"].map(on),
    ],
    ["its heading names the part", [...TWO, "Cushion interval (months)"], [2, 2, 2]],
  ] as [string, string[], Typed[]][])("is not told where %s", (_, headings, limits) => {
    expect(said(headings, limits)).toEqual([]);
  });

  it("before all dates is told first too, and compared with none", () => {
    const headings = ["Device", "Site", "Next due", "Electrodes replaced", "Ear cushions replaced"];
    const rows: Typed[][] = [["A", "S01", on("2026-06-01"), on("2026-05-04"), on("2026-05-04")]];
    const [first] = doubtsSay(readBook(bookOf([sheetOf("Kit", [headings, ...rows])]), oursOf()));
    expect(first).toMatch(/^It is not clear of which dates "Next due" is the limit/);
  });
});
