import { gammaQuantile, normalQuantile } from "./chance.ts";
import { InputError, requireAbove, requireNotBelowZero } from "./errors.ts";

/** One part's time in use, as the job log tells it. */
export interface Lifetime {
  /** Months in use when it ended, or so far. */
  readonly months: number;
  /** Whether wear or damage ended it; false where it was replaced on schedule, withdrawn or still runs. */
  readonly failed: boolean;
  /**
   * Months it had been in use when the log began; left out where the log saw it begin. Without it
   * parts that failed before the log began are forgotten and lives look longer than they are.
   */
  readonly entryAge?: number;
}

/** A Weibull life: the share still good after t months is exp(−(t / scale)^shape). */
export interface Life {
  /** Above 1 wear grows with age, at 1 age does not matter, below 1 early faults prevail. */
  readonly shape: number;
  /** Months after which 63.2% have failed. */
  readonly scale: number;
  /** How uncertain a fitted life is; left out for a life taken as known. */
  readonly covariance?: Covariance;
}

/** Variances and covariance of the logarithms of scale and shape. */
export interface Covariance {
  readonly scale: number;
  readonly shape: number;
  readonly both: number;
}

/** Lower and upper limit. */
export interface Limits {
  readonly low: number;
  readonly high: number;
}

/**
 * Share of parts that fail before an age, with limits: whether a scheduled age fits. Limits by the delta
 * method on ln(−ln(share good)), so that they stay between 0 and 1.
 *
 * @param months The age, above 0.
 * @param life The life; limits equal the share where it is taken as known.
 * @param level Chance that the limits hold the truth, above 0 and below 1.
 * @returns Share failed, 0 to 1, and its limits.
 * @throws InputError if the age, the life or the level is no such number.
 * @example
 * failedBefore(6, { shape: 2.5, scale: 9 }, 0.95).share.toFixed(5) // => "0.30434"
 */
export function failedBefore(
  months: number,
  life: Life,
  level: number,
): Limits & { readonly share: number } {
  requireAbove("months", months);
  requireLife(life);
  const z = life.shape * Math.log(months / life.scale);
  const { scale, shape, both } = life.covariance ?? { scale: 0, shape: 0, both: 0 };
  const variance = life.shape ** 2 * scale + z ** 2 * shape - 2 * life.shape * z * both;
  const width = deviations(level) * Math.sqrt(Math.max(0, variance));
  const failed = (at: number): number => -Math.expm1(-Math.exp(at));
  return { share: failed(z), low: failed(z - width), high: failed(z + width) };
}

/**
 * A few lives that stand for all those a fit leaves open, each with its share: three by three points
 * of Gauss and Hermite over the logarithms of scale and shape. A life taken as known stands alone.
 *
 * @param life The life, with or without its uncertainty.
 * @returns Lives and shares; the shares sum to 1.
 * @throws InputError if the life is none.
 * @see Abramowitz and Stegun, Handbook of Mathematical Functions, table 25.10.
 * @example
 * possibleLives({ shape: 2.5, scale: 9 }) // => [{ share: 1, life: { shape: 2.5, scale: 9 } }]
 */
export function possibleLives(
  life: Life,
): readonly { readonly share: number; readonly life: Life }[] {
  requireLife(life);
  const { shape, scale, covariance } = life;
  if (!covariance) return [{ share: 1, life }];
  const spread = Math.sqrt(covariance.scale);
  const along = covariance.both / spread;
  const beside = Math.sqrt(Math.max(0, covariance.shape - along ** 2));
  return POINTS.flatMap((one) =>
    POINTS.map((other) => ({
      share: one.share * other.share,
      life: {
        scale: scale * Math.exp(spread * one.at),
        shape: shape * Math.exp(along * one.at + beside * other.at),
      },
    })),
  );
}

const POINTS = [
  { at: -Math.sqrt(3), share: 1 / 6 },
  { at: 0, share: 2 / 3 },
  { at: Math.sqrt(3), share: 1 / 6 },
];

/** Failures and the months in use in which they came, over all parts. */
export interface FailureCount {
  readonly failures: number;
  readonly months: number;
}

/**
 * Failures a month in use, with exact limits; also where none or few were seen.
 *
 * @param count Failures and months in use.
 * @param level Chance that the limits hold the truth; with no failure the upper one alone holds with
 *   chance (1 + level) / 2.
 * @returns Failures a month and limits.
 * @throws InputError if a number is no such number.
 * @see NIST/SEMATECH e-Handbook of Statistical Methods, 8.4.5.1, chi-squared limits.
 * @example
 * failureRate({ failures: 0, months: 36 }, 0.9).high.toFixed(4) // => "0.0832"
 */
export function failureRate(
  count: FailureCount,
  level: number,
): Limits & { readonly rate: number } {
  const { failures, months } = count;
  requireFailureCount(count);
  requireLevel(level);
  const low = failures === 0 ? 0 : gammaQuantile((1 - level) / 2, failures) / months;
  return {
    rate: failures / months,
    low,
    high: gammaQuantile((1 + level) / 2, failures + 1) / months,
  };
}

/**
 * Failures a month in use to be expected where few or none were seen: the mean under Jeffreys' prior for
 * a Poisson rate, half a failure more than was seen. None seen is not none to come.
 *
 * @param count Failures and months in use.
 * @returns Failures a month, above 0.
 * @throws InputError if a number is no such number.
 * @see Jeffreys, Theory of Probability, 3rd ed., section 3.1 (from memory).
 * @example
 * jeffreysRate({ failures: 2, months: 50 }) // => 0.05
 */
export function jeffreysRate(count: FailureCount): number {
  requireFailureCount(count);
  return (count.failures + 0.5) / count.months;
}

/**
 * Failures in the months ahead under the same prior: the rate is gamma then, and the count of a Poisson
 * process of such a rate negative binomial. Fewer failures seen give more spread.
 *
 * @param count Failures and months in use so far.
 * @param monthsAhead Months in use to come, over all parts, zero or more.
 * @returns Mean and variance of the failures to come.
 * @throws InputError if a number is no such number.
 * @example
 * failuresAhead({ failures: 0, months: 12 }, 12) // => { mean: 0.5, variance: 1 }
 */
export function failuresAhead(
  count: FailureCount,
  monthsAhead: number,
): { readonly mean: number; readonly variance: number } {
  requireNotBelowZero("monthsAhead", monthsAhead);
  const mean = jeffreysRate(count) * monthsAhead;
  return { mean, variance: mean + mean ** 2 / (count.failures + 0.5) };
}

/**
 * Refuses what is no count of failures.
 *
 * @param count Failures and months in use.
 * @returns Nothing.
 * @throws InputError if a number is no such number.
 * @example
 * requireFailureCount({ failures: 1, months: 12 }) // => undefined
 */
export function requireFailureCount(count: FailureCount): void {
  const { failures, months } = count;
  if (!(Number.isInteger(failures) && failures >= 0)) {
    throw new InputError("failures", "a whole number of at least 0", failures);
  }
  requireAbove("months", months);
}

/**
 * Refuses what is no life.
 *
 * @param life Shape and scale.
 * @returns Nothing.
 * @throws InputError if one is not above 0.
 * @example
 * requireLife({ shape: 2.5, scale: 9 }) // => undefined
 */
export function requireLife(life: Life): void {
  const { shape, scale } = life;
  requireAbove("shape", shape);
  requireAbove("scale", scale);
}

/**
 * Refuses what is no time in use.
 *
 * @param lifetime A part's time in use.
 * @returns Nothing.
 * @throws InputError if a time is not a number of at least 0.
 * @example
 * requireLifetime({ months: 5, failed: true }) // => undefined
 */
export function requireLifetime(lifetime: Lifetime): void {
  const { months, entryAge = 0 } = lifetime;
  if (!(Number.isFinite(months) && months >= 0)) {
    throw new InputError("months", "a number of at least 0", months);
  }
  if (!(entryAge >= 0 && entryAge <= months)) {
    throw new InputError("entryAge", `from 0 to months (${months})`, entryAge);
  }
}

/**
 * Standard deviations on either side that hold a share of a normal distribution.
 *
 * @param level The share, above 0 and below 1.
 * @returns Standard deviations.
 * @throws InputError if the level is no such number.
 * @example
 * deviations(0.95).toFixed(4) // => "1.9600"
 */
export function deviations(level: number): number {
  requireLevel(level);
  return normalQuantile((1 + level) / 2);
}

/**
 * Refuses what is no level.
 *
 * @param level Chance.
 * @returns Nothing.
 * @throws InputError if it is not above 0 and below 1.
 * @example
 * requireLevel(0.9) // => undefined
 */
export function requireLevel(level: number): void {
  if (!(level > 0 && level < 1)) throw new InputError("level", "above 0 and below 1", level);
}
