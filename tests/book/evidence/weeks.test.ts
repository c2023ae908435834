import { describe, expect, it } from "vitest";
import { type EvidenceReport, evidenceReport } from "../../../src/book/evidence/report.ts";
import type { Job } from "../../../src/book/records/records.ts";
import { weeksSheet } from "../../../src/book/evidence/weeks-kept.ts";
import { type Day, day } from "../../../src/core/day.ts";
import { checkOf, type Kit, programme } from "../../scenes/kept-scene.ts";

const USUAL = { from: null, to: null, sites: [] } as const;

/** The report of a book, on the report date Tuesday 2026-06-30. */
function reportOf(
  kits: readonly Kit[],
  jobs: readonly Job[],
  given: Partial<Parameters<typeof evidenceReport>[2]> = {},
): EvidenceReport {
  const { snapshot, reading } = programme(kits, { jobs });
  return evidenceReport(snapshot, reading, { ...USUAL, ...given });
}

/** Inspections of both parts, each on Monday and Thursday of the week. */
function wholeWeek(device: string, monday: string): Job[] {
  const first = day(monday);
  return ["SET", "CUSHION"].flatMap((part) =>
    [0, 3].map((days) => checkOf(device, part, (first + days) as Day)),
  );
}

describe("the weeks seen against each other", () => {
  it("have limits where five missed and five kept are to be expected, and a chart that says so", () => {
    const kits = Array.from({ length: 40 }, (_, at) => ({ id: `A${at}` }));
    const mondays = ["2026-06-01", "2026-06-08", "2026-06-15"];
    const jobs = mondays.flatMap((monday, week) =>
      kits.slice(week === 1 ? 20 : 0).flatMap(({ id }) => wholeWeek(id, monday)),
    );
    const report = reportOf(kits, jobs, { from: day("2026-06-01"), to: day("2026-06-21") });
    const sheet = weeksSheet(report);
    expect(sheet.rows.map((row) => [row[0], row[3], row[8]])).toEqual([
      ["2026-W23", 0, "fewer"],
      ["2026-W24", 50, "more"],
      ["2026-W25", 0, "fewer"],
    ]);
    const [chart] = sheet.charts?.({ sheet: "Weeks kept", headingRow: 4, chartsFrom: null }) ?? [];
    expect(chart?.description).toBe(
      "83.3% of 480 inspections done; lowest 50.0% in 2026-W24; 3 weeks outside the limits.",
    );
    expect(chart?.series.map(({ role }) => role)).toEqual(["low", "high", "history", "forecast"]);
  });
});
