import { firstWhole } from "./bisection.ts";
import { normalQuantile } from "./chance.ts";
import type { Distribution } from "./distribution.ts";
import { requireLevel } from "./life.ts";
import { ERROR_POINTS } from "./open-fleet.ts";

/** Steps of equal chance in which a normal error is told apart. */
const STEPS = 33;

/** The middle of each step, stretched so that the steps vary as much as the error does. */
const GRID = ((): readonly number[] => {
  const middles = Array.from({ length: STEPS }, (_, at) => normalQuantile((at + 0.5) / STEPS));
  const spread = Math.sqrt(middles.reduce((sum, z) => sum + z * z, 0) / STEPS);
  return middles.map((z) => z / spread);
})();

/**
 * The smallest number that is not exceeded with a given chance, where a normal error moves it and its chances are known
 * at the three points that stand for the error. Three points keep its mean and variance, but leave gaps between them
 * where the number is known well at each: a chance of 80 % would fall on the middle one. So it is moved in steps from
 * the nearest point, its mean along the parabola through the three.
 *
 * @param points Its chances at each of `ERROR_POINTS`.
 * @param chance Chance to be reached, above 0 and below 1.
 * @returns Whole number.
 * @throws InputError if the chance is no such number.
 * @example
 * quantileAlong([certain(100), certain(200), certain(300)], 0.5) // => 200
 */
export function quantileAlong(
  points: readonly [Distribution, Distribution, Distribution],
  chance: number,
): number {
  requireLevel(chance);
  const [low, middle, high] = [summed(points[0]), summed(points[1]), summed(points[2])] as const;
  const { at: reach } = ERROR_POINTS[2];
  const slope = (high.mean - low.mean) / (2 * reach);
  const bend = (high.mean + low.mean - 2 * middle.mean) / (2 * reach ** 2);
  const moved = GRID.map((z) => {
    const near = z < -reach / 2 ? low : z > reach / 2 ? high : middle;
    return { near, by: Math.round(middle.mean + slope * z + bend * z * z - near.mean) };
  });
  // A chance reached but for the rounding of the sum is reached.
  const wanted = STEPS * chance * (1 - 1e-12);
  const reached = (value: number): boolean =>
    moved.reduce((sum, { near, by }) => sum + near.atMost(value - by), 0) >= wanted;
  const least = Math.min(...moved.map(({ near, by }) => near.least + by));
  const most = Math.max(...moved.map(({ near, by }) => near.most + by));
  return firstWhole(least, most, reached);
}

interface Summed {
  readonly least: number;
  readonly most: number;
  readonly mean: number;
  readonly atMost: (value: number) => number;
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
