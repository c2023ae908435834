import { betaAtMost } from "./chance.ts";
import { PERIOD, type Series } from "./smooth.ts";

/** A series without the season that is evident in it. */
export interface Deseasoned {
  /** The values divided by the index of their place; the series itself where no season is evident. */
  readonly series: Series;
  /** How many times the usual value the season makes of a place, counted from the series' first; 1 without a season. */
  readonly indexAt: (place: number) => number;
}

const HALF = PERIOD / 2;

/** Looks at each month of the year without which nothing is said of its season. */
const LEAST_LOOKS = 2;

/** Chance of so large an F from which months of the year are not taken to differ. */
const BY_CHANCE = 0.05;

/** Indices of births lie near 1: what is beyond these is a pause or a peak of another kind. */
const [LOWEST, HIGHEST] = [0.5, 2];

/**
 * Takes the season of the year out of monthly values.
 *
 * Each value is compared with the mean of the twelve months about it, which no season moves. What a month of the
 * year is by at least two such ratios is its index, drawn towards 1 as far as the ratios of the same month differ
 * from year to year (James–Stein). Where months of the year do not differ by an analysis of variance at 5%, or one has
 * no two ratios, or an index is below a half or above 2, there is no season. Three years without a gap are needed at least.
 *
 * @param series Values per day of each month, zero or more, oldest first; null where there is no count.
 * @returns The series without its season, and the indices.
 * @see Hyndman & Athanasopoulos, Forecasting: Principles and Practice, 3rd ed., section 3.4, ratios to the moving
 *   mean; Miller & Williams, International Journal of Forecasting 19 (2003), 669–684, shrunken indices (from memory).
 * @example
 * withoutSeason([4, 6, 5]).series // => [4, 6, 5]
 */
export function withoutSeason(series: Series): Deseasoned {
  const indices = indicesOf(ratiosOf(series));
  if (indices === null) return { series, indexAt: () => 1 };
  const indexAt = (place: number): number => indices[place % PERIOD] ?? 1;
  return { series: series.map((one, at) => (one === null ? null : one / indexAt(at))), indexAt };
}

// Values as shares of the mean of the twelve months about them, by place in the year.
function ratiosOf(series: Series): number[][] {
  const ratios = Array.from({ length: PERIOD }, (): number[] => []);
  series.forEach((value, at) => {
    const about = aboutOf(series, at);
    if (value !== null && about !== null) ratios[at % PERIOD]?.push(value / about);
  });
  return ratios;
}

// The mean of the twelve months about one; null where one of them is not known, or all are nought.
function aboutOf(series: Series, at: number): number | null {
  let sum = 0;
  for (let by = -HALF; by <= HALF; by += 1) {
    const value = series[at + by] ?? null;
    if (value === null) return null;
    // The same month of the year stands at both ends.
    sum += Math.abs(by) === HALF ? value / 2 : value;
  }
  return sum > 0 ? sum / PERIOD : null;
}

function indicesOf(ratios: readonly (readonly number[])[]): number[] | null {
  if (ratios.some(({ length }) => length < LEAST_LOOKS)) return null;
  const means = ratios.map(meanOf);
  const mean = meanOf(means);
  const freedom = ratios.reduce((sum, { length }) => sum + length - 1, 0);
  const within = ratios.reduce((sum, own, at) => sum + squaresAbout(own, means[at] ?? mean), 0);
  // What a mean of a month would be off by chance, and what the means are apart.
  const error = (within / freedom) * meanOf(ratios.map(({ length }) => 1 / length));
  const apart = squaresAbout(means, mean) / (PERIOD - 1);
  if (!isEvident(apart, error, freedom)) return null;
  const kept = 1 - ((PERIOD - 3) / (PERIOD - 1)) * (error / apart);
  const indices = means.map((one) => 1 + kept * (one / mean - 1));
  return indices.every((one) => one >= LOWEST && one <= HIGHEST) ? indices : null;
}

// Whether months differ more than years do, by the F test; the tail of F is one of the beta distribution.
function isEvident(apart: number, error: number, freedom: number): boolean {
  const between = PERIOD - 1;
  const share = (freedom * error) / (freedom * error + between * apart);
  return apart > 0 && betaAtMost(share, freedom / 2, between / 2) < BY_CHANCE;
}

function squaresAbout(values: readonly number[], mean: number): number {
  return values.reduce((sum, value) => sum + (value - mean) ** 2, 0);
}

function meanOf(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}
