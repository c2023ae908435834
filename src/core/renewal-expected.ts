import type { Course, Ends } from "./renewal.ts";
import { addLater, type Rows, rowsAfter } from "./renewal-rows.ts";

/**
 * Replacements to be expected in each month, of a part replaced on each day ahead, that replacement and the parts
 * fitted after it included. A row holds the months from the last one back to that of its day, and for each month all
 * of them and those on schedule.
 *
 * @param course The days ahead.
 * @param monthOf Number of the month of each day.
 * @param months How many months there are.
 * @returns Rows by day.
 * @example
 * ((rows) => (rows.reach(0), Array.from(rows.numbers.slice(rows.starts[0], rows.starts[0] + 2))))(expectedAfter({ last: 4, inspections: Int32Array.of(3), due: Int32Array.of(2, 3, 4, 5, 6), good: new Float64Array(5).fill(1) }, new Int32Array(5), 1)) // => [3, 2]
 */
export function expectedAfter(course: Course, monthOf: Int32Array, months: number): Rows {
  const placeOf = (day: number): number => 2 * (months - 1 - (monthOf[day] ?? 0));
  return rowsAfter(course, course.last, {
    stride: 2 * months,
    include: (numbers, at, { day, ends }) => {
      bookDue(numbers, at, ends, placeOf);
      const own = at + placeOf(day);
      numbers[own] = (numbers[own] ?? 0) + 1;
      return placeOf(day) + 2;
    },
  });
}

// The last end of a part is on schedule where it is its due day.
function bookDue(
  numbers: Float64Array,
  at: number,
  { size, days, chances, onSchedule }: Ends,
  placeOf: (day: number) => number,
): void {
  if (!onSchedule) return;
  const to = at + placeOf(days[size - 1] ?? 0) + 1;
  numbers[to] = (numbers[to] ?? 0) + (chances[size - 1] ?? 0);
}

/**
 * Replacements to be expected of a part in use.
 *
 * @param ends When it is replaced next.
 * @param later What follows, by `expectedAfter`.
 * @param monthOf Number of the month of each day.
 * @returns Those on schedule month by month, then the early ones.
 * @example
 * Array.from(runningExpected({ size: 1, days: Int32Array.of(2), chances: Float64Array.of(0.5), onSchedule: false, left: 0.5 }, { stride: 2, numbers: Float64Array.of(1, 0), starts: Int32Array.of(0, 0, 0), sizes: Uint16Array.of(0, 0, 2), reach: () => undefined }, new Int32Array(3))) // => [0, 0.5]
 */
export function runningExpected(ends: Ends, later: Rows, monthOf: Int32Array): Float64Array {
  for (let at = 0; at < ends.size; at += 1) later.reach(ends.days[at] ?? 0);
  const months = later.stride / 2;
  const sums = new Float64Array(later.stride);
  addLater(sums, 0, ends, later);
  bookDue(sums, 0, ends, (day) => 2 * (months - 1 - (monthOf[day] ?? 0)));
  const row = new Float64Array(later.stride);
  for (let month = 0; month < months; month += 1) {
    const from = 2 * (months - 1 - month);
    const scheduled = sums[from + 1] ?? 0;
    row[month] = scheduled;
    // All but those on schedule; the last digit of a difference may fall below none.
    row[months + month] = Math.max(0, (sums[from] ?? 0) - scheduled);
  }
  return row;
}
