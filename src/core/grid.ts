import { DAYS_PER_MONTH } from "./counts.ts";
import { certain, type Distribution, mixtureOf, repeated, sumOf } from "./distribution.ts";
import { type Life, possibleLives } from "./life.ts";
import { replacementsBetween, firstChances, newCounts, renewals, STEP_DAYS } from "./renewal.ts";
import {
  aheadMonths,
  type LookAhead,
  type MonthNeed,
  type MonthSpan,
  requireMonths,
  type Unit,
} from "./schedule.ts";

/**
 * Expected replacements of all parts in use, month by month, where parts wear: the exact recursion over the
 * inspections to come, every 3.5 days after `from`, each booked to its calendar month.
 *
 * @param units Parts in use.
 * @param ahead The time ahead.
 * @param wear The life of the parts, with or without its uncertainty.
 * @returns Months in order, one for each of `aheadMonths`.
 * @throws InputError if a number is no such number.
 * @example
 * gridNeed([{ lastDone: day("2026-01-10"), months: 3 }], { from: day("2026-04-01"), horizon: 1 }, { shape: 9, scale: 90 })[0].scheduled.toFixed(4) // => "1.0000"
 */
export function gridNeed(units: readonly Unit[], ahead: LookAhead, wear: Life): MonthNeed[] {
  const sums = aheadMonths(ahead).map(({ month }) => ({ month, scheduled: 0, unplanned: 0 }));
  const ends = lastSteps(ahead);
  const groups = groupsOf(units, ahead);
  for (const { share, life } of possibleLives(wear)) {
    for (const group of groups) {
      const steps = stepNeed(group, life, ends.at(-1) ?? 0);
      sums.forEach((sum, index) => {
        for (let step = (ends[index - 1] ?? 0) + 1; step <= (ends[index] ?? 0); step += 1) {
          sum.scheduled += share * (steps.scheduled[step] ?? 0);
          sum.unplanned += share * (steps.unplanned[step] ?? 0);
        }
      });
    }
  }
  return sums;
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
  const ends = lastSteps(ahead);
  const between = spans.map(([first, last]): [number, number] => [
    ends[first - 1] ?? 0,
    ends[last] ?? 0,
  ]);
  const groups = groupsOf(units, ahead);
  const lives = possibleLives(wear).map(({ share, life }) => ({
    share,
    found: distributionsOf(groups, life, between),
  }));
  return spans.map((_, index) =>
    mixtureOf(
      lives.map(({ share, found }) => ({ share, distribution: found[index] ?? certain(0) })),
    ),
  );
}

/**
 * Parts of one scheduled age and one for those fitted after them, and how many of them there are of each
 * age now; all in steps.
 */
interface Group {
  readonly scheduled: number;
  readonly then: number;
  readonly ages: ReadonlyMap<number, number>;
}

function groupsOf(units: readonly Unit[], { from }: LookAhead): Group[] {
  const groups = new Map<string, { scheduled: number; then: number; ages: Map<number, number> }>();
  for (const { lastDone, months, then = months } of units) {
    requireMonths("months", months);
    requireMonths("then", then);
    const scheduled = stepsIn(months);
    const age = Math.min(scheduled, Math.floor((from - lastDone) / STEP_DAYS));
    const key = `${months} ${then}`;
    const group = groups.get(key) ?? {
      scheduled,
      then: stepsIn(then),
      ages: new Map<number, number>(),
    };
    group.ages.set(age, (group.ages.get(age) ?? 0) + 1);
    groups.set(key, group);
  }
  return [...groups.values()];
}

function stepsIn(months: number): number {
  return Math.floor((months * DAYS_PER_MONTH) / STEP_DAYS);
}

// The last inspection of each month, counted from the first after `from`.
function lastSteps(ahead: LookAhead): number[] {
  const months = aheadMonths(ahead);
  const last = months.length - 1;
  // An inspection at noon belongs to its day, but the last day counts only to its beginning.
  return months.map(({ until }, index) =>
    index === last
      ? Math.floor((until - ahead.from) / STEP_DAYS)
      : Math.ceil((until + 1 - ahead.from) / STEP_DAYS) - 1,
  );
}

function stepNeed(
  { scheduled, then, ages }: Group,
  life: Life,
  last: number,
): { readonly scheduled: Float64Array; readonly unplanned: Float64Array } {
  const first = new Float64Array(last + 1);
  const onSchedule = new Float64Array(last + 1);
  for (const [age, count] of ages) {
    firstChances({ age, scheduled }, life, last).forEach((chance, step) => {
      first[step] = (first[step] ?? 0) + count * chance;
      const due = step === Math.max(1, scheduled - age);
      if (due) onSchedule[step] = (onSchedule[step] ?? 0) + count * chance;
    });
  }
  const next = firstChances({ age: 0, scheduled: then }, life, then);
  const expected = renewals(first, next);
  const unplanned = expected.map((all, step) => {
    onSchedule[step] = (onSchedule[step] ?? 0) + (expected[step - then] ?? 0) * (next[then] ?? 0);
    return Math.max(0, all - onSchedule[step]);
  });
  return { scheduled: onSchedule, unplanned };
}

function distributionsOf(
  groups: readonly Group[],
  life: Life,
  between: readonly (readonly [number, number])[],
): Distribution[] {
  const last = between.reduce((most, [, until]) => Math.max(most, until), 0);
  const longest = between.reduce((most, [after, until]) => Math.max(most, until - after), 0);
  const later = between.some(([after]) => after > 0);
  const parts = between.map((): Distribution[] => []);
  for (const { scheduled, then, ages } of groups) {
    const next = firstChances({ age: 0, scheduled: then }, life, then);
    const counts = newCounts(next, longest);
    for (const [age, times] of ages) {
      const first = firstChances({ age, scheduled }, life, last);
      const coming = { first, next, counts, expected: later ? renewals(first, next) : first };
      between.forEach((steps, index) => {
        const one = replacementsBetween(coming, steps);
        parts[index]?.push(repeated(one, times));
      });
    }
  }
  return parts.map(sumOf);
}
