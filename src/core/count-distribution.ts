import { betaAbove, betaAtMost, gammaAbove, gammaAtMost, logGamma } from "./chance.ts";
import { firstWhole } from "./bisection.ts";
import { type Distribution, NEGLIGIBLE } from "./distribution.ts";
import { InputError } from "./errors.ts";

/**
 * How a count is spread about its mean: Poisson where the variance does not exceed the mean,
 * negative binomial with that mean and variance where it does.
 */
export interface Spread {
  readonly mean: number;
  /** Variance of the count; Poisson when left out. */
  readonly variance?: number;
}

/** A chance is reached within this share of itself: 64 steps of a double number, as R allows. */
const SLACK = 64 * Number.EPSILON;

/** Below this mean terms are summed one by one, which is quickest; above it the tails are asked. */
const SUMMED = 60;

/**
 * Chance that a count is exactly k.
 *
 * @param k Whole number, zero or more.
 * @param spread Mean and variance of the count.
 * @returns Chance, 0 to 1.
 * @throws InputError if the mean or the variance is no such number.
 * @example
 * Number(countChance(2, { mean: 1.25 }).toFixed(6)) // => 0.223832
 */
export function countChance(k: number, spread: Spread): number {
  const { mean, size } = sound(spread);
  if (k < 0) return 0;
  if (mean === 0) return k === 0 ? 1 : 0;
  if (k === 0) return Math.exp(size === null ? -mean : logNone(mean, size));
  // Written about the most likely count: logarithms of factorials taken from each other lose digits.
  if (size === null) return Math.exp(-rest(k) - away(k, mean)) / Math.sqrt(2 * Math.PI * k);
  const all = size + k;
  const expected = all / (size + mean);
  const far = away(size, size * expected) + away(k, mean * expected);
  const scale = Math.sqrt(size / (2 * Math.PI * k * all));
  return Math.exp(rest(all) - rest(size) - rest(k) - far) * scale;
}

// What Stirling's formula leaves out of the logarithm of n!.
function rest(n: number): number {
  if (n < 15) {
    return logGamma(n + 1) - (n + 0.5) * Math.log(n) + n - Math.log(2 * Math.PI) / 2;
  }
  const square = n * n;
  const tail = 1 / 1260 - (1 / 1680 - 1 / 1188 / square) / square;
  return (1 / 12 - (1 / 360 - tail / square) / square) / n;
}

// x·ln(x / mean) + mean − x, by a series where the difference would cancel.
function away(x: number, mean: number): number {
  const step = (x - mean) / (x + mean);
  if (!(Math.abs(step) < 0.1)) return x * Math.log(x / mean) + mean - x;
  let sum = (x - mean) * step;
  let power = 2 * x * step;
  for (let odd = 3; ; odd += 2) {
    power *= step * step;
    const next = sum + power / odd;
    if (next === sum) return sum;
    sum = next;
  }
}

/**
 * Chance that a count is at most k.
 *
 * @param k Whole number.
 * @param spread Mean and variance of the count.
 * @returns Chance, 0 to 1.
 * @throws InputError if the mean or the variance is no such number.
 * @example
 * Number(countAtMost(2, { mean: 1.25 }).toFixed(6)) // => 0.868468
 */
export function countAtMost(k: number, spread: Spread): number {
  const { mean, size } = sound(spread);
  if (k < 0) return 0;
  if (mean === 0) return 1;
  if (size === null) return gammaAbove(mean, k + 1);
  const direct = betaAtMost(size / (size + mean), size, k + 1);
  // A large size rounds the argument away; the other form keeps it, but not the digits of a small chance.
  return size > LARGE && direct > 0.01 ? betaAbove(mean / (size + mean), k + 1, size) : direct;
}

/** Size of a negative binomial from which its success chance is too near one for its lower tail. */
const LARGE = 1e5;

/**
 * Chance that a count is above k; exact where it is too small to be told from 1 − countAtMost.
 *
 * @param k Whole number.
 * @param spread Mean and variance of the count.
 * @returns Chance, 0 to 1.
 * @throws InputError if the mean or the variance is no such number.
 * @example
 * Number(countAbove(2, { mean: 1.25 }).toFixed(6)) // => 0.131532
 */
export function countAbove(k: number, spread: Spread): number {
  const { mean, size } = sound(spread);
  if (k < 0) return 1;
  if (mean === 0) return 0;
  if (size === null) return gammaAtMost(mean, k + 1);
  // Of the two forms the one whose argument keeps its digits.
  return mean < size
    ? betaAtMost(mean / (size + mean), k + 1, size)
    : betaAbove(size / (size + mean), size, k + 1);
}

/**
 * The smallest k which a count does not exceed with a given chance.
 *
 * @param chance Chance to be reached, 0 up to but not 1.
 * @param spread Mean and variance of the count.
 * @returns Whole number, zero or more.
 * @throws InputError if the chance, the mean or the variance is no such number.
 * @example
 * countQuantile(0.95, { mean: 4.32 }) // => 8
 */
export function countQuantile(chance: number, spread: Spread): number {
  if (!(chance >= 0 && chance < 1)) throw new InputError("chance", "0 up to but not 1", chance);
  const { mean, size } = sound(spread);
  if (mean > SUMMED || chance > NEAR_ONE) return searched(chance, spread);
  const wanted = chance * (1 - SLACK);
  // Each term follows from the one before it, all of them positive.
  const grows = size === null ? mean : mean / (size + mean);
  let term = Math.exp(size === null ? -mean : logNone(mean, size));
  let sum = term;
  let k = 0;
  // A heavy tail would be walked for ever where the sum stops growing.
  while (sum < wanted) {
    term *= (grows * (size === null ? 1 : size + k)) / (k + 1);
    k += 1;
    if (k > WALK) return searched(chance, spread);
    sum += term;
  }
  return k;
}

/** Above this chance a sum has too few digits left to tell what is missing to one. */
const NEAR_ONE = 0.9999;

/** Terms walked before the tails are asked instead. */
const WALK = 2_000;

/** Variance over mean above which a tail is too long to be walked. */
const HEAVY = 1_000;

/**
 * Expected part of a count above a stock, in units: the mean shortage.
 *
 * @param stock Whole number of units at hand.
 * @param spread Mean and variance of the count.
 * @returns Units, zero or more.
 * @throws InputError if the mean or the variance is no such number.
 * @example
 * Number(expectedAbove(2, { mean: 1.25 }).toFixed(5)) // => 0.18114
 */
export function expectedAbove(stock: number, spread: Spread): number {
  const { mean } = sound(spread);
  if (stock <= 0) return mean - stock;
  // Below the mean little is lost by going the other way round; above it every term is positive.
  if (stock < mean) return mean - stock + expectedLeft(stock, spread);
  const { size } = sound(spread);
  const grows = size === null ? mean : mean / (size + mean);
  if (size !== null && mean > HEAVY * size) {
    // The units above a stock are a mean over a count of one more size; little cancels here.
    const units = mean * betaAtMost(grows, stock, size + 1);
    return Math.max(0, units - stock * countAbove(stock, spread));
  }
  let sum = 0;
  let term = countChance(stock + 1, spread);
  for (let k = stock + 1; ; k += 1) {
    const part = (k - stock) * term;
    sum += part;
    if (part <= sum * Number.EPSILON) return sum;
    term *= (grows * (size === null ? 1 : size + k)) / (k + 1);
  }
}

// Expected units left of a stock: each term positive, found downwards from the stock.
function expectedLeft(stock: number, spread: Spread): number {
  const { mean, size } = sound(spread);
  const grows = size === null ? mean : mean / (size + mean);
  let term = countChance(stock, spread);
  let sum = 0;
  for (let k = stock; k > 0; k -= 1) {
    term *= k / (grows * (size === null ? 1 : size + k - 1));
    const part = (stock - k + 1) * term;
    sum += part;
    if (part <= sum * Number.EPSILON) break;
  }
  return sum;
}

/**
 * The distribution of a count, from its middle outwards as far as its chances are anything.
 *
 * @param spread Mean and variance of the count.
 * @param most Largest number of interest, whole; larger ones are left out.
 * @returns Chances of each number.
 * @throws InputError if the mean or the variance is no such number.
 * @example
 * Array.from(countDistribution({ mean: Math.LN2 }, 1).chances).map((chance) => Number(chance.toFixed(6))) // => [0.5, 0.346574]
 */
export function countDistribution(spread: Spread, most = Infinity): Distribution {
  const middle = Math.min(most, Math.floor(spread.mean));
  const likely = countChance(middle, spread);
  const walked = (by: 1 | -1): number[] => {
    const chances: number[] = [];
    for (let k = middle + by; k >= 0 && k <= most; k += by) {
      const chance = countChance(k, spread);
      if (!(chance > likely * NEGLIGIBLE)) break;
      chances.push(chance);
    }
    return chances;
  };
  const below = walked(-1).reverse();
  return {
    least: middle - below.length,
    chances: Float64Array.from([...below, likely, ...walked(1)]),
  };
}

/** Mean and the size of the negative binomial; size null for Poisson. */
interface Sound {
  readonly mean: number;
  readonly size: number | null;
}

function sound({ mean, variance = mean }: Spread): Sound {
  if (!(Number.isFinite(mean) && mean >= 0)) throw new InputError("mean", "zero or more", mean);
  if (!(Number.isFinite(variance) && variance >= 0)) {
    throw new InputError("variance", "zero or more", variance);
  }
  if (mean === 0 || variance <= mean) return { mean, size: null };
  const size = mean ** 2 / (variance - mean);
  // So large a size cannot be told from Poisson any more.
  return { mean, size: size > 1e12 ? null : size };
}

// Logarithm of the chance of none.
function logNone(mean: number, size: number): number {
  return -size * Math.log1p(mean / size);
}

// Doubles a bound until it is enough, then halves the gap.
function searched(chance: number, spread: Spread): number {
  // Where the wanted chance is high its complement is compared, which has the more digits.
  const enough = (k: number): boolean =>
    chance > 0.5
      ? countAbove(k, spread) <= (1 - chance) * (1 + SLACK)
      : countAtMost(k, spread) >= chance * (1 - SLACK);
  if (enough(0)) return 0;
  let low = 0;
  let high = Math.max(1, Math.ceil(spread.mean));
  // So wide a spread that no whole number is enough ends at the last of them.
  while (!enough(high) && high < Number.MAX_SAFE_INTEGER) {
    low = high;
    high = Math.min(2 * high, Number.MAX_SAFE_INTEGER);
  }
  return firstWhole(low + 1, high, enough);
}
