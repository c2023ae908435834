import { describe, expect, it } from "vitest";
import { datesInStep } from "../../../../src/book/reading/misplaced/dates-in-step.ts";
import { doubtsSay } from "../../../../src/book/records/doubts.ts";
import { type Day, day, isoText } from "../../../../src/core/day.ts";
import { on, readSheets, sheetOf, type Typed } from "../../../scenes/scene.ts";

/** What is said above every answer of a register with these dates. */
function said(dates: readonly (string | Day)[]): string {
  const rows = dates.map((date, at): Typed[] => [
    `V-${at + 1}`,
    on(typeof date === "string" ? date : isoText(date)),
  ]);
  const head = ["Device", "Electrode set replaced"];
  return doubtsSay(readSheets([sheetOf("Kit", [head, ...rows])])).join(" ");
}

const MONDAY = day("2026-05-11");
const ODD = ["2026-03-17", "2026-04-22", "2026-02-05"];

describe(datesInStep.name, () => {
  it("tells six dates a week apart, which may be a rotation", () => {
    const weeks = Array.from({ length: 6 }, (_, at) => (MONDAY + 7 * at) as Day);
    expect(said([...ODD, ...weeks])).toMatch(
      /^The dates of .* in B5 to B10 go on by one and the same step, .* they count\./u,
    );
    expect(said([...weeks.slice(1), ...ODD])).toBe("");
  });
  it("tells six working days one after another, forwards and backwards", () => {
    const days = [0, 1, 2, 3, 4, 7].map((at) => (MONDAY + at) as Day);
    expect(said([...ODD, ...days])).toContain("B5 to B10");
    expect(said([...days.reverse(), ...ODD])).toContain("B2 to B7");
  });
  it("tells months that fall on working days, or of which each date is the first", () => {
    const dates = ["2025-10-01", "2025-11-01", "2025-12-01", "2026-01-01", "2026-02-01"];
    expect(said([...dates, "2026-03-01"])).toBe("");
  });
});
