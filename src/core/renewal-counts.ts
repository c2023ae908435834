import type { Course, DaySpan, Ends } from "./renewal.ts";
import { addLater, RARE, type Rows, rowsAfter } from "./renewal-rows.ts";

/**
 * Chances of 0, 1, 2, … replacements within some days, of a part replaced on each day ahead, that replacement included.
 *
 * @param course The days ahead.
 * @param within The days: after the first of them, up to and including the second.
 * @returns One row of chances for each day up to the last one counted.
 * @example
 * ((rows) => (rows.reach(0), Array.from(rows.numbers.slice(rows.starts[0], rows.starts[0] + rows.sizes[0]))))(countsAfter({ last: 4, inspections: Int32Array.of(3), due: Int32Array.of(2, 3, 4, 5, 6), good: new Float64Array(5).fill(1) }, [0, 4])) // => [0, 0, 0, 1]
 */
export function countsAfter(course: Course, within: DaySpan): Rows {
  const [after, until] = within;
  const stride = numbersIn(course, within);
  return rowsAfter(course, until, {
    stride,
    include: (numbers, at, { day, ends, size: most }) => {
      // What is not replaced by the end is none more.
      numbers[at] = (numbers[at] ?? 0) + ends.left;
      let size = Math.max(1, most);
      while (size > 1 && (numbers[at + size - 1] ?? 0) < RARE) size -= 1;
      if (!isWithin(day, after)) return size;
      numbers.copyWithin(at + 1, at, at + Math.min(size, stride - 1));
      numbers[at] = 0;
      return Math.min(size + 1, stride);
    },
  });
}

// What is due on the day looked ahead from is done then, and counts.
function isWithin(day: number, after: number): boolean {
  return day > after || (day === 0 && after === 0);
}

// How many numbers may have a chance: the schedule's, and early ones well beyond their mean.
function numbersIn(course: Course, [after, until]: DaySpan): number {
  const { due, inspections, good } = course;
  let shortest = Infinity;
  for (let fitted = 0; fitted < due.length; fitted += 1) {
    shortest = Math.min(shortest, (due[fitted] ?? Infinity) - fitted);
  }
  const days = until - after;
  let looks = 0;
  for (const day of inspections) if (day > after && day <= until) looks += 1;
  let lasts = 0;
  for (let day = 0; day < Math.min(shortest, good.length); day += 1) lasts += good[day] ?? 0;
  const ends = days / Math.max(1, lasts);
  const early = Math.min(looks, Math.ceil(ends + 6 * Math.sqrt(ends) + 8));
  return 3 + Math.floor(Math.max(0, days - 1) / shortest) + early;
}

/**
 * Chances of each number of replacements of a part in use within some days.
 *
 * @param ends When it is replaced next.
 * @param later What follows, by `countsAfter` for the same days.
 * @returns Chances of 0, 1, 2, …
 * @example
 * Array.from(runningCounts({ size: 1, days: Int32Array.of(2), chances: Float64Array.of(0.5), onSchedule: false, left: 0.5 }, { stride: 2, numbers: Float64Array.of(0, 1), starts: Int32Array.of(0, 0, 0), sizes: Uint16Array.of(0, 0, 2), reach: () => undefined })) // => [0.5, 0.5]
 */
export function runningCounts(ends: Ends, later: Rows): Float64Array {
  for (let at = 0; at < ends.size; at += 1) later.reach(ends.days[at] ?? 0);
  const counts = new Float64Array(later.stride);
  const size = addLater(counts, 0, ends, later);
  let none = 1;
  for (let at = 0; at < ends.size; at += 1) {
    // A day behind the last that counts has no row.
    if ((later.sizes[ends.days[at] ?? 0] ?? 0) > 0) none -= ends.chances[at] ?? 0;
  }
  counts[0] = (counts[0] ?? 0) + Math.max(0, none);
  return counts.subarray(0, Math.max(1, size));
}
