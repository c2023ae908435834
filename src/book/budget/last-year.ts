import { addMonths, type Day } from "../../core/day.ts";
import { unitsEach, wholeOf } from "../records/positions.ts";
import { isRenewal, jobIndex, renewed } from "../records/job-index.ts";
import type { Part } from "../records/records.ts";
import type { Year } from "../year/year.ts";

/** What the Job log shows for the twelve months before the report date. */
export interface LastYear {
  /** What its replacements and tasks would cost at today's prices. */
  readonly cost: number;
  /** How many there were; without one the cost is not nothing but unknown. */
  readonly logged: number;
  /** The day the log begins where that lies within those months: what was done before is not in the cost. */
  readonly begins: Day | null;
}

/** Complete replacements and tasks of the last twelve months. */
export function lastYearOf({ reading, horizon }: Year): LastYear {
  const [since, until] = [addMonths(horizon.reportDate, -12), horizon.reportDate];
  let [cost, logged] = [0, 0];
  let begins: Day | null = null;
  for (const job of jobIndex(reading.ours).all) {
    const { date } = job;
    if (date === null || date > until) continue;
    if (begins === null || date < begins) begins = date;
    if (date <= since || !isRenewal(job, until)) continue;
    logged += 1;
    cost += priceOfOne(wholeOf(job.named)) * renewed(job);
  }
  return { cost, logged, begins: begins !== null && begins > since ? begins : null };
}

/** What one replacement of a part, or of a position of it, costs today. */
export function priceOfOne(part: Part): number {
  const { packPrice, pack } = part.supply;
  return ((packPrice ?? 0) / pack) * unitsEach(part);
}
