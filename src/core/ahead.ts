import { backtest, rootMeanSquare, type Way } from "./accuracy.ts";
import { normalQuantile } from "./chance.ts";
import { countsByMonth } from "./counts.ts";
import { addMonths, civilDate, type Day, daysInMonth } from "./day.ts";
import { InputError, NoAnswerError } from "./errors.ts";
import { withoutSeason } from "./season.ts";
import { fitLevel, movingMean, naive, PERIOD } from "./smooth.ts";
import { seasonalNaive, type Series, smoothLevel } from "./smooth.ts";
import { smoothSeason, smoothTrend } from "./trend.ts";

/** Counts without which nothing is looked ahead to. */
const LEAST_COUNTS = 3;
/** Tries without which nothing is said about limits or the better way. */
const LEAST_TRIES = 6;
/** Months looked back at; what is older says nothing about the months to come. */
const LONGEST = 240;
/** Months with a count from which the season is tried as a way of its own. */
const SEASON_FROM = 48;
/** Another way must have an error below this share of the default's. */
const BETTER = 0.9;
/** Steps ahead on which ways are compared. */
const COMPARED = 3;

/** Ways of looking ahead by name; "combined" is the default. */
export const ways = {
  combined,
  "last month": naive,
  "last year": (series, steps) => lastYear(series, steps),
  "twelve months": (series, steps) => movingMean(series, steps, PERIOD),
  level: (series, steps) => smoothLevel(series, steps, { alpha: 0.2 }),
  "best level": (series, steps) => movingMean([fitLevel(series).level], steps),
  trend: (series, steps) => smoothTrend(series, steps, { alpha: 0.3, beta: 0.1, damp: 0.9 }),
  season: (series, steps) => smoothSeason(series, steps, { alpha: 0.3, beta: 0.1, gamma: 0.2 }),
} as const satisfies Readonly<Record<string, Way>>;

/** A way of looking ahead by name. */
export type WayName = keyof typeof ways;

/** One month to come. */
export interface MonthAhead {
  readonly month: Day;
  /** Uses expected in the whole month. */
  readonly expected: number;
  /** Limits; null where too few earlier tries reach so far ahead. */
  readonly low: number | null;
  readonly high: number | null;
}

/** How months are looked ahead to. */
export interface AheadOptions {
  /** Months to come, whole, at least 1. */
  readonly months: number;
  /** Chance that a month lies within its limits, above 0 and below 1; 0.8 when not given. */
  readonly level?: number;
  /** The way to take; "auto" asks betterWay. "combined" when not given. */
  readonly way?: WayName | "auto";
  /** Whether a count of zero is a real month without use; otherwise it is passed over like a blank. */
  readonly zeroCounts?: boolean;
  /** Whether limits are worked out, which takes most of the time; true when not given. */
  readonly limits?: boolean;
}

/**
 * Uses expected in the months to come, from monthly counts.
 *
 * Counts are taken per day of their month, so that a short month is no dip, and given back for the days of
 * the month to come. The months to come begin after the last month that has a count; a month without a
 * count is passed over, never taken as zero. Limits are the normal quantile times the root mean square of the
 * errors this way would have made so many months ahead; there are none below six of them.
 *
 * @param counts Uses in each month, zero or more; null where there is no count.
 * @param monthStarts A day of the month of each count, in any order.
 * @param options Months to come, level, way, and whether zeros count.
 * @returns One entry a month, nearest first.
 * @throws InputError if an argument is no such value; NoAnswerError below three counts in the last 20 years.
 * @example
 * usageAhead([31, 28, null, 30], [1, 2, 3, 4].map((month) => civilDay(2026, month, 1)), { months: 1 }) // => [{ month: day("2026-05-01"), expected: 31, low: null, high: null }]
 */
export function usageAhead(
  counts: readonly (number | null)[],
  monthStarts: readonly Day[],
  options: AheadOptions,
): MonthAhead[] {
  const { months, level = 0.8, way = "combined", zeroCounts = false, limits = true } = options;
  if (!Number.isInteger(months) || months < 1) {
    throw new InputError("months", "a whole number of at least 1", months);
  }
  if (!(level > 0 && level < 1)) throw new InputError("level", "above 0 and below 1", level);
  const { series, last } = perDay(countsByMonth(counts, monthStarts, zeroCounts));
  const name = way === "auto" ? betterWay(series) : way;
  const ahead = ways[name](series, months);
  const least = name === "season" ? 2 * PERIOD : LEAST_COUNTS;
  const errors = limits ? backtest(series, ways[name], { steps: months, least }) : [];
  const reach = -normalQuantile((1 - level) / 2);
  return ahead.map((rate, step) => {
    const month = addMonths(last, step + 1);
    const days = daysOf(month);
    const expected = Math.max(0, rate) * days;
    const tries = errors[step] ?? [];
    if (tries.length < LEAST_TRIES) return { month, expected, low: null, high: null };
    const wide = reach * rootMeanSquare(tries) * days;
    return { month, expected, low: Math.max(0, expected - wide), high: expected + wide };
  });
}

/**
 * The way of looking ahead that would have done best, if it is clearly better than the default.
 *
 * All ways are tried from 24 known values on, up to three steps ahead, six times at least. Another one is taken
 * only where its root mean squared error is 10% below that of the default: on real counts the pick of the
 * best so far does worse than the default. (Scaled errors compare alike; the scale is common.)
 *
 * @param series Values, oldest first; counts per day for months.
 * @returns The name of the way.
 * @example
 * betterWay([3, 4, 5]) // => "combined"
 */
export function betterWay(series: Series): WayName {
  const combinedError = errorOf(series, "combined");
  if (combinedError === null) return "combined";
  const known = series.filter((value) => value !== null).length;
  let best: WayName = "combined";
  let least = combinedError * BETTER;
  for (const name of Object.keys(ways) as WayName[]) {
    if (name === "combined" || (name === "season" && known < SEASON_FROM)) continue;
    const error = errorOf(series, name) ?? Infinity;
    if (error < least) [best, least] = [name, error];
  }
  return best;
}

function errorOf(series: Series, name: WayName): number | null {
  const errors = backtest(series, ways[name], { steps: COMPARED, least: 2 * PERIOD });
  return errors.some(({ length }) => length < LEAST_TRIES) ? null : rootMeanSquare(errors.flat());
}

// The default: what is left when an evident season is taken out goes on, and the season comes on top of it. Otherwise a
// level that follows the last months would take their season for all of the year to come.
function combined(series: Series, steps: number): number[] {
  const { series: plain, indexAt } = withoutSeason(series);
  return combinedPlain(plain, steps).map((rate, step) => rate * indexAt(series.length + step));
}

/**
 * The default way of looking ahead, of a series that has no season: three forecasts combined, which are the mean of the
 * level, the last twelve counts and last year's month. Where that month has no count the doubt goes towards more
 * use: the larger of what the other two say and an earlier year. Below twelve counts it is the smoothed level.
 *
 * @param series Values, oldest first, as withoutSeason gives them.
 * @param steps Steps ahead.
 * @returns One value a step.
 * @throws NoAnswerError if no value is known.
 * @example
 * combinedPlain([4, 4, 4], 2) // => [4, 4]
 */
export function combinedPlain(series: Series, steps: number): number[] {
  const known = series.filter((value) => value !== null).length;
  if (known < PERIOD) return smoothLevel(series, steps, { alpha: 0.2 });
  const level = fitLevel(series).level;
  const [year = level] = movingMean(series, 1, PERIOD);
  const steady = (level + year) / 2;
  return seasonalNaive(series, steps).map((before, step) => {
    const gap = (series[series.length - PERIOD + (step % PERIOD)] ?? null) === null;
    const seen = gap ? Math.max(steady, before ?? steady) : (before ?? steady);
    return (level + year + seen) / 3;
  });
}

function lastYear(series: Series, steps: number): number[] {
  const [year = 0] = movingMean(series, 1, PERIOD);
  return seasonalNaive(series, steps).map((before) => before ?? year);
}

// Counts per day of their month, one place a month up to the last that has a count.
function perDay(byMonth: ReadonlyMap<Day, number>): { series: Series; last: Day } {
  const found = [...byMonth];
  const last = found.reduce((latest, [month]) => Math.max(latest, month), 0) as Day;
  const end = monthNumber(last);
  const recent = found.filter(([month]) => end - monthNumber(month) < LONGEST);
  if (recent.length < LEAST_COUNTS) {
    throw new NoAnswerError(`needs at least ${LEAST_COUNTS} months with a count`);
  }
  const begin = Math.min(...recent.map(([month]) => monthNumber(month)));
  const series = Array.from({ length: end - begin + 1 }, (): number | null => null);
  for (const [month, count] of recent) series[monthNumber(month) - begin] = count / daysOf(month);
  return { series, last };
}

function monthNumber(date: Day): number {
  const { year, month } = civilDate(date);
  return year * 12 + month;
}

function daysOf(date: Day): number {
  const { year, month } = civilDate(date);
  return daysInMonth(year, month);
}
