import type { Day } from "./day.ts";
import type { Life } from "./life.ts";
import {
  type Course,
  type DaySpan,
  type Ends,
  firstEnds,
  goodShares,
  inspectionDays,
} from "./renewal.ts";
import { countsAfter, runningCounts } from "./renewal-counts.ts";
import { expectedAfter, runningExpected } from "./renewal-expected.ts";
import { momentsAfter, runningMoments } from "./renewal-moments.ts";
import {
  type Inside,
  insideOf,
  monthChances,
  type MonthCounts,
  monthCountsAfter,
  runningMonths,
} from "./renewal-months.ts";
import type { Rows } from "./renewal-rows.ts";
import {
  aheadMonths,
  dueOn,
  type LookAhead,
  type MonthPart,
  type MonthSpan,
  type Unit,
} from "./schedule.ts";

/** Parts of one life in the time ahead; what several of them share is worked out once. */
export interface Wearing {
  /** Chances of each number of replacements of a part within a span of months, from 0 on. */
  readonly counts: (unit: Unit, span: MonthSpan) => Float64Array;
  /** Mean, and mean of the square, of the replacements of a part in each span: the means first. */
  readonly moments: (unit: Unit, spans: readonly MonthSpan[]) => Float64Array;
  /** Expected replacements of a part: on schedule month by month, then early ones. */
  readonly need: (unit: Unit) => Float64Array;
}

/** Days ahead as all lives share them. */
interface Timetable {
  readonly ahead: LookAhead;
  readonly months: readonly MonthPart[];
  readonly eachMonth: readonly DaySpan[];
  readonly last: number;
  readonly monthOf: Int32Array;
  readonly inspections: Int32Array;
  /** Days on which a part fitted on each day is due, by its months. */
  readonly due: Map<number, Int32Array>;
}

/** What follows a part: its course, and what was found for it. */
interface Following {
  readonly course: Course;
  readonly counts: Map<number, Rows>;
  readonly moments: Map<readonly MonthSpan[], Rows>;
  readonly monthly: Map<Unit, Float64Array>;
  months: MonthCounts | null;
  expected: Rows | null;
}

/**
 * How parts fare in the time ahead, life by life: planned ends on the due day, early ones at the next
 * inspection, every 3.5 days after `from`. Nothing is rounded to a grid: it is the process itself, day by day.
 *
 * @param ahead The time ahead.
 * @param lives Lives the parts may have; null where they never wear.
 * @returns For each life what is asked of its parts.
 * @throws InputError if the horizon is no such number.
 * @example
 * wearing({ from: day("2026-04-01"), horizon: 1 }, [null])[0].need({ lastDone: day("2026-01-10"), months: 3 }).join(" ") // => "1 0 0 0"
 */
export function wearing(ahead: LookAhead, lives: readonly (Life | null)[]): Wearing[] {
  const months = aheadMonths(ahead);
  const last = (months.at(-1)?.until ?? ahead.from) - ahead.from;
  const timetable: Timetable = {
    ...{ ahead, months, last, due: new Map<number, Int32Array>() },
    eachMonth: months.map(({ after, until }): DaySpan => [after - ahead.from, until - ahead.from]),
    monthOf: monthsOfDays(months, ahead.from, last),
    inspections: inspectionDays(last),
  };
  return lives.map((life) => wearingOf(life, timetable));
}

function dueAfter({ ahead, last, due }: Timetable, then: number): Int32Array {
  const known = due.get(then);
  if (known !== undefined) return known;
  const made = Int32Array.from(
    { length: last + 1 },
    (_, day) => dueOn((ahead.from + day) as Day, then, ahead) - ahead.from,
  );
  due.set(then, made);
  return made;
}

function nothingFollows(): Omit<Following, "course"> {
  const none = { counts: new Map(), moments: new Map(), monthly: new Map() };
  return { ...none, months: null, expected: null };
}

/** What follows parts of a life, and when they are replaced next: worked out once. */
interface Courses {
  readonly followingOf: (then: number) => Following;
  readonly endsOf: (unit: Unit, after: Following) => Ends;
}

function coursesOf(life: Life | null, timetable: Timetable): Courses {
  const { ahead, last, inspections } = timetable;
  const following = new Map<number, Following>();
  const first = new Map<number, Map<Day, Ends>>();
  // Grown when an older part asks for more.
  let good = goodShares(life, 0);
  const goodTo = (days: number): Float64Array => {
    if (days >= good.length) good = goodShares(life, days + good.length);
    return good;
  };
  const followingOf = (then: number): Following => {
    const known = following.get(then);
    if (known !== undefined) return known;
    const due = dueAfter(timetable, then);
    const course = { last, inspections, due, good: goodTo(then * LONGEST_MONTH) };
    const made: Following = { ...nothingFollows(), course };
    following.set(then, made);
    return made;
  };
  const endsOf = (unit: Unit, { course }: Following): Ends => {
    // What follows it makes no difference.
    const alike = first.get(unit.months) ?? new Map<Day, Ends>();
    first.set(unit.months, alike);
    const known = alike.get(unit.lastDone);
    if (known !== undefined) return known;
    const age = ahead.from - unit.lastDone;
    const due = dueOn(unit.lastDone, unit.months, ahead) - ahead.from;
    const shares = due <= 0 ? course.good : goodTo(age + due);
    const ends = firstEnds({ age, due }, { ...course, good: shares });
    alike.set(unit.lastDone, ends);
    return ends;
  };
  return { followingOf, endsOf };
}

function wearingOf(life: Life | null, timetable: Timetable): Wearing {
  const { months, eachMonth, last, monthOf } = timetable;
  const { followingOf, endsOf } = coursesOf(life, timetable);
  const daysOf = ([from, to]: MonthSpan): DaySpan => [
    eachMonth[from]?.[0] ?? 0,
    eachMonth[to]?.[1] ?? 0,
  ];
  // Intervals longer than a month make no difference within one.
  let inside: readonly Inside[] | undefined;
  const monthsAfter = (course: Course): MonthCounts => {
    const isLong = course.due.every((day, fitted) => day - fitted > LONGEST_MONTH);
    if (isLong) inside ??= insideOf(course, eachMonth);
    return monthCountsAfter(course, monthOf, eachMonth, isLong ? inside : undefined);
  };
  // Months are asked for one by one, and all of them worked out with the first.
  const inMonth = (after: Following, unit: Unit, month: number): Float64Array => {
    const { monthly } = after;
    after.months ??= monthsAfter(after.course);
    const sums = monthly.get(unit) ?? runningMonths(endsOf(unit, after), after.months);
    monthly.set(unit, sums);
    return monthChances(sums, after.months, month);
  };
  return {
    counts: (unit, [from, to]) => {
      const after = followingOf(unit.then ?? unit.months);
      if (from === to) {
        return inMonth(after, unit, from);
      }
      const within = daysOf([from, to]);
      const key = within[0] * (last + 1) + within[1];
      const counts = after.counts.get(key) ?? countsAfter(after.course, within);
      after.counts.set(key, counts);
      return runningCounts(endsOf(unit, after), counts);
    },
    moments: (unit, spans) => {
      const after = followingOf(unit.then ?? unit.months);
      const later = after.moments.get(spans) ?? momentsAfter(after.course, spans.map(daysOf));
      after.moments.set(spans, later);
      return runningMoments(endsOf(unit, after), later);
    },
    need: (unit) => {
      const after = followingOf(unit.then ?? unit.months);
      after.expected ??= expectedAfter(after.course, monthOf, months.length);
      return runningExpected(endsOf(unit, after), after.expected, monthOf);
    },
  };
}

/** Days of the longest month. */
const LONGEST_MONTH = 31;

function monthsOfDays(months: readonly MonthPart[], from: Day, last: number): Int32Array {
  const monthOf = new Int32Array(last + 1);
  months.forEach(({ after, until }, at) => {
    monthOf.fill(at, Math.max(0, after - from + 1), Math.max(0, until - from + 1));
  });
  return monthOf;
}
