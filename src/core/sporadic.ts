import { InputError } from "./errors.ts";
import { requireShare, type Series } from "./smooth.ts";

/** How size and interval of sporadic demand are smoothed. */
export interface SizeOptions {
  /** Weight of the latest demand, 0 to 1. */
  readonly alpha: number;
  /** Whether to take off what dividing two smoothed numbers adds. */
  readonly corrected?: boolean;
}

/**
 * Demand that comes now and then, by Croston's way: the size of a demand and the interval between demands
 * are smoothed apart and divided. For comparison; the default forecasts do not use it.
 *
 * A gap stretches no interval: the steps between demands are counted without it. With `corrected` the
 * result is multiplied by 1 − alpha / 2, as Syntetos and Boylan proposed.
 *
 * @param series Demand a step, zero or more, oldest first.
 * @param options Weight, and whether to correct.
 * @returns Demand expected a step; 0 where there has been none.
 * @throws InputError if a demand or alpha is no such number.
 * @example
 * croston([0, 2, 0, 4], { alpha: 0.5 }) // => 1.5
 */
export function croston(series: Series, options: SizeOptions): number {
  const { corrected = false } = options;
  const alpha = requireShare(options.alpha, "alpha");
  let size: number | null = null;
  let interval = 0;
  let since = 0;
  for (const demand of demands(series)) {
    since += 1;
    if (demand === 0) continue;
    interval = size === null ? since : interval + alpha * (since - interval);
    size = size === null ? demand : size + alpha * (demand - size);
    since = 0;
  }
  return size === null ? 0 : (size / interval) * (corrected ? 1 - alpha / 2 : 1);
}

/** How chance and size of sporadic demand are smoothed. */
export interface ChanceOptions {
  /** Weight of the latest size, 0 to 1. */
  readonly alpha: number;
  /** Weight of the latest step in the chance, 0 to 1. */
  readonly beta: number;
  /** Size and chance before the first step; the first demand and the share of steps with one when left out. */
  readonly start?: { readonly size: number; readonly chance: number };
}

/**
 * Demand that comes now and then, by the way of Teunter, Syntetos and Babai: the chance of a demand is
 * smoothed every step, so that an item which has died out fades. For comparison. A gap changes nothing.
 *
 * @param series Demand a step, zero or more, oldest first.
 * @param options Weights and start.
 * @returns Demand expected a step; 0 where there has been none.
 * @throws InputError if a demand or a weight is no such number.
 * @example
 * teunterSyntetosBabai([0, 4], { alpha: 0.5, beta: 0.5, start: { size: 2, chance: 0.5 } }) // => 1.875
 */
export function teunterSyntetosBabai(series: Series, options: ChanceOptions): number {
  const alpha = requireShare(options.alpha, "alpha");
  const beta = requireShare(options.beta, "beta");
  const values = demands(series);
  const some = values.filter((demand) => demand > 0);
  let { size, chance } = options.start ?? {
    size: some[0] ?? 0,
    chance: some.length / Math.max(1, values.length),
  };
  for (const demand of values) {
    chance += beta * ((demand > 0 ? 1 : 0) - chance);
    if (demand > 0) size += alpha * (demand - size);
  }
  return chance * size;
}

function demands(series: Series): number[] {
  const values = series.filter((value) => value !== null);
  for (const value of values) {
    if (!(Number.isFinite(value) && value >= 0))
      throw new InputError("series", "zero or more", value);
  }
  return values;
}
