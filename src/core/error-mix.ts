import { normalQuantile } from "./chance.ts";
import { type Distribution, meanOf } from "./distribution.ts";
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
 * Chances of a number that a normal error moves, known at the three points that stand for the error. Three points keep
 * its mean and variance, but leave gaps between them where the number is known well at each: a chance of 80 % would
 * fall on the middle one. So the number is moved in steps from the nearest point, its mean along the parabola through
 * the three.
 *
 * @param points Its chances at each of `ERROR_POINTS`.
 * @returns Chances over the whole error.
 * @example
 * quantileOf(mixedAlong([certain(100), certain(200), certain(300)]), 0.5) // => 200
 */
export function mixedAlong(
  points: readonly [Distribution, Distribution, Distribution],
): Distribution {
  const [low, middle, high] = points.map(meanOf) as [number, number, number];
  const { at: reach } = ERROR_POINTS[2];
  const slope = (high - low) / (2 * reach);
  const bend = (high + low - 2 * middle) / (2 * reach ** 2);
  const near = [
    { distribution: points[0], mean: low },
    { distribution: points[1], mean: middle },
    { distribution: points[2], mean: high },
  ] as const;
  const moved = GRID.map((z) => {
    const { distribution, mean } = near[z < -reach / 2 ? 0 : z > reach / 2 ? 2 : 1];
    const by = Math.round(middle + slope * z + bend * z * z - mean);
    return { least: distribution.least + by, chances: distribution.chances };
  });
  const least = Math.min(...moved.map((one) => one.least));
  const end = Math.max(...moved.map((one) => one.least + one.chances.length));
  const chances = new Float64Array(end - least);
  // Costs have up to some hundred thousand steps, and this is asked for often: a plain loop.
  for (const one of moved) {
    const from = one.least - least;
    for (let at = 0; at < one.chances.length; at += 1) {
      chances[from + at] = (chances[from + at] ?? 0) + (one.chances[at] ?? 0) / STEPS;
    }
  }
  return { least, chances };
}
