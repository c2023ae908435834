import { InputError, NoAnswerError } from "./errors.ts";

/** Values at equal steps, the earliest first; null where one is not known. A gap is never a zero. */
export type Series = readonly (number | null)[];

/** Steps of one cycle where nothing else is said: the months of a year. */
export const PERIOD = 12;

/** Values from which the start of smoothing is averaged. */
const STARTED_FROM = 6;

/**
 * The latest known value, for every step ahead.
 *
 * @param series Values, oldest first.
 * @param steps Steps ahead.
 * @returns One value a step.
 * @throws NoAnswerError if no value is known.
 * @example
 * naive([4, 6, null], 2) // => [6, 6]
 */
export function naive(series: Series, steps: number): number[] {
  return level(known(series).at(-1) ?? 0, steps);
}

/**
 * The latest known value of the same place in the cycle: this May from the last May that has one.
 *
 * @param series Values, oldest first.
 * @param steps Steps ahead.
 * @param period Steps of a cycle, 12 for months.
 * @returns One value a step; null where no cycle has one.
 * @throws InputError if the period is no whole number above 0.
 * @example
 * seasonalNaive([1, 2, 3, 4, null, 6], 3, 3) // => [4, 2, 6]
 */
export function seasonalNaive(series: Series, steps: number, period = PERIOD): Series {
  if (!Number.isInteger(period) || period < 1) {
    throw new InputError("period", "a whole number of at least 1", period);
  }
  return Array.from({ length: steps }, (_, step) => {
    for (let at = series.length - period + (step % period); at >= 0; at -= period) {
      const value = series[at] ?? null;
      if (value !== null) return value;
    }
    return null;
  });
}

/**
 * The mean of the latest known values, for every step ahead.
 *
 * @param series Values, oldest first.
 * @param steps Steps ahead.
 * @param last How many known values are averaged; all of them when left out.
 * @returns One value a step.
 * @throws NoAnswerError if no value is known.
 * @example
 * movingMean([9, 2, null, 4], 1, 2) // => [3]
 */
export function movingMean(series: Series, steps: number, last = Infinity): number[] {
  return level(meanOf(known(series).slice(-last)), steps);
}

/** How a level is smoothed. */
export interface LevelOptions {
  /** Weight of the latest value, 0 to 1. */
  readonly alpha: number;
  /** Level before the first value; the mean of the first six known values when left out. */
  readonly start?: number;
}

/**
 * Single exponential smoothing: each known value draws the level towards itself by alpha; a gap leaves
 * it where it is.
 *
 * @param series Values, oldest first.
 * @param steps Steps ahead.
 * @param options Weight and start.
 * @returns The last level for every step.
 * @throws InputError if alpha is no share; NoAnswerError if no value is known.
 * @see NIST/SEMATECH e-Handbook of Statistical Methods, 6.4.3.1.
 * @example
 * smoothLevel([4, 6, null], 1, { alpha: 0.5, start: 4 }) // => [5]
 */
export function smoothLevel(series: Series, steps: number, options: LevelOptions): number[] {
  const alpha = requireShare(options.alpha, "alpha");
  const values = known(series);
  const start = options.start ?? meanOf(values.slice(0, STARTED_FROM));
  return level(
    values.reduce((at, value) => at + alpha * (value - at), start),
    steps,
  );
}

/** A level smoothed with the weight that fits best. */
export interface LevelFit {
  readonly alpha: number;
  /** Level before the first value. */
  readonly start: number;
  /** Level after the last value: what is expected next. */
  readonly level: number;
  /** Sum of the squared one-step errors. */
  readonly squares: number;
}

/** Weights tried before the search narrows, and how often it narrows. */
const TRIED = 20;
const NARROWED = 36;
const GOLDEN = (Math.sqrt(5) - 1) / 2;

/**
 * Single exponential smoothing with the least squared one-step errors.
 *
 * For a given weight the errors are linear in the start, so that the best start needs no search; each value
 * has a positive part in it, so that neither start nor level leaves the range of the values. The weight is
 * searched on a grid, then by golden section.
 *
 * @param series Values, oldest first.
 * @returns Weight, start, level and squared errors.
 * @throws NoAnswerError if no value is known.
 * @example
 * Number(fitLevel([4, 4, null, 4]).level.toFixed(6)) // => 4
 */
export function fitLevel(series: Series): LevelFit {
  const values = known(series);
  let best = fitStart(values, 0);
  const squaresAt = (alpha: number): number => {
    const found = fitStart(values, alpha);
    if (found.squares < best.squares) best = found;
    return found.squares;
  };
  for (let tried = 1; tried <= TRIED; tried += 1) squaresAt(tried / TRIED);
  let low = Math.max(0, best.alpha - 1 / TRIED);
  let high = Math.min(1, best.alpha + 1 / TRIED);
  let left = high - GOLDEN * (high - low);
  let right = low + GOLDEN * (high - low);
  let atLeft = squaresAt(left);
  let atRight = squaresAt(right);
  for (let time = 0; time < NARROWED; time += 1) {
    if (atLeft <= atRight) {
      [high, right, atRight] = [right, left, atLeft];
      left = high - GOLDEN * (high - low);
      atLeft = squaresAt(left);
    } else {
      [low, left, atLeft] = [left, right, atRight];
      right = low + GOLDEN * (high - low);
      atRight = squaresAt(right);
    }
  }
  return best;
}

// The level is held as drawn + kept · start: what the values add, and the share of the start still in it.
function fitStart(values: readonly number[], alpha: number): LevelFit {
  let drawn = 0;
  let kept = 1;
  let [cross, weight] = [0, 0];
  for (const value of values) {
    cross += kept * (value - drawn);
    weight += kept * kept;
    drawn += alpha * (value - drawn);
    kept *= 1 - alpha;
  }
  const start = cross / weight;
  let [at, squares] = [start, 0];
  for (const value of values) {
    const error = value - at;
    squares += error * error;
    at += alpha * error;
  }
  return { alpha, start, level: at, squares };
}

function known(series: Series): number[] {
  const values = series.filter((value) => value !== null);
  if (values.length === 0) throw new NoAnswerError("needs at least one known value");
  return values;
}

function meanOf(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}

function level(value: number, steps: number): number[] {
  return Array.from({ length: steps }, () => value);
}

/**
 * A share taken as a weight.
 *
 * @param value Any number.
 * @param name What the caller calls it, for the message.
 * @returns The value.
 * @throws InputError if it is no number from 0 to 1.
 * @example
 * requireShare(0.2, "alpha") // => 0.2
 */
export function requireShare(value: number, name: string): number {
  if (!(value >= 0 && value <= 1)) throw new InputError(name, "a share from 0 to 1", value);
  return value;
}
