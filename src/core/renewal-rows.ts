import { countUpTo } from "./bisection.ts";
import type { Course, Ends } from "./renewal.ts";

/** What is known of a part that is replaced on each day ahead, that replacement included: a row of numbers a day. */
export interface Rows {
  /** How many numbers a row has at most. */
  readonly stride: number;
  /** The rows one after the other; more of them may need a longer array, so it is read after `reach`. */
  readonly numbers: Float64Array;
  /** Where the row of each day begins. */
  readonly starts: Int32Array;
  /** How many numbers of a day's row, from the first on, may differ from 0; none of a day that does not count. */
  readonly sizes: Uint16Array;
  /** Works out the row of a day, where it is none of an inspection; before it is read. */
  readonly reach: (day: number) => void;
}

/** What rows tell. */
export interface Told {
  readonly stride: number;
  /**
   * Adds what the replacement on a day is itself to the row of what follows it; how many numbers the row then has.
   * It begins at a place of `numbers` and has so many so far.
   */
  readonly include: (numbers: Float64Array, at: number, day: FittedDay) => number;
}

/** A day on which a part is fitted, when that part is replaced, and how many numbers follow from it. */
export interface FittedDay {
  readonly day: number;
  readonly ends: Ends;
  readonly size: number;
}

/** Numbers rarer than this are left out; so rare an end is taken together with the next one. */
export const RARE = 1e-14;

/**
 * A row for each day on which a part may be replaced: the renewal equation, solved from the last day back, for a row
 * is made of those of later days. First for all inspections and the due days they lead to, then for any other day
 * when it is asked for.
 *
 * @param course The days ahead.
 * @param until The last day that counts.
 * @param told What the rows tell.
 * @returns The rows.
 * @see Feller, An Introduction to Probability Theory and Its Applications, volume I, chapter XIII.
 * @example
 * ((rows) => (rows.reach(0), rows.numbers[rows.starts[0]]))(rowsAfter({ last: 9, inspections: Int32Array.of(3, 7), due: Int32Array.from({ length: 10 }, (_, day) => day + 4), good: new Float64Array(5).fill(1) }, 9, { stride: 1, include: (numbers, at) => ((numbers[at] += 1), 1) })) // => 3
 */
export function rowsAfter(course: Course, until: number, told: Told): Rows {
  const { inspections, due, last } = course;
  const { stride, include } = told;
  const reached = new Uint8Array(until + 1);
  const most = inspections.length + 1;
  const ends = {
    ...{ size: 0, days: new Int32Array(most), chances: new Float64Array(most) },
    ...{ onSchedule: false, left: 1 },
  };
  const reach = (day: number): void => {
    if (day > until || reached[day] === 1) return;
    reached[day] = 1;
    // All inspections after it have their rows; its due day may be none.
    reach(due[day] ?? last + 1);
    findEnds(ends, course, day, until);
    if (rows.numbers.length < used + stride) rows.numbers = lengthened(rows.numbers, stride);
    const { numbers } = rows;
    const before = addLater(numbers, used, ends, rows);
    const size = include(numbers, used, { day, ends, size: before });
    // What was left out of a row is nothing to the next one.
    if (before > size) numbers.fill(0, used + size, used + before);
    rows.starts[day] = used;
    rows.sizes[day] = size;
    used += size;
  };
  let used = 0;
  const rows: Writable<Rows> = {
    ...{ stride, reach },
    numbers: new Float64Array(FIRST_ROWS * stride),
    starts: new Int32Array(last + 1),
    sizes: new Uint16Array(last + 1),
  };
  for (let at = inspections.length - 1; at >= 0; at -= 1) reach(inspections[at] ?? 0);
  return rows;
}

/** Rows there is room for from the beginning: most are much shorter than the longest. */
const FIRST_ROWS = 32;

function lengthened(numbers: Float64Array, more: number): Float64Array {
  const longer = new Float64Array(2 * numbers.length + more);
  longer.set(numbers);
  return longer;
}

type Writable<Of> = { -readonly [Key in keyof Of]: Of[Key] };

function findEnds(ends: Writable<Ends>, course: Course, fitted: number, until: number): void {
  const { inspections, due, good, last } = course;
  const { days, chances } = ends;
  const ending = due[fitted] ?? last + 1;
  let size = 0;
  let still = 1;
  for (let at = countUpTo(inspections, fitted); at < inspections.length; at += 1) {
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

/**
 * Adds the rows of the days on which a part is replaced, each with its chance, to numbers. The innermost of a year:
 * two days are added at once, which halves the reads and writes of the sum.
 *
 * @param to What they are added to.
 * @param at Where it begins.
 * @param ends Days and chances.
 * @param rows Their rows.
 * @returns How many numbers were added to.
 * @example
 * ((sum) => [addLater(sum, 0, { size: 1, days: Int32Array.of(1), chances: Float64Array.of(0.5), onSchedule: true, left: 0.5 }, { stride: 1, numbers: Float64Array.of(4), starts: Int32Array.of(0, 0), sizes: Uint16Array.of(0, 1), reach: () => undefined }), sum[0]])(new Float64Array(1)) // => [1, 2]
 */
export function addLater(to: Float64Array, at: number, ends: Ends, rows: Rows): number {
  const { size, days, chances } = ends;
  const { numbers, starts, sizes } = rows;
  let most = 0;
  for (let end = 0; end < size; end += 2) {
    const one = days[end] ?? 0;
    const other = days[end + 1] ?? 0;
    const wide = sizes[one] ?? 0;
    const narrow = end + 1 < size ? (sizes[other] ?? 0) : 0;
    const from = starts[one] ?? 0;
    const beside = starts[other] ?? 0;
    const chance = of(chances, end);
    const next = of(chances, end + 1);
    const both = Math.min(wide, narrow);
    for (let k = 0; k < both; k += 1) {
      to[at + k] = of(to, at + k) + chance * of(numbers, from + k) + next * of(numbers, beside + k);
    }
    for (let k = both; k < wide; k += 1)
      to[at + k] = of(to, at + k) + chance * of(numbers, from + k);
    for (let k = both; k < narrow; k += 1)
      to[at + k] = of(to, at + k) + next * of(numbers, beside + k);
    most = Math.max(most, wide, narrow);
  }
  return most;
}

function of(row: Float64Array, at: number): number {
  return row[at] ?? 0;
}
