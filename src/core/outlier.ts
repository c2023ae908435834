import { InputError } from "./errors.ts";

/** Distance from the middle, in spreads, beyond which a value is out of line. Source: Iglewicz and Hoaglin 1993. */
const CUT = 3.5;

/** The median absolute deviation of a normal variable, in standard deviations; the 75% point of the normal. */
const NORMAL_DEVIATION = 0.6745;

/**
 * Share by which sound monthly counts differ from month to month besides chance. Common practice, no
 * source; tests/core/outlier.test.ts measures what it does.
 */
const MONTHLY_SHARE = 0.25;

/** Nearer than this to the middle a value is in line: no spread is less than 1, and what rounding may move is left out. */
const NEAR = CUT - 1e-6;

/** Counts before and after one that it is judged by: a year each way. */
const REACH = 12;

/** Fewest counts of which one can be out of line with the others. */
const FEWEST = 3;

/** Counts within which one is in line with the others. */
export interface CountLimits {
  /** Least and greatest whole count in line. */
  readonly low: number;
  readonly high: number;
  /** The middle count. */
  readonly middle: number;
}

/** On which side a count is out of line, or null. */
export type OutOfLine = "low" | "high" | null;

/**
 * The counts that are in line with some others.
 *
 * Counts are put on a scale on which their spread no longer depends on their size, 2 √(count + 3/8); a
 * count is out of line when its modified z-score there is beyond 3.5: its distance from the median over
 * the median absolute deviation / 0.6745. That spread is never taken as less than chance gives counts
 * (1 on this scale) with a quarter from month to month besides: a few counts may be alike by chance.
 *
 * @param counts Counts, whole or not, zero or more.
 * @returns Limits and the middle; null where there are fewer than three counts.
 * @throws InputError if a count is no such number.
 * @see Anscombe, The transformation of Poisson, binomial and negative-binomial data, Biometrika 35,
 *   1948, for the scale; Iglewicz and Hoaglin, How to Detect and Handle Outliers, 1993, for the score and
 *   its limit 3.5; both from memory.
 * @example
 * countLimits([98, 74, 116, 92, 90, 95, 3]) // => { low: 26, high: 200, middle: 92 }
 * countLimits([98, 74]) // => null
 */
export function countLimits(counts: readonly number[]): CountLimits | null {
  requireCounts(counts);
  if (counts.length < FEWEST) return null;
  const sorted = [...counts].sort((one, other) => one - other);
  const scaled = sorted.map(scale);
  const middle = middleOf(scaled);
  const deviations = scaled.map((one) => Math.abs(one - middle)).sort((one, other) => one - other);
  const spread = Math.max(middleOf(deviations) / NORMAL_DEVIATION, leastSpread(middle));
  const reach = CUT * spread;
  return {
    low: Math.ceil(countAt(middle - reach)),
    high: Math.floor(countAt(middle + reach)),
    middle: middleOf(sorted),
  };
}

/**
 * The counts out of line with those around them: each is judged by itself and up to twelve counts before
 * and after it (a Hampel filter), so that use which grows or falls over years is in line.
 *
 * @param counts Counts from the earliest month to the latest, without those that are missing.
 * @returns The side on which each is out of line, null for those in line.
 * @throws InputError if a count is no number of at least zero.
 * @see countLimits for the rule; Hampel 1974 for judging by median and median deviation (from memory).
 * @example
 * outOfLine([98, 74, 116, 92, 90, 95, 3]) // => [null, null, null, null, null, null, "low"]
 * outOfLine([9, 8, 90, 11]) // => [null, null, "high", null]
 */
export function outOfLine(counts: readonly number[]): OutOfLine[] {
  requireCounts(counts);
  // Filled one by one: Float64Array.from with a function takes far longer.
  const scaled = new Float64Array(counts.length);
  for (let at = 0; at < counts.length; at += 1) scaled[at] = scale(counts[at] ?? 0);
  return counts.map((count, at) => {
    const [from, to] = [Math.max(0, at - REACH), Math.min(counts.length, at + REACH + 1)];
    if (isNearMiddle(scaled, at, [from, to])) return null;
    const limits = countLimits(counts.slice(from, to));
    if (limits === null || (count >= limits.low && count <= limits.high)) return null;
    return count < limits.low ? "low" : "high";
  });
}

// Whether the middle of a window is so near that the value is in line whatever the spread: most are. It is where
// more than half of the values are no further below, and more than half no further above.
function isNearMiddle(
  scaled: Float64Array,
  at: number,
  [from, to]: readonly [number, number],
): boolean {
  const value = scaled[at] ?? 0;
  let [notBelow, notAbove] = [0, 0];
  for (let one = from; one < to; one += 1) {
    const apart = (scaled[one] ?? 0) - value;
    if (apart > -NEAR) notBelow += 1;
    if (apart < NEAR) notAbove += 1;
  }
  return notBelow * 2 > to - from && notAbove * 2 > to - from;
}

function requireCounts(counts: readonly number[]): void {
  for (const count of counts) {
    if (!(Number.isFinite(count) && count >= 0)) {
      throw new InputError("counts", "zero or more", count);
    }
  }
}

// The spread that a middle has at least: chance, and a share from month to month.
function leastSpread(middle: number): number {
  return Math.hypot(1, (MONTHLY_SHARE * middle) / 2);
}

// A count on the scale of equal spread, and back; below zero counts there is nothing.
function scale(count: number): number {
  return 2 * Math.sqrt(count + 3 / 8);
}

function countAt(scaled: number): number {
  return Math.max(0, (Math.max(0, scaled) / 2) ** 2 - 3 / 8);
}

// The middle of sorted numbers.
function middleOf(sorted: readonly number[]): number {
  const half = sorted.length / 2;
  if (sorted.length % 2 === 1) return sorted[Math.floor(half)] ?? 0;
  return ((sorted[half - 1] ?? 0) + (sorted[half] ?? 0)) / 2;
}
