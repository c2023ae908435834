import { addMonths, civilDate, type Day } from "../../core/day.ts";
import { isRenewal, jobIndex, renewed } from "../records/job-index.ts";
import { wholeOf } from "../records/positions.ts";
import type { Part } from "../records/records.ts";
import type { Year } from "./year.ts";

/**
 * What the Job log shows for the twelve months before the report date: replacements and tasks of a part, each a
 * year after its month, so that they stand beside the months ahead. Null where it has none of the part.
 */
export function yearBefore({ reading, horizon, months }: Year, part: Part): number[] | null {
  const { reportDate } = horizon;
  const since = addMonths(reportDate, -12);
  const counts = months.map(() => 0);
  let any = false;
  for (const job of jobIndex(reading.ours).all) {
    if (!isRenewal(job, reportDate) || job.date <= since) continue;
    if (wholeOf(job.named).code !== part.code) continue;
    const at = monthsFrom(since, job.date);
    counts[at] = (counts[at] ?? 0) + renewed(job);
    any = true;
  }
  return any ? counts : null;
}

function monthsFrom(since: Day, date: Day): number {
  const [from, to] = [civilDate(since), civilDate(date)];
  return (to.year - from.year) * 12 + to.month - from.month;
}
