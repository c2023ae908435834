import type { Job } from "./records.ts";

/** Whether one job of a day is known to have been logged before another one of that day. */
export type LogOrder<J> = (one: J, other: J) => boolean;

/**
 * The order of jobs on one day, which the log holds only as the order of its rows: known where the log
 * runs from old to new and no other day stands between the two; else anybody may have sorted it.
 */
export function logOrder<J extends Pick<Job, "date">>(jobs: readonly J[]): LogOrder<J> {
  const places = new Map<J, { readonly at: number; readonly run: number }>();
  let [run, rises, falls] = [0, 0, 0];
  let before: number | null = null;
  jobs.forEach((job, at) => {
    const { date } = job;
    if (date !== null) {
      if (before !== null && date !== before) {
        run += 1;
        if (date > before) rises += 1;
        else falls += 1;
      }
      before = date;
    }
    places.set(job, { at, run });
  });
  return (one, other) => {
    const [first, second] = [places.get(one), places.get(other)];
    if (first === undefined || second === undefined || falls > rises) return false;
    return first.run === second.run && first.at < second.at;
  };
}
