import { describe, expect, it } from "vitest";
import { todayOf } from "../../../src/book/day/today.ts";
import { small } from "../../scenes/programme.ts";
import { jobOf } from "../../scenes/scene.ts";

/** Parts to inspect on Monday 6 July 2026, with inspections of D1's set on these days. */
function toInspect(dates: readonly string[]) {
  const inspected = (date: string) =>
    jobOf("D1", "SET", date, { job: "inspected", finding: "clean", complete: null });
  const { snapshot, reading } = small([{ id: "D1" }, { id: "D2" }], {
    ours: { jobs: dates.map(inspected) },
  });
  const { toInspect: all, inspectionsMissing } = todayOf(snapshot, reading);
  return { all: all.map(({ device, unit }) => `${device} ${unit}`), inspectionsMissing };
}

describe("what is still to inspect this week", () => {
  it("names each part by its device, and counts devices", () => {
    const { all, inspectionsMissing } = toInspect(["2026-07-05"]);
    expect(all).toContain("D1 SET");
    expect(all).toContain("D2 SET");
    expect(inspectionsMissing).toBe(2);
  });

  it("leaves out what was inspected today, though the week may want another day", () => {
    const { all, inspectionsMissing } = toInspect(["2026-07-06"]);
    expect(all).not.toContain("D1 SET");
    expect(all).toContain("D2 SET");
    expect(inspectionsMissing).toBe(2);
  });

  it("is nothing, and unknown, without a log of inspections", () => {
    expect(toInspect([])).toEqual({ all: [], inspectionsMissing: null });
  });
});
