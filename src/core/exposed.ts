import { InputError, requireAbove } from "./errors.ts";
import { deviations, type Life, type Limits } from "./life.ts";
import { type Matrix, productOf } from "./matrix.ts";

/** What a part is exposed to, which may wear it sooner. */
export interface Exposure {
  /** What its life is counted in, for each month: 1 for months, its uses a month for uses. */
  readonly pace: number;
  /** Numbers that speed wear up or slow it down, such as the logarithm of the uses a month, or 1 for yes. */
  readonly factors: readonly number[];
}

/** A part at an age, or that came to an end at one. */
export interface ExposedAge extends Exposure {
  /** Months in use. */
  readonly months: number;
}

/** One part's time in use, and what it was exposed to. */
export interface ExposedLife extends ExposedAge {
  /** Whether wear or damage ended it. */
  readonly failed: boolean;
}

/**
 * A Weibull life that exposure speeds up. The logarithm of a part's wear, of which exp(−wear) are still good,
 * is shape · ln(months · pace) + start + Σ effect · factor.
 */
export interface ExposedFit {
  readonly shape: number;
  readonly start: number;
  /** One for each factor; above 0 wear comes sooner. */
  readonly effects: readonly number[];
  /** Variances and covariances of shape, start and effects, in that order. */
  readonly covariance: Matrix;
}

/**
 * What the parameters of a life under exposure are multiplied with: the logarithm of wear is the sum.
 *
 * @param age The age and the exposure.
 * @returns Numbers for shape, start and each effect.
 * @throws InputError if months or pace is not above 0.
 * @example
 * exposedRow({ months: 1, pace: 1, factors: [3] }) // => [0, 1, 3]
 */
export function exposedRow(age: ExposedAge): number[] {
  const { months, pace, factors } = age;
  requireAbove("months", months);
  requireAbove("pace", pace);
  return [Math.log(months * pace), 1, ...factors];
}

/**
 * How likely a log is under a life, by which kinds of life compare: the logarithm of the likelihood, of
 * densities a month for failures and of shares still good for the others.
 *
 * @param fit The life, such as one fitted to another log.
 * @param lives Parts with their months in use.
 * @returns The sum of logarithms.
 * @throws InputError if a time or a pace is not above 0, or there are other factors than were fitted.
 * @example
 * likelihoodOf({ shape: 1, start: 0, effects: [], covariance: [] }, [{ months: 2, failed: false, pace: 1, factors: [] }]) // => -2
 */
export function likelihoodOf(fit: ExposedFit, lives: readonly ExposedLife[]): number {
  return lives.reduce((sum, life) => {
    const wear = wearOf(fit, life);
    const density = life.failed ? Math.log(fit.shape / life.months) + wear : 0;
    return sum - Math.exp(wear) + density;
  }, 0);
}

/**
 * Share of parts that fail before an age under an exposure, with limits. The logarithm of wear is a sum of
 * the parameters, so its variance follows from theirs.
 *
 * @param fit The life.
 * @param age The age and the exposure.
 * @param level Chance that the limits hold the truth, above 0 and below 1.
 * @returns Share failed, 0 to 1, and its limits.
 * @throws InputError if the age, the pace or the level is no such number, or there are other factors than were fitted.
 * @example
 * failedUnder(exposedFit([3, 5, 6].map((months) => ({ months, failed: true, pace: 1, factors: [] }))), { months: 4, pace: 1, factors: [] }, 0.95).share.toFixed(4) // => "0.2723"
 */
export function failedUnder(
  fit: ExposedFit,
  age: ExposedAge,
  level: number,
): Limits & { readonly share: number } {
  const wear = wearOf(fit, age);
  const row = exposedRow(age);
  const variance = productOf(
    row,
    fit.covariance.map((one) => productOf(one, row)),
  );
  const width = deviations(level) * Math.sqrt(Math.max(0, variance));
  const failed = (at: number): number => -Math.expm1(-Math.exp(at));
  return { share: failed(wear), low: failed(wear - width), high: failed(wear + width) };
}

/**
 * The life in months of parts under one exposure.
 *
 * @param fit The life.
 * @param exposure What they are exposed to.
 * @returns Shape, and scale in months.
 * @throws InputError if the pace is not above 0, or there are other factors than were fitted.
 * @example
 * lifeUnder({ shape: 2, start: 0, effects: [], covariance: [] }, { pace: 1 / 8, factors: [] }).scale.toFixed(4) // => "8.0000"
 */
export function lifeUnder(fit: ExposedFit, exposure: Exposure): Life {
  const { shape } = fit;
  return { shape, scale: Math.exp(-wearOf(fit, { ...exposure, months: 1 }) / shape) };
}

// The logarithm of wear.
function wearOf({ shape, start, effects }: ExposedFit, age: ExposedAge): number {
  if (age.factors.length !== effects.length) {
    throw new InputError(
      "factors",
      `as many as were fitted, ${effects.length}`,
      age.factors.length,
    );
  }
  return productOf([shape, start, ...effects], exposedRow(age));
}
