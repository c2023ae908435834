import { complianceText } from "../../core/compliance.ts";
import { isoText } from "../../core/day.ts";
import { ALL_SITES } from "./inspections.ts";
import type { Measure } from "./measure.ts";
import type { EvidencePeriod } from "./period.ts";
import type { EvidenceReport } from "./report.ts";
import type { Result } from "../sheets/result.ts";
import { type ResultColumns, resultSheet } from "../sheets/result-sheet.ts";

const SHARE = "0.0%";

/** The Evidence sheet: one row a measure and site, what has gaps first. */
const EVIDENCE = resultSheet({
  name: "Evidence",
  title: "Evidence: what was due and what was done",
  table: "SpareEvidence",
  about: "inspections, replacements, findings and lots by site: due, done and missing, gaps first",
  room: 5000,
  columns: {
    Measure: { width: 18, about: "What is counted.", cell: ({ name }) => name },
    Site: { width: 12, about: "Code from Sites; All comes first.", cell: ({ site }) => site },
    Due: { width: 8, format: "0", about: "How many were due.", cell: ({ due }) => due },
    Done: {
      width: 8,
      format: "0",
      about: "How many of those were done.",
      cell: ({ done }) => done,
    },
    Missing: {
      width: 8,
      format: "0",
      about: "Due less done.",
      cell: ({ due, done }) => due - done,
    },
    Share: {
      width: 9,
      format: SHARE,
      about: "Done as a share of due, rounded down.",
      cell: ({ due, done }) => (due === 0 ? null : roundedDown(done / due)),
    },
    Low: {
      width: 9,
      format: SHARE,
      about: "Lower limit of the share, 95%, Wilson.",
      cell: ({ kept }) => (kept === null ? null : roundedDown(kept.low)),
    },
    High: {
      width: 9,
      format: SHARE,
      about: "Upper limit of the share.",
      cell: ({ kept }) => (kept === null ? null : roundedDown(kept.high)),
    },
    "What is missing": {
      width: 50,
      wraps: true,
      about: "Weeks or devices; all of them are on the other sheets.",
      cell: ({ missing }) => missing || null,
    },
  } satisfies ResultColumns<Measure>,
  strong: (of) => `${of("Site")}="${ALL_SITES}"`,
});

/** The Evidence sheet of a period. */
export function evidenceSheet(report: EvidenceReport): Result {
  return EVIDENCE.filled({
    reportDate: report.reportDate,
    answer: report.measures
      .filter(({ site, due }) => site === ALL_SITES && due > 0)
      .map(({ name, due, done }) => `${name} ${complianceText(done, due)}`)
      .join(", "),
    notes: [
      periodText(report.period),
      "Shares are rounded down; the 95% limits are too narrow, because misses cluster by site and week.",
      ...[report.logBegins, report.unsigned].filter((text) => text !== ""),
      ...(report.leftOut.length === 0 ? [] : [`Not counted: ${report.leftOut.join("; ")}.`]),
    ],
    rows: report.measures,
  });
}

/** The days under review, as one sentence. */
export function periodText({ from, to }: EvidencePeriod): string {
  return `From ${isoText(from)} to ${isoText(to)}.`;
}

const STEPS = 1000;

/** To a tenth of a per cent, downwards: all only where nothing is missing. */
export function roundedDown(share: number): number {
  // A share of whole counts that is a whole number of steps may come out a bit below it.
  return Math.floor(share * STEPS + 1e-9) / STEPS;
}
