import { fromSerial } from "../../core/day.ts";
import type { Job } from "../records/records.ts";
import type { Sheet, Snapshot } from "../workbook/snapshot.ts";
import { type Layout, readRows, textOf, YES_NO } from "./layout.ts";

/** Jobs a log row can be. */
export const JOBS = ["inspected", "replaced", "calibrated", "withdrawn", "returned"] as const;

/** Findings of an inspection; all but clean and other end the part's life that day. */
export const FINDINGS = ["clean", "residue", "corrosion", "crack", "hardened", "other"] as const;

/** The Job log sheet: one row a job done. */
export const JOB_LOG: Layout = {
  name: "Job log",
  title: "Job log",
  table: "SpareJobLog",
  about: "one row a job done: inspections, replacements, calibrations",
  room: 20000,
  columns: [
    {
      heading: "Date",
      width: 12,
      format: "yyyy-mm-dd",
      choices: { kind: "date", from: "DATE(2000,1,1)", to: "TODAY()" },
      about: "The day it was done; not in the future.",
    },
    { heading: "Device", width: 16, about: "As written in the register." },
    { heading: "Part", width: 24, about: "Code or name from Parts." },
    {
      heading: "Job",
      width: 12,
      choices: { kind: "list", values: JOBS },
      about: "One of the listed jobs.",
    },
    {
      heading: "Finding",
      width: 12,
      choices: { kind: "list", values: FINDINGS },
      about: "One of the listed findings.",
    },
    {
      heading: "Complete set",
      width: 12,
      choices: YES_NO,
      about:
        "yes only when every piece of the set was replaced; a part of a set counts for nothing.",
    },
    { heading: "Lot", width: 14, about: "Lot of the new part." },
    { heading: "By", width: 10, about: "Role or initials; no patient." },
    { heading: "Note", width: 30, about: "Anything worth keeping; no patient data." },
  ],
};

/** The jobs of a Job log. */
export function readJobs(sheet: Sheet, dateSystem: Snapshot["dateSystem"]): Job[] {
  return readRows(sheet, JOB_LOG).map(({ row, values }) => {
    const date = values.get("Date");
    return {
      sheet: sheet.name,
      row,
      date: typeof date === "number" ? fromSerial(date, dateSystem) : null,
      device: textOf(values.get("Device")),
      part: textOf(values.get("Part")),
      job: textOf(values.get("Job")).toLowerCase(),
      finding: textOf(values.get("Finding")).toLowerCase(),
      complete: completeness(textOf(values.get("Complete set")).toLowerCase()),
      lot: textOf(values.get("Lot")),
      by: textOf(values.get("By")),
      note: textOf(values.get("Note")),
    };
  });
}

function completeness(word: string): boolean | null {
  if (word === "") return null;
  return word === "yes" || word === "true" || word === "1";
}
