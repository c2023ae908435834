import { isoText } from "../../core/day.ts";
import type { Change } from "../sheets/result-plan.ts";
import type { Snapshot } from "../workbook/snapshot.ts";
import { evidenceSheet } from "./evidence-sheet.ts";
import { findingSheet } from "./finding-list.ts";
import { inspectionsSheet } from "./inspection-sheet.ts";
import { lateSheet } from "./late-work.ts";
import { lotsSheet } from "./lots-fitted.ts";
import type { EvidenceReport } from "./report.ts";
import { weeksSheet } from "./weeks-kept.ts";

/** What the evidence of a period adds to a book; the reasons typed there stay. */
export function evidenceChange(report: EvidenceReport, snapshot: Snapshot): Change {
  const { from, to } = report.period;
  return {
    results: [
      evidenceSheet(report),
      inspectionsSheet(report),
      weeksSheet(report),
      lateSheet(report, snapshot),
      findingSheet(report),
      lotsSheet(report),
    ],
    summary: `evidence from ${isoText(from)} to ${isoText(to)}`,
  };
}
