import { swapped } from "../../headings/dates.ts";
import { oneForACell } from "../../records/problems.ts";
import type { Job, Ours, Problem } from "../../records/records.ts";
import { JOB_LOG } from "../../sheets/job-log.ts";
import { findSheet, headingColumn } from "../../sheets/layout.ts";
import { pageNamed } from "../../workbook/cells.ts";
import type { Snapshot } from "../../workbook/snapshot.ts";
import { readDates } from "../dates/date-columns.ts";

/** Our sheets, and what is told of their cells. */
export interface Written {
  readonly ours: Ours;
  readonly problems: readonly Problem[];
}

/**
 * Days of the Job log that a spreadsheet may have read with day and month swapped, among texts that show it. Such a
 * job counts for no day, as one whose day is text: the later of the two days would lengthen an interval, the
 * earlier one would say that work was on time.
 */
export function withSwappedJobs(snapshot: Snapshot, written: Written): Written {
  const { ours } = written;
  const sheet = findSheet(snapshot, JOB_LOG);
  const heading = JOB_LOG.columns[0]?.heading ?? "";
  const column = sheet === null ? null : headingColumn(sheet, heading);
  const page = sheet === null ? null : pageNamed(snapshot, sheet.name);
  if (page === null || column === null) return written;
  const rows = ours.jobs.map(({ row }) => row);
  const stated = ours.settings.dayOrder;
  const dates = readDates(page, { column, heading, rows, stated, language: null });
  if (dates.swapped.size === 0) return written;
  const told: Problem[] = [];
  const jobs = ours.jobs.map((job, at): Job => {
    const swap = dates.swapped.get(at);
    const one = job.date === null ? dates.faults.get(at) : swap;
    if (one === undefined) return job;
    const cause = `${one.cause} The job is not counted; what it found stays open.`.trim();
    told.push({ ...one, cause });
    const other = job.date === null ? null : swapped(job.date);
    return job.date === null || other === null
      ? job
      : { ...job, date: null, eitherDay: [job.date, other] };
  });
  // Before what is told of the same cells: these can be mended together.
  const first = (others: readonly Problem[]): Problem[] => oneForACell([...told, ...others]);
  return {
    ours: { ...ours, jobs, doubts: first(ours.doubts) },
    problems: first(written.problems),
  };
}
