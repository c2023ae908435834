import type { Job } from "./records.ts";

/** Whether one job of a day is known to have been logged before another one of that day. */
export type LogOrder<J> = (one: J, other: J) => boolean;

/** How often the days of a sheet rise and fall from row to row. */
interface Trend {
  rises: number;
  falls: number;
}

/**
 * The order of jobs on one day, which a log holds only as the order of its rows: known where its sheet
 * runs from old to new and no other day stands between the two; else anybody may have sorted it.
 */
export function logOrder<J extends Pick<Job, "date" | "sheet">>(jobs: readonly J[]): LogOrder<J> {
  const places = new Map<J, { readonly at: number; readonly run: number }>();
  const trends = new Map<string, Trend>();
  let run = 0;
  let before: J | null = null;
  for (const [at, job] of jobs.entries()) {
    const { date, sheet } = job;
    const trend = trends.get(sheet) ?? { rises: 0, falls: 0 };
    trends.set(sheet, trend);
    if (date !== null) {
      const last = before?.sheet === sheet ? before.date : null;
      if (before !== null && (before.sheet !== sheet || date !== last)) run += 1;
      if (last !== null && date > last) trend.rises += 1;
      if (last !== null && date < last) trend.falls += 1;
      before = job;
    }
    places.set(job, { at, run });
  }
  return (one, other) => {
    const [first, second] = [places.get(one), places.get(other)];
    const trend = trends.get(one.sheet);
    if (first === undefined || second === undefined || trend === undefined) return false;
    if (one.sheet !== other.sheet || trend.falls > trend.rises) return false;
    return first.run === second.run && first.at < second.at;
  };
}
