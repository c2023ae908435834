import { bisected } from "./bisection.ts";
import { NoAnswerError } from "./errors.ts";
import {
  type Covariance,
  deviations,
  type Life,
  type Limits,
  requireLifetime,
  type Lifetime,
} from "./life.ts";

/** A life fitted to a log. */
export interface LifeFit extends Life {
  readonly covariance: Covariance;
  /** Records used: those with time in use above zero. */
  readonly used: number;
  /** How many of them ended by wear or damage. */
  readonly failures: number;
}

/** Failures needed before a shape is given. */
const FEWEST_FAILURES = 3;

/**
 * The Weibull life that fits a log best (maximum likelihood, parts that did not fail counted
 * with the time they lasted). Records without time in use are left out.
 *
 * @param lifetimes Parts with their months in use.
 * @returns Shape, scale in months and their uncertainty.
 * @throws InputError if a time is no such number; NoAnswerError under three failures, or where all
 *   came at one age.
 * @see Lawless, Statistical Models and Methods for Lifetime Data, on the Weibull distribution.
 * @example
 * lifeFit([3, 5, 6].map((months) => ({ months, failed: true }))).shape.toFixed(4) // => "4.5764"
 * lifeFit([3, 5, 6].map((months) => ({ months, failed: true }))).scale.toFixed(4) // => "5.1386"
 */
export function lifeFit(lifetimes: readonly Lifetime[]): LifeFit {
  lifetimes.forEach(requireLifetime);
  const used = lifetimes.filter(({ months, entryAge = 0 }) => months > entryAge);
  const ages = used.flatMap(({ months, failed }) => (failed ? [months] : []));
  if (ages.length < FEWEST_FAILURES) {
    throw new NoAnswerError(`needs at least ${FEWEST_FAILURES} worn ends, got ${ages.length}`);
  }
  if (ages.every((age) => age === ages[0])) {
    throw new NoAnswerError("needs worn ends of different ages, all are the same");
  }
  // Ages as shares of the longest, so that powers of them stay within reach.
  const longest = used.reduce((most, { months }) => Math.max(most, months), 0);
  const terms = used.map(({ months }): Term => ({ log: Math.log(months / longest), sign: 1 }));
  for (const { entryAge = 0 } of used) {
    if (entryAge > 0) terms.push({ log: Math.log(entryAge / longest), sign: -1 });
  }
  const meanLog = ages.reduce((sum, age) => sum + Math.log(age / longest), 0) / ages.length;
  const shape = shapeOf(terms, meanLog);
  const powers = sums(terms, shape, 0);
  const logScale = Math.log(powers.plain / ages.length) / shape;
  const scale = longest * Math.exp(logScale);
  const covariance = covarianceOf(sums(terms, shape, logScale), shape, ages.length);
  if (!(covariance.scale > 0 && covariance.shape > 0 && Number.isFinite(scale))) throw shapeless();
  return { shape, scale, covariance, used: used.length, failures: ages.length };
}

/** The logarithm of an age, and whether time up to it counts or is taken away. */
interface Term {
  readonly log: number;
  readonly sign: 1 | -1;
}

/** Sums over the terms of w, w·z and w·z², where z = shape·(log − logScale) and w = exp z. */
interface Sums {
  readonly plain: number;
  readonly once: number;
  readonly twice: number;
}

function sums(terms: readonly Term[], shape: number, logScale: number): Sums {
  let [plain, once, twice] = [0, 0, 0];
  for (const { log, sign } of terms) {
    const z = shape * (log - logScale);
    const w = sign * Math.exp(z);
    plain += w;
    once += w * z;
    twice += w * z * z;
  }
  return { plain, once, twice };
}

// Where the likelihood is highest its slope in the shape changes from up to down.
function shapeOf(terms: readonly Term[], meanLog: number): number {
  const slope = (shape: number): number => {
    const { plain, once } = sums(terms, shape, 0);
    return 1 / shape + meanLog - once / plain / shape;
  };
  let [low, high] = [1, 1];
  while (low > LEAST_SHAPE && !(slope(low) > 0)) low /= 2;
  while (high < MOST_SHAPE && !(slope(high) < 0)) high *= 2;
  if (!(slope(low) > 0 && slope(high) < 0)) {
    throw shapeless();
  }
  const [rising, falling] = bisected(low, high, (shape) => !(slope(shape) > 0));
  return (rising + falling) / 2;
}

function shapeless(): NoAnswerError {
  return new NoAnswerError("needs a log from which a shape follows, this one has none");
}

const LEAST_SHAPE = 2 ** -20;
const MOST_SHAPE = 2 ** 50;

// The inverse of the observed information of (ln scale, ln shape).
function covarianceOf({ once, twice }: Sums, shape: number, failures: number): Covariance {
  const [ofScale, ofShape, ofBoth] = [shape ** 2 * failures, failures + twice, -shape * once];
  const determinant = ofScale * ofShape - ofBoth ** 2;
  return {
    scale: ofShape / determinant,
    shape: ofScale / determinant,
    both: -ofBoth / determinant,
  };
}

/**
 * Limits of a fitted life's shape and scale, from how sharp the likelihood is.
 *
 * @param fit The life with its uncertainty.
 * @param level Chance that a limit pair holds the truth, above 0 and below 1.
 * @returns Limits of the shape and of the scale in months.
 * @throws InputError if the level is no such number.
 * @example
 * fitLimits(lifeFit([3, 5, 6].map((months) => ({ months, failed: true }))), 0.95).shape.low.toFixed(3) // => "1.745"
 */
export function fitLimits(
  fit: LifeFit,
  level: number,
): { readonly shape: Limits; readonly scale: Limits } {
  const { shape, scale, covariance } = fit;
  const z = deviations(level);
  const around = (value: number, variance: number): Limits => {
    const factor = Math.exp(z * Math.sqrt(variance));
    return { low: value / factor, high: value * factor };
  };
  return { shape: around(shape, covariance.shape), scale: around(scale, covariance.scale) };
}
