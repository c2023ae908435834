import { type Course, type DaySpan, eachReached, type Ends, type FittedEnds } from "./renewal.ts";
import { countsAfter } from "./renewal-counts.ts";

/**
 * Chances of 1, 2, … replacements within each month, of a part replaced on each day ahead: that replacement counts
 * in its own month. A row holds the months from the last one back to that of its day, for the rest have none.
 */
export interface MonthCounts {
  /** Numbers in a row. */
  readonly stride: number;
  readonly rows: Float64Array;
  /** Where each month begins in a row, and where it ends. */
  readonly begins: Int32Array;
  readonly ends: Int32Array;
  /** Works out the row of a day, where it is none of an inspection; before it is read. */
  readonly reach: (day: number) => void;
}

/**
 * Chances of each number of replacements in every month at once: what a part will do in months to come is what the
 * one that replaces it will, weighed by the day.
 *
 * @param course The days ahead.
 * @param monthOf Number of the month of each day.
 * @param months Their days.
 * @returns Rows by day.
 * @example
 * runningMonths({ days: [3], chances: [1], onSchedule: false }, monthCountsAfter({ last: 4, inspections: Int32Array.of(3), due: Int32Array.of(2, 3, 4, 5, 6), good: new Float64Array(5).fill(1) }, Int32Array.of(0, 0, 0, 1, 1), [[0, 2], [2, 4]]), Int32Array.of(0, 0, 0, 1, 1)).map((counts) => Array.from(counts)) // => [[1], [0, 1]]
 */
export function monthCountsAfter(
  course: Course,
  monthOf: Int32Array,
  months: readonly DaySpan[],
): MonthCounts {
  const inside = months.map((days) => insideOf(course, days));
  const begins = new Int32Array(months.length);
  const ends = new Int32Array(months.length);
  let stride = 0;
  for (let month = months.length - 1; month >= 0; month -= 1) {
    begins[month] = stride;
    stride += inside[month]?.width ?? 0;
    ends[month] = stride;
  }
  const rows = new Float64Array((course.last + 1) * stride);
  const reach = eachReached(course, course.last, (day, fitted) => {
    const month = monthOf[day] ?? 0;
    addLater({ stride, rows, begins, ends }, fitted, day, monthOf);
    inside[month]?.put(day, rows, day * stride + (begins[month] ?? 0));
  });
  return { stride, rows, begins, ends, reach };
}

/** Numbers rarer than this in a month are left out. */
const RARE = 1e-14;
const RARE_IN_MONTH = 1e-11;

// What a part fitted on a day leads to in the months after its own, which stand before it in the row.
function addLater(
  { stride, rows, begins, ends }: Omit<MonthCounts, "reach">,
  fitted: FittedEnds,
  day: number,
  monthOf: Int32Array,
): void {
  const to = day * stride;
  const later = begins[monthOf[day] ?? 0] ?? 0;
  for (let end = 0; end < fitted.size; end += 1) {
    const next = fitted.days[end] ?? 0;
    const chance = fitted.chances[end] ?? 0;
    const from = next * stride;
    const size = Math.min(later, ends[monthOf[next] ?? 0] ?? 0);
    for (let at = 0; at < size; at += 1) {
      rows[to + at] = (rows[to + at] ?? 0) + chance * (rows[from + at] ?? 0);
    }
  }
}

/** A month by itself: how many numbers have a chance in it, and where to put those of a part replaced on a day of it. */
interface Inside {
  readonly width: number;
  readonly put: (day: number, rows: Float64Array, at: number) => void;
}

function insideOf(course: Course, [after, until]: DaySpan): Inside {
  const moved = shifted(course, after, until);
  const { numbers, chances, reach } = countsAfter(moved, [0, until - after]);
  // Of parts fitted sooner no number is smaller.
  reach(0);
  reach(1);
  let width = 1;
  for (let at = 0; at < chances.length; at += 1) {
    const count = at % numbers;
    if (count >= width && (chances[at] ?? 0) > RARE_IN_MONTH) width = 1 + count;
  }
  return {
    width,
    put: (day, rows, at) => {
      reach(day - after);
      const from = (day - after) * numbers;
      for (let count = 0; count < width; count += 1) {
        rows[at + count] = chances[from + count] ?? 0;
      }
    },
  };
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
 * Chances of each number of replacements of a part in use in every month.
 *
 * @param ends When it is replaced next.
 * @param later What follows, by `monthCountsAfter`.
 * @param monthOf Number of the month of each day.
 * @returns For each month chances of 0, 1, 2, …
 * @example
 * runningMonths({ days: [2], chances: [0.5], onSchedule: false }, { stride: 1, rows: Float64Array.of(0, 0, 1), begins: Int32Array.of(0), ends: Int32Array.of(1), reach: () => undefined }, new Int32Array(3)).map((counts) => Array.from(counts)) // => [[0.5, 0.5]]
 */
export function runningMonths(
  ends: Ends,
  later: MonthCounts,
  monthOf: Int32Array,
): readonly Float64Array[] {
  const { days, chances } = ends;
  const { stride, rows, begins } = later;
  const sums = new Float64Array(stride);
  for (let at = 0; at < days.length; at += 1) {
    const day = days[at] ?? 0;
    if (day >= monthOf.length) break;
    later.reach(day);
    const chance = chances[at] ?? 0;
    const from = day * stride;
    // Months before that of the day have nothing of it.
    const size = later.ends[monthOf[day] ?? 0] ?? 0;
    for (let to = 0; to < size; to += 1)
      sums[to] = (sums[to] ?? 0) + chance * (rows[from + to] ?? 0);
  }
  return Array.from(begins, (begin, month) => withNone(sums, begin, later.ends[month] ?? 0));
}

// Chances of 1, 2, … with that of none before them, what is rare at the end left out.
function withNone(sums: Float64Array, begin: number, end: number): Float64Array {
  let [none, top] = [1, end - begin];
  for (let at = begin; at < end; at += 1) none -= sums[at] ?? 0;
  while (top > 0 && (sums[begin + top - 1] ?? 0) < RARE) top -= 1;
  const counts = new Float64Array(top + 1);
  counts[0] = Math.max(0, none);
  counts.set(sums.subarray(begin, begin + top), 1);
  return counts;
}
