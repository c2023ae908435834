import { NoAnswerError } from "./errors.ts";
import { PERIOD, requireShare, type Series } from "./smooth.ts";

/** How a level with a slope is smoothed. */
export interface TrendOptions {
  /** Weight of the latest value in the level, 0 to 1. */
  readonly alpha: number;
  /** Weight of the latest change in the slope, 0 to 1. */
  readonly beta: number;
  /** Share of the slope that is left a step on: 1 (the default) goes on for ever, below 1 it dies down. */
  readonly damp?: number;
  /** Level and slope before the first value; the first known value and 0 when left out. */
  readonly start?: { readonly level: number; readonly slope: number };
}

/**
 * Double exponential smoothing: a level and a slope, the slope damped if asked. Over a gap the level
 * goes on along its slope.
 *
 * @param series Values, oldest first.
 * @param steps Steps ahead.
 * @param options Weights, damping, start.
 * @returns One value a step.
 * @throws InputError if a weight is no share; NoAnswerError if no value is known.
 * @see NIST/SEMATECH e-Handbook of Statistical Methods, 6.4.3.3 and 6.4.3.4.
 * @example
 * smoothTrend([1, 2, 3], 2, { alpha: 0.5, beta: 0.5, start: { level: 0, slope: 1 } }) // => [4, 5]
 */
export function smoothTrend(series: Series, steps: number, options: TrendOptions): number[] {
  const alpha = requireShare(options.alpha, "alpha");
  const beta = requireShare(options.beta, "beta");
  const damp = requireShare(options.damp ?? 1, "damp");
  const first = series.find((value) => value !== null) ?? null;
  if (first === null) throw new NoAnswerError("needs at least one known value");
  let { level, slope } = options.start ?? { level: first, slope: 0 };
  for (const value of series) {
    const expected = level + damp * slope;
    const next = value === null ? expected : expected + alpha * (value - expected);
    slope = beta * (next - level) + (1 - beta) * damp * slope;
    level = next;
  }
  let left = 0;
  return Array.from({ length: steps }, (_, step) => {
    left += damp ** (step + 1);
    return level + left * slope;
  });
}

/** How a level with a slope and a season is smoothed. */
export interface SeasonOptions {
  /** Weights of the latest value in the level, the slope and the season, 0 to 1. */
  readonly alpha: number;
  readonly beta: number;
  readonly gamma: number;
  /** Steps of a cycle, 12 (the default) for months. */
  readonly period?: number;
}

/**
 * Triple exponential smoothing, season added. The first cycle gives level and season, what
 * the second differs by the slope; values are learnt from as of the second cycle. Over a gap the
 * level goes on along its slope and the season stays.
 *
 * @param series Values, oldest first, two cycles at least.
 * @param steps Steps ahead.
 * @param options Weights and period.
 * @returns One value a step.
 * @throws InputError if a weight is no share; NoAnswerError if two cycles are not there, or nothing is
 *   known of the first.
 * @see NIST/SEMATECH e-Handbook of Statistical Methods, 6.4.3.5, there with the season multiplied.
 * @example
 * smoothSeason([1, 3, 2, 4], 2, { alpha: 0.5, beta: 0, gamma: 0, period: 2 }) // => [2.625, 5.125]
 */
export function smoothSeason(series: Series, steps: number, options: SeasonOptions): number[] {
  const { period = PERIOD } = options;
  const alpha = requireShare(options.alpha, "alpha");
  const beta = requireShare(options.beta, "beta");
  const gamma = requireShare(options.gamma, "gamma");
  const first = meanOf(series.slice(0, period));
  if (first === null || series.length < 2 * period) {
    throw new NoAnswerError(`needs two cycles of ${period} steps with known values`);
  }
  // Only places known in both cycles: a missing high month must not look like a fall.
  const rises = series.slice(0, period).map((value, at) => {
    const later = series[at + period] ?? null;
    return value === null || later === null ? null : later - value;
  });
  let level = first;
  let slope = (meanOf(rises) ?? 0) / period;
  const season = series.slice(0, period).map((value) => (value === null ? 0 : value - first));
  for (let at = period; at < series.length; at += 1) {
    const value = series[at] ?? null;
    const seasonal = season[at % period] ?? 0;
    const expected = level + slope;
    const next = value === null ? expected : expected + alpha * (value - seasonal - expected);
    slope = beta * (next - level) + (1 - beta) * slope;
    if (value !== null) season[at % period] = gamma * (value - next) + (1 - gamma) * seasonal;
    level = next;
  }
  return Array.from({ length: steps }, (_, step) => {
    const seasonal = season[(series.length + step) % period] ?? 0;
    return level + (step + 1) * slope + seasonal;
  });
}

function meanOf(series: Series): number | null {
  const values = series.filter((value) => value !== null);
  if (values.length === 0) return null;
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}
