import type { Course, DaySpan, Ends } from "./renewal.ts";
import { addLater, type Rows, rowsAfter } from "./renewal-rows.ts";

/**
 * Mean, and mean of the square, of the replacements in each of some spans, of a part replaced on each day ahead, that
 * replacement included: what `countsAfter` has chance by chance, for fleets so large that no more is asked. A row holds
 * the spans from the last one back to the first that does not lie before its day, two numbers each.
 *
 * @param course The days ahead.
 * @param spans Days counted together.
 * @returns Rows by day.
 * @example
 * ((rows) => (rows.reach(0), Array.from(rows.numbers.slice(rows.starts[0], rows.starts[0] + 2))))(momentsAfter({ last: 4, inspections: Int32Array.of(3), due: Int32Array.of(2, 3, 4, 5, 6), good: new Float64Array(5).fill(1) }, [[0, 4]])) // => [3, 9]
 */
export function momentsAfter(course: Course, spans: readonly DaySpan[]): Rows {
  const backwards = [...spans].reverse();
  // For each day how many spans there are until the first that does not lie before it.
  const open = Int32Array.from({ length: course.last + 1 }, (_, day) => {
    const first = spans.findIndex(([, until]) => until >= day);
    return first < 0 ? 0 : spans.length - first;
  });
  return rowsAfter(course, course.last, {
    stride: 2 * spans.length,
    include: (numbers, at, { day }) => {
      const size = open[day] ?? 0;
      for (let nth = 0; nth < size; nth += 1) {
        const [after, until] = backwards[nth] ?? NEVER;
        // What is due on the day looked ahead from is done then, and counts.
        if (day > until || !(day > after || (day === 0 && after === 0))) continue;
        const place = at + 2 * nth;
        const mean = numbers[place] ?? 0;
        // The mean of (1 + n)² is that of 1 + 2n + n².
        numbers[place + 1] = (numbers[place + 1] ?? 0) + 2 * mean + 1;
        numbers[place] = mean + 1;
      }
      return 2 * size;
    },
  });
}

const NEVER: DaySpan = [0, -1];

/**
 * Mean, and mean of the square, of the replacements of a part in use in each span.
 *
 * @param ends When it is replaced next.
 * @param later What follows, by `momentsAfter`.
 * @returns The means of all spans, then the means of squares.
 * @example
 * Array.from(runningMoments({ size: 1, days: Int32Array.of(2), chances: Float64Array.of(0.5), onSchedule: false, left: 0.5 }, momentsAfter({ last: 2, inspections: new Int32Array(0), due: Int32Array.of(9, 9, 9), good: new Float64Array(3).fill(1) }, [[0, 2]]))) // => [0.5, 0.5]
 */
export function runningMoments(ends: Ends, later: Rows): Float64Array {
  for (let at = 0; at < ends.size; at += 1) later.reach(ends.days[at] ?? 0);
  const sums = new Float64Array(later.stride);
  addLater(sums, 0, ends, later);
  const spans = later.stride / 2;
  const row = new Float64Array(later.stride);
  for (let nth = 0; nth < spans; nth += 1) {
    const from = 2 * (spans - 1 - nth);
    row[nth] = sums[from] ?? 0;
    row[spans + nth] = sums[from + 1] ?? 0;
  }
  return row;
}
