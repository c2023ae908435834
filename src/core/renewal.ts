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
  readonly days: readonly number[];
  readonly chances: readonly number[];
  /** Whether the last of them is its due day, on which it is replaced worn or not. */
  readonly onSchedule: boolean;
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
 * firstEnds({ age: 10, due: 5 }, { last: 9, inspections: Int32Array.of(3, 7), due: new Int32Array(10), good: Float64Array.from({ length: 16 }, (_, day) => 1 - day / 100) }).days // => [3, 5]
 */
export function firstEnds(part: Running, course: Course): Ends {
  const { age } = part;
  const { last, inspections, good } = course;
  if (part.due <= 0) return { days: [0], chances: [1], onSchedule: true };
  const days: number[] = [];
  const chances: number[] = [];
  const sound = (day: number): number => good[Math.max(0, age + day)] ?? 0;
  const now = sound(0);
  let still = 1;
  for (const day of inspections) {
    if (day >= part.due || day > last) break;
    const left = now === 0 ? 0 : sound(day) / now;
    if (still - left > NEGLIGIBLE) {
      days.push(day);
      chances.push(still - left);
    }
    still = left;
  }
  const onSchedule = part.due <= last;
  if (onSchedule) {
    days.push(part.due);
    chances.push(still);
  }
  return { days, chances, onSchedule };
}

/** Days ahead that are counted together: after the first of them, up to and including the second. */
export type DaySpan = readonly [after: number, until: number];

/** Days on which a part fitted on a day may be replaced, with their chances; filled anew for each day. */
export interface FittedEnds {
  size: number;
  readonly days: Int32Array;
  readonly chances: Float64Array;
  /** Whether the last of them is its due day. */
  onSchedule: boolean;
  /** Chance that it is not replaced by the last day looked at. */
  left: number;
}

/**
 * Works out a row for each day on which a part may be fitted, the last day first, for a row is made of those of
 * later days: first for all inspections and the due days they lead to, then for any other day when it is asked for.
 *
 * @param course The days ahead.
 * @param until The last day that counts.
 * @param fill Works out the row of a day from the days on which its part is replaced.
 * @returns Sees to it that a day has its row; before it is read.
 * @example
 * ((days) => (eachReached({ last: 9, inspections: Int32Array.of(3, 7), due: Int32Array.from({ length: 10 }, (_, day) => day + 5), good: new Float64Array(6).fill(1) }, 9, (day) => days.push(day))(0), days))([]) // => [7, 8, 3, 5, 0]
 */
export function eachReached(
  course: Course,
  until: number,
  fill: (fitted: number, ends: FittedEnds) => void,
): (day: number) => void {
  const { inspections, due, last } = course;
  const reached = new Uint8Array(until + 1);
  const size = inspections.length + 1;
  const ends: FittedEnds = {
    ...{ size: 0, days: new Int32Array(size), chances: new Float64Array(size) },
    ...{ onSchedule: false, left: 1 },
  };
  const reach = (day: number): void => {
    if (day > until || reached[day] === 1) return;
    reached[day] = 1;
    // All inspections after it have their rows; its due day may be none.
    reach(due[day] ?? last + 1);
    findEnds(ends, course, day, until);
    fill(day, ends);
  };
  for (let at = inspections.length - 1; at >= 0; at -= 1) reach(inspections[at] ?? 0);
  return reach;
}

/** Numbers rarer than this are left out; so rare an end is taken together with the next one. */
export const RARE = 1e-14;

function findEnds(ends: FittedEnds, course: Course, fitted: number, until: number): void {
  const { inspections, due, good, last } = course;
  const { days, chances } = ends;
  const ending = due[fitted] ?? last + 1;
  let size = 0;
  let still = 1;
  for (let at = firstAfter(inspections, fitted); at < inspections.length; at += 1) {
    const day = inspections[at] ?? 0;
    if (day >= ending || day > until) break;
    const left = good[day - fitted] ?? 0;
    if (still - left <= RARE) continue;
    days[size] = day;
    chances[size] = still - left;
    size += 1;
    still = left;
  }
  ends.onSchedule = ending <= until;
  if (ends.onSchedule) {
    days[size] = ending;
    chances[size] = still;
    size += 1;
    still = 0;
  }
  ends.size = size;
  ends.left = still;
}

function firstAfter(inspections: Int32Array, day: number): number {
  let [low, high] = [0, inspections.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((inspections[middle] ?? 0) > day) high = middle;
    else low = middle + 1;
  }
  return low;
}

/** Replacements to be expected in each month of a part fitted on each day: rows of so many months. */
export interface Expected {
  readonly scheduled: Float64Array;
  readonly unplanned: Float64Array;
  /** Works out the row of a day, where it is none of an inspection; before it is read. */
  readonly reach: (day: number) => void;
}

/**
 * Expected replacements, month by month, of a part fitted on each day ahead, the parts fitted after it
 * included: the renewal equation, solved from the last day back.
 *
 * @param course The days ahead.
 * @param monthOf Number of the month of each day.
 * @param months How many months there are.
 * @returns One row of months for each day, on schedule and early.
 * @see Feller, An Introduction to Probability Theory and Its Applications, volume I, chapter XIII.
 * @example
 * (({ reach, scheduled }) => (reach(0), scheduled[0]))(expectedAfter({ last: 4, inspections: Int32Array.of(3), due: Int32Array.of(2, 3, 4, 5, 6), good: new Float64Array(5).fill(1) }, new Int32Array(5), 1)) // => 2
 */
export function expectedAfter(course: Course, monthOf: Int32Array, months: number): Expected {
  const size = (course.last + 1) * months;
  const scheduled = new Float64Array(size);
  const unplanned = new Float64Array(size);
  const reach = eachReached(course, course.last, (fitted, ends) => {
    const to = fitted * months;
    for (let end = 0; end < ends.size; end += 1) {
      const day = ends.days[end] ?? 0;
      const chance = ends.chances[end] ?? 0;
      const month = monthOf[day] ?? 0;
      const from = day * months;
      const booked = ends.onSchedule && end === ends.size - 1 ? scheduled : unplanned;
      booked[to + month] = (booked[to + month] ?? 0) + chance;
      for (let at = month; at < months; at += 1) {
        scheduled[to + at] = (scheduled[to + at] ?? 0) + chance * (scheduled[from + at] ?? 0);
        unplanned[to + at] = (unplanned[to + at] ?? 0) + chance * (unplanned[from + at] ?? 0);
      }
    }
  });
  return { scheduled, unplanned, reach };
}
