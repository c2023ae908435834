import { describe, expect, it } from "vitest";
import { doubtsSay } from "../../../../src/book/records/doubts.ts";
import { on, readSheets, sheetOf, type Typed } from "../../../scenes/scene.ts";

/** Told on the first lines; invented registers, the electrode set of ours lasts six months at most. */
function said(intervals: readonly Typed[], heading = "Electrode interval (months)"): string {
  const rows = intervals.map((own, at): Typed[] => [`H-${at + 1}`, on("2026-05-04"), own]);
  return doubtsSay(
    readSheets([sheetOf("Kit", [["Device", "Electrode set replaced", heading], ...rows])]),
  ).join(" ");
}

describe("a column of intervals of its own that does nothing", () => {
  it.each([
    ["is empty", [null, null, null], "holds no interval in any row: ours alone count"],
    ["holds weeks", [9, 9, 9, 13], 'is shorter than our longest, 6 months, such as "9"'],
    ["is past belief", [60, 60, 60], 'is shorter than our longest, 6 months, such as "60"'],
    ["is text", ["2 w", "2 w", "2 w"], 'can be read, such as "2 w": it is no whole number'],
    ["is filled downwards", [2, 3, 4, 5, 6], "change by 1 from row to row"],
  ] as [string, Typed[], string][])("is told above all else where it %s", (_, own, words) => {
    expect(said(own)).toContain(words);
  });

  it("reads the unit of its heading", () => {
    expect(said([1, 1, 1], "Electrode interval (years)")).toContain("No interval under");
    expect(said([9, 9, 9], "Electrode interval (weeks)")).toBe("");
  });

  it.each([
    ["one row is stricter", [2, 9, 9, 9]],
    ["all are the same as ours", [6, 6, 6]],
    ["dashes say that there is none", ["-", "-", "-"]],
    ["four numbers rise by chance", [2, 3, 4, 5]],
    ["there are two rows", [null, null]],
  ] as [string, Typed[]][])("is not told where %s", (_, own) => {
    expect(said(own)).not.toMatch(/holds no interval|No interval under|from row to row/);
  });
});
