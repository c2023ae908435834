import { describe, expect, it } from "vitest";
import { yearBefore } from "../../../src/book/year/past.ts";
import { partOf, small, yearOf } from "../../scenes/programme.ts";
import { jobOf } from "../../scenes/scene.ts";

describe("the year before, from the Job log", () => {
  // The report date is 6 July 2026: the months ahead are July 2026 to July 2027. Counted by hand.
  const programme = small([{ id: "D1" }, { id: "D2" }], {
    ours: {
      jobs: [
        jobOf("D1", "SET", "2025-07-06"),
        jobOf("D1", "SET", "2025-07-07"),
        jobOf("D2", "SET", "2025-12-31"),
        jobOf("D2", "SET", "2026-01-01", { complete: false }),
        jobOf("D1", "SET", "2026-07-06"),
        jobOf("D1", "SET", "2026-07-07"),
        jobOf("D1", "SET", "2026-03-01", { job: "inspected", finding: "clean" }),
      ],
    },
  });

  it("stands each replacement beside its month a year on, those of the twelve months alone", () => {
    const year = yearOf(programme);
    expect(yearBefore(year, partOf(year, "SET").part)).toEqual([
      1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 0, 0, 1,
    ]);
  });

  it("is unknown, not nought, for a part that the log has nothing of", () => {
    const year = yearOf(programme);
    expect(yearBefore(year, partOf(year, "CUSHION").part)).toBeNull();
  });
});
