import { describe, expect, it } from "vitest";
import { evidenceSheet } from "../../../src/book/evidence/evidence-sheet.ts";
import { type EvidenceReport, evidenceReport } from "../../../src/book/evidence/report.ts";
import type { Job } from "../../../src/book/records/records.ts";
import { day } from "../../../src/core/day.ts";
import { checkOf, programme } from "../../scenes/kept-scene.ts";
import { jobOf } from "../../scenes/scene.ts";

/** The week of 1 June 2026 of one device with these jobs. */
function weekOf(jobs: readonly Job[]): EvidenceReport {
  const { snapshot, reading } = programme([{ id: "A1" }], { jobs });
  const week = { from: day("2026-06-01"), to: day("2026-06-07"), sites: [] };
  return evidenceReport(snapshot, reading, week);
}

describe("entries that nobody signed", () => {
  const jobs = (by: string): Job[] => [
    checkOf("A1", "SET", day("2026-06-01"), { by }),
    checkOf("A1", "SET", day("2026-06-04"), { by: "LS" }),
    checkOf("A1", "SET", day("2026-05-28"), { by }),
    checkOf("A9", "SET", day("2026-06-01"), { by }),
    jobOf("A1", "SET", "2026-06-02", { by }),
  ];
  it.each(["", "-", "?"])("count and are told: By is %j", (by) => {
    const report = weekOf(jobs(by));
    const said =
      "Nobody signed for 2 of the entries that count here (1 inspection, 1 replacement): By is blank.";
    expect(report.unsigned).toBe(said);
    expect(report.inspections.siteWeeks[0]?.kept).toBe(2);
    expect(evidenceSheet(report).notes).toContain(said);
  });
  it("are none where all are signed", () => {
    expect(weekOf(jobs("LS1")).unsigned).toBe("");
  });
});
