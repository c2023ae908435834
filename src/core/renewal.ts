import { firstWhole } from "./bisection.ts";
import { DAYS_PER_MONTH } from "./counts.ts";
import { NEGLIGIBLE } from "./distribution.ts";
import type { Life } from "./life.ts";

/** Days between the inspections at which worn parts are found and replaced: twice a week. */
export const STEP_DAYS = 3.5;

/**
 * Days of the inspections ahead, in whole days from the one looked ahead from: 3, 7, 10, 14, …
 *
 * @param last The last day looked at.
 * @returns Days in order.
 * @example
 * Array.from(inspectionDays(14)) // => [3, 7, 10, 14]
 */
export function inspectionDays(last: number): Int32Array {
  const count = Math.max(0, Math.ceil((last + 1) / STEP_DAYS) - 1);
  return Int32Array.from({ length: count }, (_, at) => Math.floor((at + 1) * STEP_DAYS));
}

/**
 * Share of parts still good after each number of whole days.
 *
 * @param life How parts wear; null where they never do.
 * @param last Days of the last share.
 * @returns Shares, the first for new parts.
 * @example
 * Array.from(goodShares({ shape: 1, scale: 1 / 30.436875 }, 2)).map((share) => share.toFixed(4)) // => ["1.0000", "0.3679", "0.1353"]
 */
export function goodShares(life: Life | null, last: number): Float64Array {
  const shares = new Float64Array(last + 1).fill(1);
  if (life === null) return shares;
  for (let day = 1; day <= last; day += 1) {
    shares[day] = Math.exp(-((day / DAYS_PER_MONTH / life.scale) ** life.shape));
  }
  return shares;
}

/** Parts ahead, day by day; day 0 is the one looked ahead from. */
export interface Course {
  /** The last day looked at. */
  readonly last: number;
  /** Days of the inspections, in order, after day 0. */
  readonly inspections: Int32Array;
  /** The day on which a part fitted on each day from 0 on is due: after that day. */
  readonly due: Int32Array;
  /** Share still good after each number of days; as many as the longest time to a due day. */
  readonly good: Float64Array;
}

/** A part in use. */
export interface Running {
  /** Days since it was fitted; below zero for a part that only begins then. */
  readonly age: number;
  /** The day it is due, 0 where that is past. */
  readonly due: number;
}

/** Days on which a part may be replaced next, with their chances. */
export interface Ends {
  /** How many there are. */
  readonly size: number;
  readonly days: Int32Array;
  readonly chances: Float64Array;
  /** Whether the last of them is its due day, on which it is replaced worn or not. */
  readonly onSchedule: boolean;
  /** Chance that it is not replaced by the last day looked at. */
  readonly left: number;
}

/**
 * When a part in use is replaced: found worn at the first inspection after it wore out, or on its due day.
 * Age replacement with the delay of an inspection: planned ends wait for nothing.
 *
 * @param part Its age and due day.
 * @param course Inspections and shares still good.
 * @returns Days with their chances; none after the last day looked at.
 * @see Barlow and Proschan, Mathematical Theory of Reliability (1965), chapters 3 and 4 (from memory).
 * @example
 * Array.from(firstEnds({ age: 10, due: 5 }, { last: 9, inspections: Int32Array.of(3, 7), due: new Int32Array(10), good: Float64Array.from({ length: 16 }, (_, day) => 1 - day / 100) }).days) // => [3, 5]
 */
export function firstEnds(part: Running, course: Course): Ends {
  const { age, due } = part;
  const { last, inspections, good } = course;
  if (due <= 0) return AT_ONCE;
  const most = firstWhole(0, inspections.length, (at) => (inspections[at] ?? 0) >= due) + 1;
  const [days, chances] = [new Int32Array(most), new Float64Array(most)];
  const now = good[Math.max(0, age)] ?? 0;
  let [size, still] = [0, 1];
  for (let at = 0; at < most - 1; at += 1) {
    const day = inspections[at] ?? 0;
    if (day > last) break;
    const left = now === 0 ? 0 : (good[Math.max(0, age + day)] ?? 0) / now;
    if (still - left > NEGLIGIBLE) {
      days[size] = day;
      chances[size] = still - left;
      size += 1;
    }
    still = left;
  }
  const onSchedule = due <= last;
  if (onSchedule) {
    days[size] = due;
    chances[size] = still;
    size += 1;
  }
  return { size, days, chances, onSchedule, left: onSchedule ? 0 : still };
}

/** What is due is done on the day looked ahead from. */
const AT_ONCE: Ends = {
  ...{ size: 1, days: Int32Array.of(0), chances: Float64Array.of(1) },
  ...{ onSchedule: true, left: 0 },
};

/** Days ahead that are counted together: after the first of them, up to and including the second. */
export type DaySpan = readonly [after: number, until: number];
