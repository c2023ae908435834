import { firstWhole } from "./bisection.ts";
import { betaQuantile } from "./chance.ts";
import type { Distribution } from "./distribution.ts";
import { InputError } from "./errors.ts";
import { type Limits, requireLevel } from "./life.ts";
import { ERROR_POINTS } from "./open-fleet.ts";

/** Steps of equal chance in which an error is told apart. */
const STEPS = 33;

/**
 * Independent looks that the spread of the error rests on: so many times do the months ahead by which intervals go,
 * about five, lie within the two years from which forecasts are tried. A spread known so little leaves an error that is
 * distributed as Student's t.
 *
 * See Gelman and others, Bayesian Data Analysis, 3rd ed., section 3.2 (from memory).
 */
const LOOKS = 5;

/** The middle of each step. */
const GRID: readonly number[] = Array.from({ length: STEPS }, (_, at) =>
  studentQuantile((at + 0.5) / STEPS, LOOKS),
);
const MEAN_SQUARE = GRID.reduce((sum, z) => sum + z * z, 0) / STEPS;

// See Abramowitz and Stegun, Handbook of Mathematical Functions, 26.7.1 (from memory): a beta quantile.
function studentQuantile(chance: number, looks: number): number {
  if (chance >= 0.5) return chance === 0.5 ? 0 : -studentQuantile(1 - chance, looks);
  const share = betaQuantile(2 * chance, looks / 2, 0.5);
  return -Math.sqrt(looks * (1 / share - 1));
}

/** Three points of an error, and chances of a number at each. */
type Points = readonly [Distribution, Distribution, Distribution];

/** A number by the chance that it is not exceeded. */
interface Along {
  readonly least: number;
  readonly most: number;
  readonly atMost: (value: number) => number;
}

// A number that an error moves and whose chances are known at the three points that stand for the error. Three points
// keep its mean and variance, but leave gaps between them where the number is known well at each: a chance of 80 % would
// fall on the middle one. So it is moved in steps from the nearest point, its mean along the parabola through the three.
// The error is Student's, for its spread is an estimate.
function along(points: Points, mean: number | null): Along {
  const [low, middle, high] = [summed(points[0]), summed(points[1]), summed(points[2])] as const;
  const { at: reach } = ERROR_POINTS[2];
  const slope = (high.mean - low.mean) / (2 * reach);
  const bend = (high.mean + low.mean - 2 * middle.mean) / (2 * reach ** 2);
  const centre = mean === null ? middle.mean : mean - bend * MEAN_SQUARE;
  const moved = GRID.map((z) => {
    const near = z < -reach / 2 ? low : z > reach / 2 ? high : middle;
    return { near, by: Math.round(centre + slope * z + bend * z * z - near.mean) };
  });
  return {
    least: Math.min(...moved.map(({ near, by }) => near.least + by)),
    most: Math.max(...moved.map(({ near, by }) => near.most + by)),
    atMost: (value) =>
      moved.reduce((sum, { near, by }) => sum + near.atMost(value - by), 0) / STEPS,
  };
}

function quantileIn({ least, most, atMost }: Along, chance: number): number {
  // A chance reached but for the rounding of the sum is reached.
  return firstWhole(least, most, (value) => atMost(value) >= chance * (1 - 1e-12));
}

/** A number to come, by its chances. */
export interface Prediction {
  /** The smallest whole number that is not exceeded with a chance above 0 and below 1. */
  readonly quantile: (chance: number) => number;
  /** The chance that a number is not exceeded. */
  readonly atMost: (value: number) => number;
}

/**
 * A number that an error moves, for whoever asks for its chances.
 *
 * @param points Its chances at each of `ERROR_POINTS`, or once where no error moves it.
 * @param mean What is expected, where that is known better than by the points; theirs when null.
 * @returns Its quantiles and chances. A quantile throws an InputError if the chance is no such number.
 * @throws InputError if there are neither one nor three points.
 * @example
 * predictionAlong([certain(100), certain(200), certain(300)]).quantile(0.5) // => 200
 */
export function predictionAlong(
  points: readonly Distribution[],
  mean: number | null = null,
): Prediction {
  const [low, middle, high] = points;
  if (low === undefined) throw new InputError("points", "one or three", points.length);
  const number =
    middle === undefined || high === undefined ? summed(low) : along([low, middle, high], mean);
  return {
    atMost: number.atMost,
    quantile: (chance) => {
      requireLevel(chance);
      return quantileIn(number, chance);
    },
  };
}

/** Limits of a count, and the chance with which they hold: whole numbers hold somewhat more than what is asked. */
export interface HeldLimits extends Limits {
  readonly holds: number;
}

/**
 * Central prediction limits of a count that an error moves: as much chance may lie below as above them.
 *
 * @param points Its chances at each of `ERROR_POINTS`, or once where no error moves it.
 * @param level Chance that the count lies within, above 0 and below 1.
 * @param mean What is expected, where that is known better than by the points; theirs when null.
 * @returns Whole numbers of at least 0, the limits themselves included, and the chance that they hold.
 * @throws InputError if the level is no such number or there are neither one nor three points.
 * @example
 * limitsAlong([certain(100), certain(200), certain(300)], 0.1) // => { low: 191, high: 209, holds: 0.15151515151515155 }
 */
export function limitsAlong(
  points: readonly Distribution[],
  level: number,
  mean: number | null = null,
): HeldLimits {
  requireLevel(level);
  const { quantile, atMost } = predictionAlong(points, mean);
  const [low, high] = [quantile((1 - level) / 2), quantile((1 + level) / 2)];
  return {
    low: Math.max(0, low),
    high: Math.max(0, high),
    // Nothing comes less often than never.
    holds: atMost(high) - (low > 0 ? atMost(low - 1) : 0),
  };
}

interface Summed extends Along {
  readonly mean: number;
}

// Chances added up: costs have up to some hundred thousand steps, and are asked for often.
function summed({ least, chances }: Distribution): Summed {
  const sums = new Float64Array(chances.length);
  let [sum, mean] = [0, 0];
  for (let at = 0; at < chances.length; at += 1) {
    const one = chances[at] ?? 0;
    sum += one;
    mean += one * (least + at);
    sums[at] = sum;
  }
  const most = least + chances.length - 1;
  const atMost = (value: number): number =>
    value < least ? 0 : (sums[Math.min(value - least, sums.length - 1)] ?? 0);
  return { least, most, mean, atMost };
}
