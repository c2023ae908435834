import { InputError } from "./errors.ts";
import { PERIOD, type Series } from "./smooth.ts";

/** How far forecasts were off. */
export interface Accuracy {
  /** Mean of the absolute errors, in the unit of the values. */
  readonly mae: number;
  /** Root of the mean squared error, in the unit of the values. */
  readonly rmse: number;
  /** mae over that of last cycle's value inside the history; null where that cannot be said. */
  readonly mase: number | null;
  /** rmse over that of last cycle's value inside the history; null where that cannot be said. */
  readonly rmsse: number | null;
}

/**
 * How far forecasts were off from what came, in the unit of the values and scaled by how far last
 * cycle's value was off within the history. Where the history is no longer than a cycle, or its cycles are
 * all alike, the scaled measures are null and mae and rmse have to do.
 *
 * @param came What came, step by step.
 * @param ahead What had been expected of it.
 * @param history What was known then, oldest first.
 * @param period Steps of a cycle, 12 for months.
 * @returns The measures, or null where no step has both values.
 * @see Hyndman and Koehler, Another look at measures of forecast accuracy, 2006, for the scaling.
 * @example
 * accuracy([5, 9], [4, 6], [1, 3, 2, 4], 2) // => { mae: 2, rmse: Math.sqrt(5), mase: 2, rmsse: Math.sqrt(5) }
 */
export function accuracy(
  came: Series,
  ahead: Series,
  history: Series,
  period = PERIOD,
): Accuracy | null {
  const errors = differences(came, ahead);
  if (errors.length === 0) return null;
  const [mae, rmse] = [meanSize(errors), rootMeanSquare(errors)];
  const steps = differences(history.slice(period), history);
  const [scale, squareScale] = [meanSize(steps), rootMeanSquare(steps)];
  const scaled = steps.length > 0 && scale > 0;
  return {
    mae,
    rmse,
    mase: scaled ? mae / scale : null,
    rmsse: scaled ? rmse / squareScale : null,
  };
}

/** A way to look ahead: the values known so far give one value for each of so many steps. */
export type Way = (series: Series, steps: number) => Series;

/** What a way of looking ahead is tried on. */
export interface Trial {
  /** Steps ahead. */
  readonly steps: number;
  /** Known values before the first try. */
  readonly least: number;
}

/**
 * Errors a way of looking ahead would have made: it is given the values up to each known one in turn and
 * compared with what came after. What is expected is subtracted from what came.
 *
 * @param series Values, oldest first.
 * @param way The way to look ahead.
 * @param trial Steps ahead and values needed before the first try.
 * @returns For each step ahead its errors, oldest first.
 * @throws InputError if fewer than one value is to be known before the first try.
 * @example
 * backtest([1, 2, 4], naive, { steps: 2, least: 1 }) // => [[1, 2], [3]]
 */
export function backtest(series: Series, way: Way, trial: Trial): number[][] {
  const { steps, least } = trial;
  if (!(least >= 1)) throw new InputError("least", "at least 1", least);
  const errors = Array.from({ length: steps }, (): number[] => []);
  let known = 0;
  for (let at = 0; at < series.length - 1; at += 1) {
    if (series[at] === null) continue;
    known += 1;
    if (known < least) continue;
    const reach = Math.min(steps, series.length - 1 - at);
    const ahead = way(series.slice(0, at + 1), reach);
    for (let step = 0; step < reach; step += 1) {
      const came = series[at + 1 + step] ?? null;
      const expected = ahead[step] ?? null;
      if (came !== null && expected !== null) errors[step]?.push(came - expected);
    }
  }
  return errors;
}

/**
 * Root of the mean squared error.
 *
 * @param errors Errors; none give 0.
 * @returns In the unit of the errors.
 * @example
 * rootMeanSquare([3, -4, 0, 0]) // => 2.5
 */
export function rootMeanSquare(errors: readonly number[]): number {
  if (errors.length === 0) return 0;
  return Math.sqrt(errors.reduce((sum, error) => sum + error * error, 0) / errors.length);
}

function meanSize(errors: readonly number[]): number {
  if (errors.length === 0) return 0;
  return errors.reduce((sum, error) => sum + Math.abs(error), 0) / errors.length;
}

function differences(values: Series, others: Series): number[] {
  return values.flatMap((value, index) => {
    const other = others[index] ?? null;
    return value === null || other === null ? [] : [value - other];
  });
}
