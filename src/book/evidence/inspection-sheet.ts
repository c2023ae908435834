import type { SiteWeek } from "./inspections.ts";
import { weekText } from "./period.ts";
import type { EvidenceReport } from "./report.ts";
import { listed } from "../records/problems.ts";
import { periodText, roundedDown } from "./evidence-sheet.ts";
import type { Result } from "../sheets/result.ts";
import { type ResultColumns, resultSheet } from "../sheets/result-sheet.ts";

const NAMED = 8;

/** The Inspections sheet: one row a site and ISO week, weeks with gaps first. */
const INSPECTIONS = resultSheet({
  name: "Inspections",
  title: "Inspections by site and ISO week",
  table: "SpareInspections",
  about: "inspections due and done by site and ISO week, weeks with gaps first",
  room: 50_000,
  columns: {
    Site: { width: 12, about: "Code from Sites.", cell: ({ site }) => site },
    Week: { width: 11, about: "ISO week.", cell: ({ monday }) => weekText(monday) },
    Monday: {
      width: 12,
      format: "yyyy-mm-dd",
      about: "First day of the week.",
      cell: ({ monday }) => monday,
    },
    Devices: {
      width: 9,
      format: "0",
      about: "In service the whole week.",
      cell: ({ devices }) => devices,
    },
    Due: {
      width: 8,
      format: "0",
      about: "Distinct days for each device and part, as Parts says.",
      cell: ({ due }) => due,
    },
    Kept: {
      width: 8,
      format: "0",
      about: "Per device and part, at most as many as were due.",
      cell: ({ kept }) => kept,
    },
    Missing: {
      width: 9,
      format: "0",
      about: "Due less done.",
      cell: ({ due, kept }) => due - kept,
    },
    Share: {
      width: 9,
      format: "0.0%",
      about: "Done as a share of due, rounded down.",
      cell: ({ due, kept }) => (due === 0 ? null : roundedDown(kept / due)),
    },
    "Devices with a gap": {
      width: 50,
      wraps: true,
      about: "They are short of an inspection in this week.",
      cell: ({ missing }) => (missing.length === 0 ? null : listed(missing, NAMED)),
    },
  } satisfies ResultColumns<SiteWeek>,
});

/** The Inspections sheet of a period. */
export function inspectionsSheet({ reportDate, period, inspections }: EvidenceReport): Result {
  const { siteWeeks, partWeeks } = inspections;
  const gaps = siteWeeks.filter(({ missing }) => missing.length > 0);
  const full = siteWeeks.filter(({ missing }) => missing.length === 0);
  return INSPECTIONS.filled({
    reportDate,
    answer:
      siteWeeks.length === 0 ? "" : `${gaps.length} of ${siteWeeks.length} site-weeks have a gap`,
    notes: [
      periodText(period),
      "Whole weeks only. Each device is counted at its current site.",
      ...(partWeeks === 0 ? [] : [`Left out: ${partWeeks} weeks in which a device came or left.`]),
    ],
    rows: [...gaps, ...full],
  });
}
