import type { Day } from "./day.ts";
import { type Distribution, mixtureOf, repeated, sumOf, trimmed } from "./distribution.ts";
import { type Life, possibleLives } from "./life.ts";
import {
  type Course,
  type DaySpan,
  type Ends,
  type Expected,
  expectedAfter,
  firstEnds,
  goodShares,
  inspectionDays,
} from "./renewal.ts";
import { type Counts, countsAfter, runningCounts } from "./renewal-counts.ts";
import { type MomentsAfter, momentsAfter, runningMoments } from "./renewal-moments.ts";
import { type MonthCounts, monthCountsAfter, runningMonths } from "./renewal-months.ts";
import {
  aheadMonths,
  dueOn,
  type LookAhead,
  type MonthNeed,
  type MonthPart,
  type MonthSpan,
  requireMonths,
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
  readonly counts: Map<number, Counts>;
  readonly moments: Map<readonly MonthSpan[], MomentsAfter>;
  readonly monthly: Map<Unit, readonly Float64Array[]>;
  months: MonthCounts | null;
  expected: Expected | null;
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

function wearingOf(life: Life | null, timetable: Timetable): Wearing {
  const { ahead, months, eachMonth, last, monthOf, inspections } = timetable;
  const daysOf = ([from, to]: MonthSpan): DaySpan => [
    eachMonth[from]?.[0] ?? 0,
    eachMonth[to]?.[1] ?? 0,
  ];
  const following = new Map<number, Following>();
  const first = new Map<Unit, Ends>();
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
    const known = first.get(unit);
    if (known !== undefined) return known;
    const age = ahead.from - unit.lastDone;
    const due = dueOn(unit.lastDone, unit.months, ahead) - ahead.from;
    const shares = due <= 0 ? course.good : goodTo(age + due);
    const ends = firstEnds({ age, due }, { ...course, good: shares });
    first.set(unit, ends);
    return ends;
  };
  return {
    counts: (unit, [from, to]) => {
      const after = followingOf(unit.then ?? unit.months);
      if (from === to) {
        return inMonths(after, { unit, ends: endsOf(unit, after) }, timetable)[from] ?? NONE;
      }
      const within = daysOf([from, to]);
      const key = within[0] * (last + 1) + within[1];
      const counts = after.counts.get(key) ?? countsAfter(after.course, within);
      after.counts.set(key, counts);
      return runningCounts(endsOf(unit, after), counts, within);
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
      return needOf(endsOf(unit, after), after.expected, timetable);
    },
  };
}

// Months are asked for one by one, and all of them worked out with the first.
function inMonths(
  after: Following,
  { unit, ends }: { readonly unit: Unit; readonly ends: Ends },
  { monthOf, eachMonth }: Timetable,
): readonly Float64Array[] {
  const known = after.monthly.get(unit);
  if (known !== undefined) return known;
  after.months ??= monthCountsAfter(after.course, monthOf, eachMonth);
  const made = runningMonths(ends, after.months, monthOf);
  after.monthly.set(unit, made);
  return made;
}

/** Chances of a month that is not looked at. */
const NONE = Float64Array.of(1);

/** Days of the longest month. */
const LONGEST_MONTH = 31;

function monthsOfDays(months: readonly MonthPart[], from: Day, last: number): Int32Array {
  const monthOf = new Int32Array(last + 1);
  months.forEach(({ after, until }, at) => {
    monthOf.fill(at, Math.max(0, after - from + 1), Math.max(0, until - from + 1));
  });
  return monthOf;
}

function needOf(
  { days, chances, onSchedule }: Ends,
  { scheduled, unplanned, reach }: Expected,
  { months: { length }, monthOf }: Timetable,
): Float64Array {
  const row = new Float64Array(2 * length);
  days.forEach((day, end) => {
    reach(day);
    const chance = chances[end] ?? 0;
    const month = monthOf[day] ?? 0;
    const booked = month + (onSchedule && end === days.length - 1 ? 0 : length);
    row[booked] = (row[booked] ?? 0) + chance;
    for (let at = month; at < length; at += 1) {
      const from = day * length + at;
      row[at] = (row[at] ?? 0) + chance * (scheduled[from] ?? 0);
      row[length + at] = (row[length + at] ?? 0) + chance * (unplanned[from] ?? 0);
    }
  });
  return row;
}

/**
 * Expected replacements of each part in use, month by month, where parts wear.
 *
 * @param units Parts in use.
 * @param ahead The time ahead.
 * @param wear The life of the parts, with or without its uncertainty.
 * @returns For each part its months, one for each of `aheadMonths`.
 * @throws InputError if a number is no such number.
 * @example
 * gridNeeds([{ lastDone: day("2026-01-10"), months: 3 }], { from: day("2026-04-01"), horizon: 1 }, { shape: 9, scale: 90 })[0][0].scheduled.toFixed(4) // => "1.0000"
 */
export function gridNeeds(units: readonly Unit[], ahead: LookAhead, wear: Life): MonthNeed[][] {
  const found = new Map<string, MonthNeed[]>();
  const lives = livesOf(ahead, wear);
  const months = aheadMonths(ahead);
  return units.map((unit) => {
    requireUnit(unit);
    const key = keyOf(unit);
    const known = found.get(key);
    if (known !== undefined) return known;
    const sums = months.map(({ month }) => ({ month, scheduled: 0, unplanned: 0 }));
    for (const { share, parts } of lives) {
      const row = parts.need(unit);
      sums.forEach((sum, at) => {
        sum.scheduled += share * (row[at] ?? 0);
        sum.unplanned += share * (row[sums.length + at] ?? 0);
      });
    }
    found.set(key, sums);
    return sums;
  });
}

/** A life that may be the true one, with its share and its parts. */
export interface OpenLife {
  readonly share: number;
  readonly parts: Wearing;
}

const known = new WeakMap<LookAhead, Map<Life, readonly OpenLife[]>>();

/**
 * The lives that a fit leaves open, each with its share and its parts. Of one time ahead and fit they are worked out
 * once, however often they are asked for.
 *
 * @param ahead The time ahead.
 * @param wear The life of the parts, with or without its uncertainty.
 * @returns Lives; their shares sum to 1.
 * @example
 * livesOf({ from: day("2026-04-01"), horizon: 1 }, { shape: 2.5, scale: 9 }).map(({ share }) => share) // => [1]
 */
export function livesOf(ahead: LookAhead, wear: Life): readonly OpenLife[] {
  const here = known.get(ahead) ?? new Map<Life, readonly OpenLife[]>();
  known.set(ahead, here);
  const lives = here.get(wear) ?? openLives(ahead, wear);
  here.set(wear, lives);
  return lives;
}

function openLives(ahead: LookAhead, wear: Life): OpenLife[] {
  const lives = possibleLives(wear);
  const parts = wearing(
    ahead,
    lives.map(({ life }) => life),
  );
  return lives.flatMap(({ share }, at) => {
    const own = parts[at];
    return own === undefined ? [] : [{ share, parts: own }];
  });
}

function keyOf({ lastDone, months, then = months }: Unit): string {
  return `${lastDone} ${months} ${then}`;
}

function requireUnit({ months, then = months }: Unit): void {
  requireMonths("months", months);
  requireMonths("then", then);
}

/**
 * Chances of each number of replacements of all parts in use, which wear independently.
 *
 * @param units Parts in use.
 * @param ahead The time ahead.
 * @param wear The life of the parts; with its uncertainty the chances are taken over all it leaves open.
 * @param spans Months counted together, each span for itself.
 * @returns Chances, one set a span.
 * @throws InputError if a number is no such number.
 * @example
 * gridDistributions([{ lastDone: day("2026-01-10"), months: 3 }], { from: day("2026-04-01"), horizon: 1 }, { shape: 9, scale: 90 }, [[0, 1]])[0].least // => 1
 */
export function gridDistributions(
  units: readonly Unit[],
  ahead: LookAhead,
  wear: Life,
  spans: readonly MonthSpan[],
): Distribution[] {
  aheadMonths(ahead);
  units.forEach(requireUnit);
  const alike = new Map<string, { readonly unit: Unit; times: number }>();
  for (const unit of units) {
    const group = alike.get(keyOf(unit));
    if (group === undefined) alike.set(keyOf(unit), { unit, times: 1 });
    else group.times += 1;
  }
  const lives = livesOf(ahead, wear);
  return spans.map((span) =>
    mixtureOf(
      lives.map(({ share, parts }) => ({
        share,
        distribution: sumOf(
          [...alike.values()].map(({ unit, times }) =>
            repeated(trimmed({ least: 0, chances: parts.counts(unit, span) }), times),
          ),
        ),
      })),
    ),
  );
}
