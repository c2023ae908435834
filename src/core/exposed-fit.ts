import { NoAnswerError } from "./errors.ts";
import { type ExposedFit, type ExposedLife, exposedRow } from "./exposed.ts";
import { inverseOf, type Matrix, productOf } from "./matrix.ts";

/**
 * The life under exposure that fits a log best: maximum likelihood by Newton's method, in parameters in which
 * the likelihood has a single top.
 *
 * @param lives Parts with their months in use, each with as many factors.
 * @returns Shape, start, effects and their uncertainty.
 * @throws InputError if a time or a pace is not above 0; NoAnswerError where no single answer follows, as without
 *   a failure, where all came at one age, or where a factor is the same everywhere.
 * @see Kalbfleisch and Prentice, The Statistical Analysis of Failure Time Data, on Weibull regression.
 * @example
 * exposedFit([3, 5, 6].map((months) => ({ months, failed: true, pace: 1, factors: [] }))).shape.toFixed(4) // => "4.5764"
 */
export function exposedFit(lives: readonly ExposedLife[]): ExposedFit {
  const rows = lives.map(exposedRow);
  // About their means the numbers are of one size and depend less on each other.
  const means = (rows[0] ?? []).map((_, at) => (at === START ? 0 : meanAt(rows, at)));
  const log: Log = {
    rows: rows.map((row) => row.map((value, at) => value - (means[at] ?? 0))),
    failed: lives.map(({ failed }) => (failed ? 1 : 0)),
  };
  const { parameters, covariance } = top(log);
  const [shape = NaN, , ...effects] = parameters;
  // Back from the means: start is what is left where the other numbers are 0.
  const toStart = means.map((mean, at) => (at === START ? 1 : -mean));
  const back = means.map((_, at) =>
    at === START ? toStart : means.map((_one, other) => (other === at ? 1 : 0)),
  );
  const spread = back.map((one) => covariance.map((row) => productOf(row, one)));
  return {
    shape,
    start: productOf(parameters, toStart),
    effects,
    covariance: back.map((one) => spread.map((other) => productOf(one, other))),
  };
}

/** Where the constant stands among the numbers of a life. */
const START = 1;

function meanAt(rows: Matrix, at: number): number {
  return rows.reduce((sum, row) => sum + (row[at] ?? 0), 0) / rows.length;
}

interface Log {
  readonly rows: Matrix;
  /** 1 for each failure, else 0. */
  readonly failed: readonly number[];
}

interface Top {
  readonly parameters: readonly number[];
  readonly covariance: Matrix;
}

const MOST_STEPS = 60;
/** What a step may still add to the logarithm of the likelihood when it is the last: the one after it adds the square. */
const LAST_GAIN = 1e-12;
/** A variance, of numbers of usual size, above which nothing holds a parameter: it goes on for ever. */
const LOOSE = 1e6;

function top(log: Log): Top {
  if (!log.failed.includes(1)) throw none();
  let parameters: readonly number[] = (log.rows[0] ?? []).map((_, at) => (at === 0 ? 1 : 0));
  for (let count = 0; count < MOST_STEPS; count += 1) {
    const { slope, curve } = slopes(parameters, log);
    const covariance = inverseOf(curve);
    if (covariance === null || covariance.some((row, at) => (row[at] ?? 0) > LOOSE)) break;
    const step = covariance.map((row) => productOf(row, slope));
    if (productOf(step, slope) <= LAST_GAIN) {
      return { parameters: parameters.map((value, at) => value + (step[at] ?? 0)), covariance };
    }
    parameters = moved(parameters, step, log);
  }
  throw none();
}

function none(): NoAnswerError {
  return new NoAnswerError(
    "needs a log from which a life under exposure follows, this one has none",
  );
}

// As far along a step as the likelihood does not fall.
function moved(from: readonly number[], step: readonly number[], log: Log): readonly number[] {
  const height = likelihood(from, log);
  for (let share = 1; share > Number.EPSILON; share /= 2) {
    const next = from.map((value, at) => value + share * (step[at] ?? 0));
    if (likelihood(next, log) >= height) return next;
  }
  return from;
}

function likelihood(parameters: readonly number[], { rows, failed }: Log): number {
  const [shape = NaN] = parameters;
  if (!(shape > 0)) return -Infinity;
  return rows.reduce((sum, row, at) => {
    const wear = productOf(parameters, row);
    return sum - Math.exp(wear) + (failed[at] ?? 0) * (Math.log(shape) + wear);
  }, 0);
}

// First derivatives of the likelihood, and the second ones with their signs turned.
function slopes(parameters: readonly number[], { rows, failed }: Log) {
  const [shape = NaN] = parameters;
  const failures = failed.reduce((sum, one) => sum + one, 0);
  const slope = parameters.map((_, at) => (at === 0 ? failures / shape : 0));
  const curve = parameters.map((_, at) =>
    parameters.map((_one, other) => (at === 0 && other === 0 ? failures / shape ** 2 : 0)),
  );
  rows.forEach((row, nth) => {
    const worn = Math.exp(productOf(parameters, row));
    row.forEach((value, at) => {
      slope[at] = (slope[at] ?? 0) + ((failed[nth] ?? 0) - worn) * value;
      const line = curve[at] ?? [];
      row.forEach((other, beside) => {
        line[beside] = (line[beside] ?? 0) + worn * value * other;
      });
    });
  });
  return { slope, curve };
}
