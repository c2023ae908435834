import type { Course, DaySpan, Ends } from "./renewal.ts";
import { countsAfter } from "./renewal-counts.ts";
import { addLater, RARE, type Rows, rowsAfter } from "./renewal-rows.ts";

/**
 * Chances of 1, 2, … replacements within each month, of a part replaced on each day ahead: that replacement counts
 * in its own month. A row holds the months from the last one back to that of its day, for the rest have none.
 */
export interface MonthCounts {
  readonly rows: Rows;
  /** Where each month begins in a row, and where it ends. */
  readonly begins: Int32Array;
  readonly ends: Int32Array;
}

/**
 * Chances of each number of replacements in every month at once: what a part will do in months to come is what the
 * one that replaces it will, weighed by the day.
 *
 * @param course The days ahead.
 * @param monthOf Number of the month of each day.
 * @param months Their days.
 * @param inside What happens within each month, where it is known already.
 * @returns Rows by day.
 * @example
 * ((later) => [0, 1].map((month) => Array.from(monthChances(runningMonths({ size: 1, days: Int32Array.of(3), chances: Float64Array.of(1), onSchedule: false, left: 0 }, later), later, month))))(monthCountsAfter({ last: 4, inspections: Int32Array.of(3), due: Int32Array.of(2, 3, 4, 5, 6), good: new Float64Array(5).fill(1) }, Int32Array.of(0, 0, 0, 1, 1), [[0, 2], [2, 4]])) // => [[1], [0, 1]]
 */
export function monthCountsAfter(
  course: Course,
  monthOf: Int32Array,
  months: readonly DaySpan[],
  inside: readonly Inside[] = insideOf(course, months),
): MonthCounts {
  const begins = new Int32Array(months.length);
  const ends = new Int32Array(months.length);
  let stride = 0;
  for (let month = months.length - 1; month >= 0; month -= 1) {
    begins[month] = stride;
    stride += inside[month]?.width ?? 0;
    ends[month] = stride;
  }
  const rows = rowsAfter(course, course.last, {
    stride,
    include: (numbers, at, { day }) => {
      const month = monthOf[day] ?? 0;
      // Chances of the later months are those of the parts that follow; its own month is told by itself.
      inside[month]?.put(day, numbers, at + (begins[month] ?? 0));
      return ends[month] ?? 0;
    },
  });
  return { rows, begins, ends };
}

/** Numbers rarer than this in a month are left out. */
const RARE_IN_MONTH = 1e-11;

/** A month by itself: how many numbers have a chance in it, and where to put those of a part replaced on a day of it. */
export interface Inside {
  readonly width: number;
  readonly put: (day: number, rows: Float64Array, at: number) => void;
}

/**
 * Each month by itself. Parts of one life have the same where nothing falls due within the month it was fitted in.
 *
 * @param course The days ahead.
 * @param months Their days.
 * @returns Month by month.
 * @example
 * insideOf({ last: 4, inspections: Int32Array.of(3), due: Int32Array.of(2, 3, 4, 5, 6), good: new Float64Array(5).fill(1) }, [[0, 2], [2, 4]]).map(({ width }) => width) // => [2, 2]
 */
export function insideOf(course: Course, months: readonly DaySpan[]): readonly Inside[] {
  return months.map((days) => insideMonth(course, days));
}

function insideMonth(course: Course, [after, until]: DaySpan): Inside {
  const rows = countsAfter(shifted(course, after, until), [0, until - after]);
  // Of parts fitted sooner no number is smaller.
  rows.reach(0);
  rows.reach(1);
  const width = widestOf(rows);
  return {
    width,
    put: (day, to, at) => {
      rows.reach(day - after);
      const { numbers, starts, sizes } = rows;
      const [from, size] = [starts[day - after] ?? 0, sizes[day - after] ?? 0];
      for (let count = 1; count <= width; count += 1) {
        to[at + count - 1] = count < size ? (numbers[from + count] ?? 0) : 0;
      }
    },
  };
}

function widestOf({ numbers, starts, sizes }: Rows): number {
  let widest = 1;
  for (let day = 0; day < sizes.length; day += 1) {
    for (let count = (sizes[day] ?? 0) - 1; count > widest; count -= 1) {
      if ((numbers[(starts[day] ?? 0) + count] ?? 0) > RARE_IN_MONTH) widest = count;
    }
  }
  return widest;
}

// The same days told from the eve of a month on.
function shifted({ inspections, due, good }: Course, after: number, until: number): Course {
  const last = until - after;
  return {
    last,
    inspections: inspections.filter((day) => day > after && day <= until).map((day) => day - after),
    due: due.slice(after, until + 1).map((day) => day - after),
    good,
  };
}

/**
 * What a part in use does in every month, as rows tell it.
 *
 * @param ends When it is replaced next.
 * @param later What follows, by `monthCountsAfter`.
 * @returns A row, from which `monthChances` takes a month.
 * @example
 * Array.from(runningMonths({ size: 1, days: Int32Array.of(2), chances: Float64Array.of(0.5), onSchedule: false, left: 0.5 }, { rows: { stride: 1, numbers: Float64Array.of(1), starts: Int32Array.of(0, 0, 0), sizes: Uint16Array.of(0, 0, 1), reach: () => undefined }, begins: Int32Array.of(0), ends: Int32Array.of(1) })) // => [0.5]
 */
export function runningMonths(ends: Ends, later: MonthCounts): Float64Array {
  const { rows } = later;
  for (let at = 0; at < ends.size; at += 1) rows.reach(ends.days[at] ?? 0);
  const sums = new Float64Array(rows.stride);
  addLater(sums, 0, ends, rows);
  return sums;
}

/**
 * Chances of each number of replacements in a month: what is rare at the end is left out.
 *
 * @param sums What a part does in every month, by `runningMonths`.
 * @param later Where the month lies in it.
 * @param month Number of the month.
 * @returns Chances of 0, 1, 2, …
 * @example
 * Array.from(monthChances(Float64Array.of(0.5), { begins: Int32Array.of(0), ends: Int32Array.of(1) }, 0)) // => [0.5, 0.5]
 */
export function monthChances(
  sums: Float64Array,
  later: Pick<MonthCounts, "begins" | "ends">,
  month: number,
): Float64Array {
  const [begin, end] = [later.begins[month] ?? 0, later.ends[month] ?? 0];
  let [none, top] = [1, end - begin];
  for (let at = begin; at < end; at += 1) none -= sums[at] ?? 0;
  while (top > 0 && (sums[begin + top - 1] ?? 0) < RARE) top -= 1;
  const counts = new Float64Array(top + 1);
  counts[0] = Math.max(0, none);
  for (let count = 1; count <= top; count += 1) counts[count] = sums[begin + count - 1] ?? 0;
  return counts;
}
