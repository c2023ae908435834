import { type Day, fromSerial } from "../../../core/day.ts";
import { readDateText } from "../../headings/dates.ts";
import type { Job, Ours } from "../../records/records.ts";
import { JOB_LOG, JOBS } from "../../sheets/job-log.ts";
import { headingColumn } from "../../sheets/layout.ts";
import { type Sheet, type Snapshot, valueAt } from "../../workbook/snapshot.ts";

/** Whether a row may be of a replacement: its job says so, is no known word, or it has what a new part has. */
export function mayBeReplaced({ job, complete, lot }: Job): boolean {
  if (job === "replaced" || job === "calibrated") return true;
  return !JOBS.some((known) => known === job) || complete === true || lot !== "";
}

/**
 * Jobs of the Job log with the days that speak against the register: a row that may be of a replacement and counts for
 * none, by its job or its day, is no proof of the date that the register has of it.
 */
export function withUncounted(
  sheet: Sheet,
  { dateSystem }: Snapshot,
  { jobs, settings: { reportDate } }: Ours,
): readonly Job[] {
  const column = headingColumn(sheet, JOB_LOG.columns[0]?.heading ?? "");
  return jobs.map((one) => {
    const { date, job, row, undone, eitherDay } = one;
    if (undone !== undefined || eitherDay !== undefined || !mayBeReplaced(one)) return one;
    if (date !== null && date <= reportDate) {
      return job === "replaced" || job === "calibrated" ? one : { ...one, undone: [date] };
    }
    const days = column === null ? [] : daysIn(sheet, { row, column, dateSystem });
    return { ...one, undone: days.length === 0 || date !== null ? "any" : days };
  });
}

/** Days that a cell may mean from which no day of a job is read. */
function daysIn(
  sheet: Sheet,
  at: { readonly row: number; readonly column: number } & Pick<Snapshot, "dateSystem">,
): Day[] {
  const cell = valueAt(sheet, at.row, at.column);
  if (typeof cell === "number")
    return [fromSerial(cell, at.dateSystem)].filter((day) => day !== null);
  const said = typeof cell === "string" ? readDateText(cell) : null;
  if (said === null || said.kind === "month") return [];
  if (said.kind === "day") return [said.date];
  return [said.dmy, said.mdy, said.ymd].filter((day) => day !== null);
}
