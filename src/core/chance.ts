// The only file that knows the library of special functions; all chances stand on them.
import betainc from "@stdlib/math-base-special-betainc";
import erfc from "@stdlib/math-base-special-erfc";
import gammainc from "@stdlib/math-base-special-gammainc";
import gammaln from "@stdlib/math-base-special-gammaln";
import normalQuantileOf from "@stdlib/stats-base-dists-normal-quantile";
import { bisected } from "./bisection.ts";
import { InputError, requireAbove } from "./errors.ts";

/**
 * Chance that a standard normal value is at most z.
 *
 * @param z Standard deviations from the mean.
 * @returns Chance, 0 to 1.
 * @example
 * Number(normalAtMost(1.96).toFixed(4)) // => 0.975
 */
export function normalAtMost(z: number): number {
  return erfc(-z / Math.SQRT2) / 2;
}

/**
 * The standard normal value that is not exceeded with a given chance.
 *
 * @param chance Above 0 and below 1.
 * @returns Standard deviations from the mean.
 * @throws InputError if the chance is no such number.
 * @example
 * Number(normalQuantile(0.95).toFixed(5)) // => 1.64485
 */
export function normalQuantile(chance: number): number {
  const tail = Math.min(requireInside(chance), 1 - chance);
  // The library loses digits far out, in the end all of them; steps of Halley's bring them back.
  const far = Math.sqrt(-2 * Math.log(tail));
  let z = tail > 1e-12 ? normalQuantileOf(tail, 0, 1) : Math.log(far * 2.5) / far - far;
  for (let step = 0; step < 3; step += 1) {
    const density = Math.exp((-z * z) / 2) / Math.sqrt(2 * Math.PI);
    if (density < 1e-305) break;
    const off = (normalAtMost(z) - tail) / density;
    z -= off / (1 + (z * off) / 2);
  }
  return chance < 0.5 ? z : 0 - z;
}

/**
 * The value of a beta distribution that is not exceeded with a given chance.
 *
 * @param chance Above 0 and below 1.
 * @param a First shape, above 0.
 * @param b Second shape, above 0.
 * @returns Share, 0 to 1.
 * @throws InputError if a number is no such number.
 * @example
 * Number(betaQuantile(0.5, 2, 2).toFixed(6)) // => 0.5
 */
export function betaQuantile(chance: number, a: number, b: number): number {
  requireInside(chance);
  requireAbove("a", a);
  requireAbove("b", b);
  return reached(chance, 1, (share, above) => (above ? betaAbove : betaAtMost)(share, a, b));
}

/**
 * The value of a gamma distribution of scale 1 that is not exceeded with a given chance. Half a
 * chi-squared quantile of twice as many degrees of freedom as the shape.
 *
 * @param chance Above 0 and below 1.
 * @param shape Shape, above 0.
 * @returns Value, above 0.
 * @throws InputError if a number is no such number.
 * @example
 * Number(gammaQuantile(0.95, 1).toFixed(6)) // => 2.995732
 */
export function gammaQuantile(chance: number, shape: number): number {
  requireInside(chance);
  requireAbove("shape", shape);
  let most = shape + 1;
  while (most < Number.MAX_VALUE && gammaAbove(most, shape) > 1 - chance) {
    most = Math.min(most * 2, Number.MAX_VALUE);
  }
  return reached(chance, most, (value, above) => (above ? gammaAbove : gammaAtMost)(value, shape));
}

/**
 * Share of a gamma distribution of scale 1 below a value (the lower incomplete gamma function).
 *
 * @param value Zero or more.
 * @param shape Shape, above 0.
 * @returns Share, 0 to 1.
 * @example
 * Number(gammaAtMost(1, 1).toFixed(6)) // => 0.632121
 */
export function gammaAtMost(value: number, shape: number): number {
  return gammainc(value, shape, true, false);
}

/**
 * Share of a gamma distribution of scale 1 above a value (the upper incomplete gamma function).
 *
 * @param value Zero or more.
 * @param shape Shape, above 0.
 * @returns Share, 0 to 1; exact where it is too small to be told from 1 − gammaAtMost.
 * @example
 * Number(gammaAbove(1, 1).toFixed(6)) // => 0.367879
 */
export function gammaAbove(value: number, shape: number): number {
  return gammainc(value, shape, true, true);
}

/**
 * Share of a beta distribution below a value (the regularized incomplete beta function).
 *
 * @param value From 0 to 1.
 * @param a First shape, above 0.
 * @param b Second shape, above 0.
 * @returns Share, 0 to 1.
 * @example
 * betaAtMost(0.5, 2, 2) // => 0.5
 */
export function betaAtMost(value: number, a: number, b: number): number {
  return betainc(value, a, b, true, false);
}

/**
 * Share of a beta distribution above a value.
 *
 * @param value From 0 to 1.
 * @param a First shape, above 0.
 * @param b Second shape, above 0.
 * @returns Share, 0 to 1; exact where it is too small to be told from 1 − betaAtMost.
 * @example
 * betaAbove(0.25, 1, 1) // => 0.75
 */
export function betaAbove(value: number, a: number, b: number): number {
  // The library may give a share of nothing its sign.
  return Math.abs(betainc(value, a, b, true, true));
}

/**
 * Natural logarithm of the gamma function.
 *
 * @param x Above 0.
 * @returns Its logarithm.
 * @example
 * Number(logGamma(5).toFixed(6)) // => 3.178054
 */
export function logGamma(x: number): number {
  return gammaln(x);
}

function requireInside(chance: number): number {
  if (!(chance > 0 && chance < 1)) throw new InputError("chance", "above 0 and below 1", chance);
  return chance;
}

// The bisection method below the most: the tails are the library's, and of the two chances the smaller is
// compared, which has the more digits.
function reached(
  chance: number,
  most: number,
  tail: (value: number, above: boolean) => number,
): number {
  const enough = (value: number): boolean =>
    chance > 0.5 ? tail(value, true) <= 1 - chance : tail(value, false) >= chance;
  return bisected(0, most, enough)[1];
}
