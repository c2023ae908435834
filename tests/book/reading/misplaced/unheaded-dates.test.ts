import { describe, expect, it } from "vitest";
import { doubtsSay } from "../../../../src/book/records/doubts.ts";
import { jobOf, on, oursOf, readSheets, sheetOf, type Typed } from "../../../scenes/scene.ts";

const HEADS: readonly Typed[] = ["Device", "Electrode set replaced", "Ear cushion replaced"];
const DAYS = ["2025-09-05", "2026-02-19", "2025-11-07"].map(on);

/** Three devices with dates of two parts and a fourth column; invented. */
function said(heading: Typed, cells: readonly Typed[], ours = oursOf()): string {
  const [first, second] = [on("2026-05-04"), on("2026-04-01")];
  const rows = cells.map((cell, at): Typed[] => [`H-${at + 1}`, first, second, cell]);
  return doubtsSay(readSheets([sheetOf("Kit", [[...HEADS, heading], ...rows])], ours)).join(" ");
}

describe("dates under no heading, beside parts without any", () => {
  it.each([
    ["none", null],
    ["an error", { error: "#REF!" }],
  ] as [string, Typed][])("are told above all else: %s", (_, heading) => {
    expect(said(heading, DAYS)).toContain(
      "Nothing is read from column D, which has no heading and holds dates such as 2025-09-05, and no column says when Calibration was last done.",
    );
    expect(said(heading, DAYS)).toContain('such as "Calibration done".');
  });

  it("are read once they have one", () => {
    expect(said("Calibration done", DAYS)).toBe("");
  });

  it.each([
    ["numbers", [1, 2, 3]],
    ["few dates", [...DAYS.slice(0, 2), null]],
    ["dates in the fewer rows", [...DAYS, null, null, null, null]],
  ] as [string, Typed[]][])("are not told for %s", (_, cells) => {
    expect(said(null, cells)).toBe("");
  });

  it("are not told where the Job log has the part", () => {
    const jobs = [jobOf("H-1", "CALIBRATION", "2026-01-15")];
    expect(said(null, DAYS, oursOf({}, { jobs }))).not.toContain("no heading");
  });
});
