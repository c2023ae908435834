import type { SiteWeek } from "./inspections.ts";
import { weekText } from "./period.ts";
import type { KeptReport } from "./report.ts";
import { listed } from "../records/problems.ts";
import type { CellValue } from "../workbook/snapshot.ts";
import { periodText, roundedDown } from "./evidence-sheet.ts";
import type { Layout } from "../sheets/layout.ts";
import type { Result } from "../sheets/result.ts";

const NAMED = 8;

/** The Inspections sheet: one row a site and ISO week, weeks with gaps first. */
const INSPECTIONS: Layout = {
  name: "Inspections",
  title: "Inspections by site and ISO week",
  table: "SpareInspections",
  about: "inspections due and kept by site and ISO week, weeks with gaps first",
  room: 50_000,
  columns: [
    { heading: "Site", width: 12, about: "Code from Sites." },
    { heading: "Week", width: 11, about: "ISO week." },
    { heading: "Monday", width: 12, format: "yyyy-mm-dd", about: "First day of the week." },
    { heading: "Devices", width: 9, format: "0", about: "In service the whole week." },
    {
      heading: "Due",
      width: 8,
      format: "0",
      about: "Distinct days for each device and part, as Parts says.",
    },
    { heading: "Kept", width: 8, format: "0", about: "At most as many a device and part as due." },
    { heading: "Missing", width: 9, format: "0", about: "Due less kept." },
    { heading: "Share", width: 9, format: "0.0%", about: "Kept of due, rounded down." },
    { heading: "Devices with a gap", width: 70, about: "They lack an inspection in this week." },
  ],
};

/** The Inspections sheet of a period. */
export function inspectionsSheet({ reportDate, period, inspections }: KeptReport): Result {
  const { siteWeeks, partWeeks } = inspections;
  const gaps = siteWeeks.filter(({ missing }) => missing.length > 0);
  const full = siteWeeks.filter(({ missing }) => missing.length === 0);
  return {
    layout: INSPECTIONS,
    reportDate,
    notes: [
      periodText(period),
      "Whole weeks only. Each device is counted at the site it has now.",
      ...(partWeeks === 0
        ? []
        : [`Left out: ${partWeeks} weeks of devices that came or left in them.`]),
    ],
    rows: [...gaps, ...full].map(weekCells),
  };
}

function weekCells(week: SiteWeek): CellValue[] {
  const { site, monday, devices, due, kept, missing } = week;
  return [
    site,
    weekText(monday),
    monday,
    devices,
    due,
    kept,
    due - kept,
    due === 0 ? null : roundedDown(kept / due),
    missing.length === 0 ? null : listed(missing, NAMED),
  ];
}
