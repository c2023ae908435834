import { type Course, type DaySpan, eachReached, type Ends } from "./renewal.ts";

/** Mean, and mean of the square, of the replacements in each of some spans, of a part fitted on each day. */
export interface MomentsAfter {
  /** For each day the means of all spans, then the means of squares. */
  readonly rows: Float64Array;
  readonly looked: Looked;
  /** Works out the row of a day, where it is none of an inspection; before it is read. */
  readonly reach: (day: number) => void;
}

/**
 * Mean, and mean of the square, of the replacements in each of some spans, of a part fitted on each day ahead: what
 * `countsAfter` has chance by chance, for fleets so large that no more is asked.
 *
 * @param course The days ahead.
 * @param spans Days counted together.
 * @returns Rows by day.
 * @example
 * (({ reach, rows }) => (reach(0), Array.from(rows.slice(0, 2))))(momentsAfter({ last: 4, inspections: Int32Array.of(3), due: Int32Array.of(2, 3, 4, 5, 6), good: new Float64Array(5).fill(1) }, [[0, 4]])) // => [2, 4]
 */
export function momentsAfter(course: Course, spans: readonly DaySpan[]): MomentsAfter {
  const rows = new Float64Array((course.last + 1) * 2 * spans.length);
  const looked = lookedAt(spans, course.last);
  const reach = eachReached(course, course.last, (fitted, { size, days, chances }) => {
    const to = { row: rows, at: fitted * 2 * spans.length };
    for (let end = 0; end < size; end += 1) {
      addEnd(to, { rows, looked }, days[end] ?? 0, chances[end] ?? 0);
    }
  });
  return { rows, looked, reach };
}

/** Spans as they are asked for day by day. */
interface Looked {
  readonly size: number;
  readonly afters: Int32Array;
  readonly untils: Int32Array;
  /** For each day the first span that it does not lie behind. */
  readonly opens: Int32Array;
}

function lookedAt(spans: readonly DaySpan[], last: number): Looked {
  const untils = Int32Array.from(spans, ([, until]) => until);
  const opens = Int32Array.from({ length: last + 1 }, (_, day) => {
    const first = untils.findIndex((until) => until >= day);
    return first < 0 ? spans.length : first;
  });
  return { size: spans.length, afters: Int32Array.from(spans, ([after]) => after), untils, opens };
}

// A replacement on a day with a chance, and those after it: the mean of (1 + n)² is that of 1 + 2n + n².
function addEnd(
  { row, at: to }: { readonly row: Float64Array; readonly at: number },
  { rows, looked }: Pick<MomentsAfter, "rows" | "looked">,
  day: number,
  chance: number,
): void {
  const { size, afters, untils, opens } = looked;
  const from = day * 2 * size;
  for (let at = opens[day] ?? size; at < size; at += 1) {
    const later = rows[from + at] ?? 0;
    const squares = rows[from + size + at] ?? 0;
    const after = afters[at] ?? 0;
    // What is due on the day looked ahead from is done then, and counts.
    const isIn = day <= (untils[at] ?? 0) && (day > after || (day === 0 && after === 0));
    row[to + at] = (row[to + at] ?? 0) + chance * (isIn ? 1 + later : later);
    row[to + size + at] =
      (row[to + size + at] ?? 0) + chance * (isIn ? 1 + 2 * later + squares : squares);
  }
}

/**
 * Mean, and mean of the square, of the replacements of a part in use in each span.
 *
 * @param ends When it is replaced next.
 * @param later What follows, by `momentsAfter`.
 * @returns The means of all spans, then the means of squares.
 * @example
 * Array.from(runningMoments({ days: [2], chances: [0.5], onSchedule: false }, momentsAfter({ last: 2, inspections: new Int32Array(0), due: Int32Array.of(9, 9, 9), good: new Float64Array(3).fill(1) }, [[0, 2]]))) // => [0.5, 0.5]
 */
export function runningMoments(ends: Ends, later: MomentsAfter): Float64Array {
  const { days, chances } = ends;
  const row = new Float64Array(2 * later.looked.size);
  days.forEach((day, end) => {
    later.reach(day);
    addEnd({ row, at: 0 }, later, day, chances[end] ?? 0);
  });
  return row;
}
