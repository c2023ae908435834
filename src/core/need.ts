import { countDistribution } from "./count-distribution.ts";
import { DAYS_PER_MONTH } from "./counts.ts";
import { centralLimits, certain, type Distribution, meanOf } from "./distribution.ts";
import { gridDistributions, gridNeeds } from "./grid.ts";
import { failuresAhead, type FailureCount, jeffreysRate, type Life, type Limits } from "./life.ts";
import {
  type MonthPart,
  aheadMonths,
  type LookAhead,
  type MonthNeed,
  type MonthSpan,
  requireSpan,
  scheduledNeed,
  type Unit,
} from "./schedule.ts";

/**
 * What is known of how parts wear: a life (with the uncertainty of a fit, or taken as known); a few
 * failures, too few for a shape; or null, nothing wears out before its due date.
 */
export type Wear = Life | FailureCount | null;

/**
 * Expected replacements of each part in use, month by month.
 *
 * Without wear the calendar schedule. With a life planned ends come on the due day and early ones at the
 * next inspection, every 3.5 days after `from`, the parts fitted after them included. With a count of
 * failures the schedule and unplanned replacements at a steady rate of (failures + ½) / months.
 *
 * @param units Parts in use.
 * @param ahead The time ahead.
 * @param wear What is known of how parts wear.
 * @returns For each part its months in order, one more than the horizon; the first and the last are there
 *   in part.
 * @throws InputError if a number is no such number.
 * @example
 * needsAhead([{ lastDone: day("2026-01-10"), months: 3 }], { from: day("2026-04-01"), horizon: 1 }, null) // => [[{ month: day("2026-04-01"), scheduled: 1, unplanned: 0 }, { month: day("2026-05-01"), scheduled: 0, unplanned: 0 }]]
 */
export function needsAhead(units: readonly Unit[], ahead: LookAhead, wear: Wear): MonthNeed[][] {
  if (wear !== null && "shape" in wear) return gridNeeds(units, ahead, wear);
  const months = aheadMonths(ahead);
  const rate = wear === null ? 0 : jeffreysRate(wear);
  const unplanned = months.map((_, index) => rate * lengthOf(months, [index, index]));
  // Many parts of a large programme have the same need: it is told once.
  const known = new Map<string, MonthNeed[]>();
  return units.map((unit) => {
    const { lastDone, months: running, then } = unit;
    const key = `${lastDone} ${running} ${then}`;
    const found =
      known.get(key) ??
      scheduledNeed([unit], ahead).map((scheduled, index) => ({
        month: months[index]?.month ?? ahead.from,
        scheduled,
        unplanned: unplanned[index] ?? 0,
      }));
    known.set(key, found);
    return found;
  });
}

/**
 * Expected replacements of all parts in use, month by month: the sums of `needsAhead`.
 *
 * @param units Parts in use.
 * @param ahead The time ahead.
 * @param wear What is known of how parts wear.
 * @returns Months in order, one more than the horizon; the first and the last are there in part.
 * @throws InputError if a number is no such number.
 * @example
 * needAhead([{ lastDone: day("2026-01-10"), months: 3 }], { from: day("2026-04-01"), horizon: 1 }, null) // => [{ month: day("2026-04-01"), scheduled: 1, unplanned: 0 }, { month: day("2026-05-01"), scheduled: 0, unplanned: 0 }]
 */
export function needAhead(units: readonly Unit[], ahead: LookAhead, wear: Wear): MonthNeed[] {
  const sums = aheadMonths(ahead).map(({ month }) => ({ month, scheduled: 0, unplanned: 0 }));
  for (const need of needsAhead(units, ahead, wear)) {
    need.forEach(({ scheduled, unplanned }, index) => {
      const sum = sums[index];
      if (sum === undefined) return;
      sum.scheduled += scheduled;
      sum.unplanned += unplanned;
    });
  }
  return sums;
}

/**
 * Chances of each number of replacements of all parts in use, exact under what is known of wear: the numbers
 * of its parts, which wear independently, added up, over all lives a fit leaves open.
 *
 * @param units Parts in use.
 * @param ahead The time ahead.
 * @param wear What is known of how parts wear.
 * @param spans Months counted together, each span for itself; all of them when not given.
 * @returns Chances, one set a span.
 * @throws InputError if a number is no such number.
 * @example
 * needDistributions([{ lastDone: day("2026-01-10"), months: 3 }], { from: day("2026-04-01"), horizon: 12 }, null).map(meanOf) // => [4]
 */
export function needDistributions(
  units: readonly Unit[],
  ahead: LookAhead,
  wear: Wear,
  spans: readonly MonthSpan[] = [[0, ahead.horizon]],
): Distribution[] {
  for (const span of spans) requireSpan(span, ahead);
  if (wear !== null && "shape" in wear) return gridDistributions(units, ahead, wear, spans);
  const months = aheadMonths(ahead);
  const need = scheduledNeed(units, ahead);
  return spans.map((span) => {
    const scheduled = need.slice(span[0], span[1] + 1).reduce((sum, one) => sum + one, 0);
    const inUse = units.length * lengthOf(months, span);
    const unplanned = wear === null ? certain(0) : countDistribution(failuresAhead(wear, inUse));
    return { least: scheduled + unplanned.least, chances: unplanned.chances };
  });
}

/** What limits are asked for. */
export interface NeedOptions {
  /** Chance that the number lies within them; 0.9 when not given. */
  readonly level?: number;
  /** Months counted together, each span for itself; all of them when not given. */
  readonly spans?: readonly MonthSpan[];
}

/**
 * Expected replacements of all parts in use with central prediction limits.
 *
 * @param units Parts in use.
 * @param ahead The time ahead.
 * @param wear What is known of how parts wear.
 * @param options Level and spans.
 * @returns Expected number and limits, one set a span; without wear all three are the schedule's.
 * @throws InputError if a number is no such number.
 * @example
 * needLimits([{ lastDone: day("2026-01-10"), months: 3 }], { from: day("2026-04-01"), horizon: 12 }, null, {}) // => [{ expected: 4, low: 4, high: 4 }]
 */
export function needLimits(
  units: readonly Unit[],
  ahead: LookAhead,
  wear: Wear,
  options: NeedOptions,
): (Limits & { readonly expected: number })[] {
  const { level = 0.9, spans } = options;
  return needDistributions(units, ahead, wear, spans).map((distribution) => ({
    expected: meanOf(distribution),
    ...centralLimits(distribution, level),
  }));
}

// Months of 30.436875 days that calendar months of the time ahead last.
function lengthOf(months: readonly MonthPart[], [first, last]: MonthSpan): number {
  const days = months
    .slice(first, last + 1)
    .reduce((sum, { after, until }) => sum + until - after, 0);
  return days / DAYS_PER_MONTH;
}
