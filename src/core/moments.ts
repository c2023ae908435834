import { normalAtMost } from "./chance.ts";
import { certain, type Distribution, trimmed } from "./distribution.ts";

/** Mean and variance of a number. */
export interface Moments {
  readonly mean: number;
  readonly variance: number;
}

/**
 * Mean and variance of a number.
 *
 * @param chances Chances of 0, 1, 2, …
 * @returns Mean and variance.
 * @example
 * momentsOf(Float64Array.of(0.5, 0, 0.5)) // => { mean: 1, variance: 1 }
 */
export function momentsOf(chances: Float64Array): Moments {
  let [once, twice] = [0, 0];
  for (let count = 1; count < chances.length; count += 1) {
    const chance = chances[count] ?? 0;
    once += count * chance;
    twice += count * count * chance;
  }
  return { mean: once, variance: Math.max(0, twice - once * once) };
}

/**
 * Mean and variance of a number that need not begin at 0.
 *
 * @param number Its chances.
 * @returns Mean and variance.
 * @example
 * momentsOfNumber({ least: 3, chances: Float64Array.of(0.5, 0.5) }) // => { mean: 3.5, variance: 0.25 }
 */
export function momentsOfNumber(number: Distribution): Moments {
  const { least, chances } = number;
  const { mean, variance } = momentsOf(chances);
  return { mean: least + mean, variance };
}

/**
 * Mean and variance of a number that is one of several: the variance is the mean of the variances and the
 * variance of the means.
 *
 * @param parts Means and variances of each.
 * @param shareOf The share of each, by its place; together 1.
 * @returns Mean and variance over all of them.
 * @see Ross, Introduction to Probability Models, conditional variance formula (from memory).
 * @example
 * mixedMoments([{ mean: 1, variance: 2 }, { mean: 3, variance: 2 }], () => 0.5) // => { mean: 2, variance: 3 }
 */
export function mixedMoments(parts: readonly Moments[], shareOf: (at: number) => number): Moments {
  let [once, twice] = [0, 0];
  for (let at = 0; at < parts.length; at += 1) {
    const { mean = 0, variance = 0 } = parts[at] ?? {};
    const share = shareOf(at);
    once += share * mean;
    twice += share * (variance + mean * mean);
  }
  return { mean: once, variance: Math.max(0, twice - once * once) };
}

/**
 * Mean and variance of a sum of independent numbers.
 *
 * @param parts Means and variances of each.
 * @returns Mean and variance of the sum.
 * @example
 * summed([{ mean: 1, variance: 2 }, { mean: 3, variance: 4 }]) // => { mean: 4, variance: 6 }
 */
export function summed(parts: readonly Moments[]): Moments {
  let [mean, variance] = [0, 0];
  for (const one of parts) {
    mean += one.mean;
    variance += one.variance;
  }
  return { mean, variance };
}

/** Some independent numbers, and how many chances one of them has at most. */
export interface Numbers {
  readonly size: number;
  readonly widest: number;
  /** Writes the chances of 0, 1, 2, … of one of them into a row; gives how many. */
  readonly write: (at: number, row: Float64Array) => number;
}

/**
 * The sum of a few independent numbers, chance by chance, in one row that grows.
 *
 * @param numbers What writes the chances of each.
 * @returns Chances of the sum; those below 1e-14 are dropped.
 * @example
 * Array.from(addedUp({ size: 2, widest: 2, write: (_, row) => (row.set([0.5, 0.5]), 2) }).chances) // => [0.25, 0.5, 0.25]
 */
export function addedUp(numbers: Numbers): Distribution {
  const { size, widest, write } = numbers;
  const row = cleared(ROW, size * (widest - 1) + 1);
  const part = cleared(PART, widest);
  row[0] = 1;
  let [begin, end] = [0, 0];
  for (let at = 0; at < size; at += 1) {
    const top = write(at, part) - 1;
    const none = part[0] ?? 0;
    // From the top, so that the row can be its own source.
    for (let from = end; from >= begin; from -= 1) {
      const chance = row[from] ?? 0;
      row[from] = chance * none;
      for (let count = 1; count <= top; count += 1) {
        row[from + count] = (row[from + count] ?? 0) + chance * (part[count] ?? 0);
      }
    }
    end += top;
    while (end > begin && (row[end] ?? 0) < FAINT) end -= 1;
    while (begin < end && (row[begin] ?? 0) < FAINT) {
      row[begin] = 0;
      begin += 1;
    }
  }
  return { least: begin, chances: row.slice(begin, end + 1) };
}

/** Rows that are used again and again: to make one takes longer than to fill it. */
const ROW = { row: new Float64Array(0) };
const PART = { row: new Float64Array(0) };

function cleared(kept: { row: Float64Array }, size: number): Float64Array {
  if (kept.row.length < size) kept.row = new Float64Array(2 * size);
  else kept.row.fill(0, 0, size);
  return kept.row;
}

/** Chances so small are dropped on the way. */
const FAINT = 1e-14;

/**
 * The sum of many independent numbers as a normal one of their means and variances, in whole numbers.
 *
 * @param parts Means and variances of each.
 * @returns Chances of the sum.
 * @see Feller, An Introduction to Probability Theory and Its Applications, volume I, chapter X.
 * @example
 * normalOf([{ mean: 6, variance: 0 }, { mean: 3, variance: 0 }]) // => certain(9)
 */
export function normalOf(parts: readonly Moments[]): Distribution {
  const { mean, variance } = summed(parts);
  const spread = Math.sqrt(variance);
  if (spread < 0.05) return certain(Math.round(mean));
  const least = Math.max(0, Math.floor(mean - REACH * spread));
  const most = Math.ceil(mean + REACH * spread);
  let below = 0;
  const chances = Float64Array.from({ length: most - least + 1 }, (_, at) => {
    const upTo = at === most - least ? 1 : normalAtMost((least + at + 0.5 - mean) / spread);
    const chance = upTo - below;
    below = upTo;
    return chance;
  });
  return trimmed({ least, chances });
}

/** Standard deviations on either side that are told apart. */
const REACH = 8;
