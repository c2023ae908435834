// What the Job log says of the very date that a register has.
import type { Day } from "../../../core/day.ts";
import { isOf, type JobIndex, mayBeOf, type NamedJob, renews } from "../../records/job-index.ts";
import type { CellPlace } from "../../records/problems.ts";
import type { Part, Problem } from "../../records/records.ts";
import type { Named } from "../devices/devices.ts";
import { faultLater } from "../told/told-later.ts";

/** Work on the part on the day of a row, where none of it starts its interval again. */
export function partialWork(log: JobIndex, row: DatedRow): NamedJob | null {
  const work = workOn(log, row);
  const anew = work.some((job) => isOf(job, row.part) && renews(job, job.named ?? row.part));
  return anew ? null : (work[0] ?? null);
}

export interface DatedRow {
  readonly device: Named;
  readonly part: Part;
  readonly date: Day;
}

export function workOn(log: JobIndex, { device, part, date }: DatedRow): readonly NamedJob[] {
  const jobs = log.ofDevice(device.key);
  if (jobs.length === 0) return jobs;
  return jobs.filter((job) => job.date === date && mayBeOf(job, part) && isWork(job, part));
}

/** A replacement, or a task done, complete or not. */
function isWork({ job }: NamedJob, part: Part): boolean {
  return job === "replaced" || (part.task && job === "calibrated");
}

/** A row of the Job log for the date that is not counted, or on one of two days, of which the date may be the later. */
export function openDay(
  log: JobIndex,
  { device, part, date }: DatedRow,
  place: CellPlace,
): Problem | null {
  const isUndone = ({ undone }: NamedJob): boolean =>
    undone === "any" || undone?.includes(date) === true;
  const found = [...log.ofDevice(device.key), ...log.astray(date)].find((job) => {
    const first = Math.min(...(job.eitherDay ?? [date]));
    if (first === date) return isUndone(job) && mayBeOf(job, part);
    return isOf(job, part) && renews(job, job.named ?? part);
  });
  const days = found?.eitherDay;
  if (days !== undefined) return faultLater("date disagrees", place, "openDay", date, days);
  return found === undefined
    ? null
    : faultLater("date disagrees", place, "undone", date, found.sheet, found.row);
}
