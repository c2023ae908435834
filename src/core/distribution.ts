import { requireLevel, type Limits } from "./life.ts";

/** Chances of a whole number: the first is that of `least`, the others follow one by one. */
export interface Distribution {
  readonly least: number;
  readonly chances: Float64Array;
}

/** Chances below this are dropped; thousands of them do not show in a double number. */
export const NEGLIGIBLE = 1e-18;

/**
 * A number that is certain.
 *
 * @param count Whole number.
 * @returns It, with chance 1.
 * @example
 * meanOf(certain(3)) // => 3
 */
export function certain(count: number): Distribution {
  return { least: count, chances: Float64Array.of(1) };
}

/**
 * Chances without the negligible ones at either end.
 *
 * @param distribution Chances of a number.
 * @returns The same, narrower.
 * @example
 * trimmed({ least: 0, chances: Float64Array.of(0, 0.5, 0.5, 0) }).least // => 1
 */
export function trimmed(distribution: Distribution): Distribution {
  const { least, chances } = distribution;
  let [begin, end] = [0, chances.length];
  while (begin < end - 1 && (chances[begin] ?? 0) < NEGLIGIBLE) begin += 1;
  while (end - 1 > begin && (chances[end - 1] ?? 0) < NEGLIGIBLE) end -= 1;
  return { least: least + begin, chances: chances.subarray(begin, end) };
}

/**
 * The sum of two independent numbers: the convolution of their chances.
 *
 * @param one Chances of one.
 * @param other Chances of the other.
 * @param most Largest sum of interest, whole; larger ones are left out.
 * @returns Chances of the sum.
 * @see Feller, An Introduction to Probability Theory and Its Applications, volume I, chapter XI.
 * @example
 * Array.from(convolution({ least: 0, chances: Float64Array.of(0.5, 0.5) }, { least: 1, chances: Float64Array.of(0.5, 0.5) }).chances) // => [0.25, 0.5, 0.25]
 */
export function convolution(one: Distribution, other: Distribution, most = Infinity): Distribution {
  const [short, long] =
    one.chances.length < other.chances.length
      ? [one.chances, other.chances]
      : [other.chances, one.chances];
  const least = one.least + other.least;
  const length = Math.min(short.length + long.length - 1, most - least + 1);
  const chances = new Float64Array(Math.max(1, length));
  // A number may be possible at few places only, as the cost of units of one price is.
  const places = possible(long);
  for (let at = 0; at < short.length; at += 1) {
    const share = short[at] ?? 0;
    if (share < NEGLIGIBLE) continue;
    for (let index = 0; index < places.length; index += 1) {
      const to = places[index] ?? 0;
      if (at + to >= length) break;
      chances[at + to] = (chances[at + to] ?? 0) + share * (long[to] ?? 0);
    }
  }
  return trimmed({ least, chances });
}

// Places of the chances that are not 0.
function possible(chances: Float64Array): Int32Array {
  const places = new Int32Array(chances.length);
  let found = 0;
  for (let at = 0; at < chances.length; at += 1) {
    if ((chances[at] ?? 0) > 0) places[found++] = at;
  }
  return places.subarray(0, found);
}

/**
 * The sum of many independent numbers. Two and two are added, so that narrow ones meet narrow ones.
 *
 * @param parts Chances of each.
 * @returns Chances of the sum; of 0 where there are none.
 * @example
 * meanOf(sumOf([certain(1), certain(2), certain(3)])) // => 6
 */
export function sumOf(parts: readonly Distribution[]): Distribution {
  let row = parts;
  while (row.length > 1) {
    const pairs: Distribution[] = [];
    for (let at = 0; at < row.length; at += 2) {
      const [one = certain(0), other] = row.slice(at, at + 2);
      pairs.push(other ? convolution(one, other) : one);
    }
    row = pairs;
  }
  return row[0] ?? certain(0);
}

/**
 * The sum of so many independent numbers that are alike.
 *
 * @param distribution Chances of one of them.
 * @param times How many, a whole number of at least 0.
 * @returns Chances of the sum.
 * @example
 * Array.from(repeated({ least: 0, chances: Float64Array.of(0.5, 0.5) }, 3).chances) // => [0.125, 0.375, 0.375, 0.125]
 */
export function repeated(distribution: Distribution, times: number): Distribution {
  let sum = certain(0);
  let power = distribution;
  // By the binary digits of the number, each power being twice the one before.
  for (let rest = times; rest > 0; rest = Math.floor(rest / 2)) {
    if (rest % 2 === 1) sum = convolution(sum, power);
    if (rest > 1) power = convolution(power, power);
  }
  return sum;
}

/**
 * Chances of a number that is one of several, each with its share.
 *
 * @param parts Chances and shares; the shares sum to 1.
 * @returns Chances over all of them.
 * @example
 * Array.from(mixtureOf([{ share: 0.25, distribution: certain(1) }, { share: 0.75, distribution: certain(2) }]).chances) // => [0.25, 0.75]
 */
export function mixtureOf(
  parts: readonly { readonly share: number; readonly distribution: Distribution }[],
): Distribution {
  const [only] = parts;
  if (parts.length === 1 && only) return only.distribution;
  const least = parts.reduce(
    (low, { distribution }) => Math.min(low, distribution.least),
    Infinity,
  );
  const end = parts.reduce(
    (high, { distribution }) => Math.max(high, distribution.least + distribution.chances.length),
    least,
  );
  const chances = new Float64Array(end - least);
  for (const { share, distribution } of parts) {
    distribution.chances.forEach((chance, at) => {
      const to = distribution.least + at - least;
      chances[to] = (chances[to] ?? 0) + share * chance;
    });
  }
  return { least, chances };
}

/**
 * The distribution of what follows from a number, such as the cost of so many units.
 *
 * @param distribution Chances of the number.
 * @param follows What follows: a whole number that does not fall as the number grows.
 * @returns Chances of what follows.
 * @example
 * Array.from(mapped({ least: 0, chances: Float64Array.of(0.5, 0.25, 0.25) }, (units) => 2 * units).chances) // => [0.5, 0, 0.25, 0, 0.25]
 */
export function mapped(
  distribution: Distribution,
  follows: (count: number) => number,
): Distribution {
  const least = follows(distribution.least);
  const end = follows(distribution.least + distribution.chances.length - 1);
  const chances = new Float64Array(end - least + 1);
  distribution.chances.forEach((chance, at) => {
    const to = follows(distribution.least + at) - least;
    chances[to] = (chances[to] ?? 0) + chance;
  });
  return { least, chances };
}

/**
 * The mean of a number.
 *
 * @param distribution Its chances.
 * @returns The mean.
 * @example
 * meanOf({ least: 1, chances: Float64Array.of(0.5, 0.5) }) // => 1.5
 */
export function meanOf(distribution: Distribution): number {
  return distribution.chances.reduce(
    (sum, chance, at) => sum + chance * (distribution.least + at),
    0,
  );
}

/**
 * The smallest number that is not exceeded with a given chance.
 *
 * @param distribution Chances of the number.
 * @param chance Chance to be reached, above 0 and below 1.
 * @returns Whole number.
 * @throws InputError if the chance is no such number.
 * @example
 * quantileOf({ least: 0, chances: Float64Array.of(0.125, 0.375, 0.375, 0.125) }, 0.8) // => 2
 */
export function quantileOf(distribution: Distribution, chance: number): number {
  requireLevel(chance);
  // A chance reached but for the rounding of the sum is reached.
  const wanted = chance * (1 - 1e-12);
  let sum = 0;
  const at = distribution.chances.findIndex((one) => (sum += one) >= wanted);
  return distribution.least + (at < 0 ? distribution.chances.length - 1 : at);
}

/**
 * Central prediction limits of a number: as much chance may lie below as above them.
 *
 * @param distribution Its chances.
 * @param level Chance that the number lies within, above 0 and below 1.
 * @returns Whole numbers, the limits themselves included.
 * @throws InputError if the level is no such number.
 * @example
 * centralLimits({ least: 0, chances: Float64Array.of(0.125, 0.375, 0.375, 0.125) }, 0.5) // => { low: 1, high: 2 }
 */
export function centralLimits(distribution: Distribution, level: number): Limits {
  requireLevel(level);
  return {
    low: quantileOf(distribution, (1 - level) / 2),
    high: quantileOf(distribution, (1 + level) / 2),
  };
}
