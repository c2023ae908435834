import { describe, expect, it } from "vitest";
import { lastYearOf } from "../../../src/book/budget/last-year.ts";
import { jobIndex, renews } from "../../../src/book/records/job-index.ts";
import { DEFAULT_PARTS } from "../../../src/book/records/parts.ts";
import type { Job, Part } from "../../../src/book/records/records.ts";
import { day } from "../../../src/core/day.ts";
import { JULY, small, yearOf } from "../../scenes/programme.ts";
import { jobOf, oursOf } from "../../scenes/scene.ts";

const [SET, , CALIBRATION] = DEFAULT_PARTS as readonly [Part, Part, Part];

describe("a job renews the part it names", () => {
  it.each([
    ["replaced", true, SET, true],
    ["replaced", false, SET, false],
    ["replaced", null, SET, false],
    ["calibrated", true, SET, false],
    ["inspected", true, SET, false],
    ["withdrawn", null, SET, false],
    ["calibrated", null, CALIBRATION, true],
    ["calibrated", true, CALIBRATION, true],
    ["calibrated", false, CALIBRATION, false],
    ["replaced", null, CALIBRATION, true],
    ["replaced", false, CALIBRATION, false],
    ["inspected", null, CALIBRATION, false],
  ])("%s, complete %s, %o: %s", (job, complete, part, renewed) => {
    expect(renews({ job, complete }, part)).toBe(renewed);
  });
});

describe("the index of the Job log", () => {
  const jobs = [
    jobOf("A-1", "SET", "2026-05-02"),
    jobOf("a-1 ", "Electrode set", "2026-03-01", { lot: "first row" }),
    jobOf("A-1", "set", "2026-03-01", { lot: "last row" }),
    jobOf("A-1", "SET", "2026-07-20"),
    jobOf("A-1", "SET", "2026-06-01", { complete: false }),
    jobOf("A-1", "something", "2026-06-02"),
    jobOf("A-1", "SET", "2026-06-03", { job: "inspected", complete: null }),
    { ...jobOf("B-2", "SET", "2026-05-02"), date: null },
  ];
  const log = jobIndex(oursOf({ reportDate: JULY }, { jobs }));

  it("has the renewals of a part in order, one a day, none after the report date", () => {
    const { renewals } = log.of("a-1", SET);
    expect(renewals.map(({ date, lot }) => [date, lot])).toEqual([
      [day("2026-03-01"), "last row"],
      [day("2026-05-02"), ""],
    ]);
    expect(log.lastRenewal("a-1", SET)).toBe(day("2026-05-02"));
    expect(log.lastRenewal("b-2", SET)).toBeNull();
  });

  it("has the days of inspections, every job of a device, and the parts that are named", () => {
    expect([...log.of("a-1", SET).checks]).toEqual([day("2026-06-03")]);
    expect(log.ofDevice("a-1")).toHaveLength(7);
    expect(log.ofDevice("z-9")).toEqual([]);
    expect([...log.parts]).toEqual([SET]);
    expect(log.all.map(({ named }) => named?.code ?? null)).toContain(null);
  });
});

describe("last year's cost", () => {
  const priced = { ...CALIBRATION, supply: { ...CALIBRATION.supply, packPrice: 80 } };
  const costOf = (job: string, complete: Job["complete"]): number => {
    const jobs = [jobOf("A-1", "CALIBRATION", "2026-02-01", { job, complete })];
    const given = small([{ id: "A-1" }], { parts: [SET, priced], ours: { jobs } });
    return lastYearOf(yearOf(given)).cost;
  };

  it("holds a task that starts its interval anew, and no other", () => {
    expect(costOf("calibrated", null)).toBe(80);
    expect(costOf("replaced", null)).toBe(80);
    expect(costOf("calibrated", false)).toBe(0);
    expect(costOf("inspected", null)).toBe(0);
  });
});
