import { type Course, type DaySpan, eachReached, type Ends, RARE } from "./renewal.ts";

/** Chances of 0, 1, 2, … replacements within some days of a part fitted on each day: rows of `numbers`. */
export interface Counts {
  readonly numbers: number;
  readonly chances: Float64Array;
  /** The largest number that has a chance, for each day. */
  readonly tops: Uint8Array;
  /** Works out the row of a day, where it is none of an inspection; before it is read. */
  readonly reach: (day: number) => void;
}

/**
 * Chances of each number of replacements within some days, of a part fitted on each day ahead.
 *
 * @param course The days ahead.
 * @param within The days: after the first of them, up to and including the second.
 * @returns One row of chances for each day up to the last one counted.
 * @example
 * (({ reach, chances }) => (reach(0), Array.from(chances).slice(0, 3)))(countsAfter({ last: 4, inspections: Int32Array.of(3), due: Int32Array.of(2, 3, 4, 5, 6), good: new Float64Array(5).fill(1) }, [0, 4])) // => [0, 0, 1]
 */
export function countsAfter(course: Course, within: DaySpan): Counts {
  const [after, until] = within;
  const numbers = numbersIn(course, within);
  const chances = new Float64Array((until + 1) * numbers);
  // Most replacements that have a chance worth telling, for each day.
  const tops = new Uint8Array(until + 1);
  const rows = { numbers, chances, tops };
  const reach = eachReached(course, until, (fitted, ends) => {
    for (let end = 0; end < ends.size; end += 1) {
      const day = ends.days[end] ?? 0;
      takeOver(rows, [fitted, day], ends.chances[end] ?? 0, day > after);
    }
    // What is not replaced by the end is none more.
    chances[fitted * numbers] = (chances[fitted * numbers] ?? 0) + ends.left;
  });
  return { ...rows, reach };
}

// A part fitted on one day is replaced on another with a chance: what is counted from there on.
function takeOver(
  { numbers, chances, tops }: Omit<Counts, "reach">,
  [fitted, day]: readonly [number, number],
  chance: number,
  counts: boolean,
): void {
  const from = day * numbers;
  const to = fitted * numbers + (counts ? 1 : 0);
  let top = Math.min(tops[day] ?? 0, numbers - (counts ? 2 : 1));
  while (top > 0 && chance * (chances[from + top] ?? 0) < RARE) top -= 1;
  for (let count = 0; count <= top; count += 1) {
    chances[to + count] = (chances[to + count] ?? 0) + chance * (chances[from + count] ?? 0);
  }
  const reached = top + (counts ? 1 : 0);
  if (reached > (tops[fitted] ?? 0)) tops[fitted] = reached;
}

// How many numbers may have a chance: the schedule's, and early ones well beyond their mean.
function numbersIn(course: Course, [after, until]: DaySpan): number {
  const { due, inspections, good } = course;
  let shortest = Infinity;
  for (let fitted = 0; fitted < due.length; fitted += 1) {
    shortest = Math.min(shortest, (due[fitted] ?? Infinity) - fitted);
  }
  const days = until - after;
  const looks = inspections.filter((day) => day > after && day <= until).length;
  let lasts = 0;
  for (let day = 0; day < Math.min(shortest, good.length); day += 1) lasts += good[day] ?? 0;
  const ends = days / Math.max(1, lasts);
  const early = Math.min(looks, Math.ceil(ends + 6 * Math.sqrt(ends) + 8));
  return 2 + Math.floor(Math.max(0, days - 1) / shortest) + early;
}

/**
 * Chances of each number of replacements of a part in use within some days.
 *
 * @param ends When it is replaced next.
 * @param later Chances for the parts fitted after it, by `countsAfter` for the same days.
 * @param within The days: after the first of them, up to and including the second.
 * @returns Chances of 0, 1, 2, …
 * @example
 * Array.from(runningCounts({ days: [2], chances: [0.5], onSchedule: false }, { numbers: 2, chances: Float64Array.of(1, 0, 1, 0, 1, 0), tops: Uint8Array.of(0, 0, 0), reach: () => undefined }, [0, 2])) // => [0.5, 0.5]
 */
export function runningCounts(ends: Ends, later: Counts, within: DaySpan): Float64Array {
  const { days, chances } = ends;
  const { numbers, tops, reach } = later;
  const [after, until] = within;
  for (const day of days) reach(day);
  const most = days.reduce((top, day) => (day > until ? top : Math.max(top, tops[day] ?? 0)), -1);
  const counts = new Float64Array(most + 2);
  let none = 1;
  for (let at = 0; at < days.length; at += 1) {
    const day = days[at] ?? 0;
    if (day > until) break;
    const chance = chances[at] ?? 0;
    // What is due on the day looked ahead from is done then, and counts.
    const shift = day > after || (day === 0 && after === 0) ? 1 : 0;
    none -= chance;
    const [from, top] = [day * numbers, tops[day] ?? 0];
    for (let count = 0; count <= top; count += 1) {
      const to = count + shift;
      counts[to] = (counts[to] ?? 0) + chance * (later.chances[from + count] ?? 0);
    }
  }
  counts[0] = (counts[0] ?? 0) + Math.max(0, none);
  return counts;
}
