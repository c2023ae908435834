/** A seeded source of chance for the demonstration: same seed, same programme. */
export interface Chance {
  /** Evenly between 0 and 1. */
  readonly share: () => number;
  /** Whole number from 0 up to but not including the limit. */
  readonly below: (limit: number) => number;
  readonly poisson: (mean: number) => number;
  readonly gamma: (shape: number) => number;
  readonly pick: <T>(from: readonly T[]) => T;
}

/**
 * Chance from a seed: a 32-bit Weyl sequence whose steps are mixed by multiply and shift. Good enough
 * to invent a programme, not for statistics.
 */
export function chance(seed: number): Chance {
  let state = seed >>> 0;
  const share = (): number => {
    state = (state + 0x9e3779b9) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 16), 0x21f0aaad);
    mixed = Math.imul(mixed ^ (mixed >>> 15), 0x735a2d97);
    return ((mixed ^ (mixed >>> 15)) >>> 0) / 2 ** 32;
  };
  const below = (limit: number): number => Math.floor(share() * limit);
  return {
    share,
    below,
    pick: (from) => {
      const picked = from[below(from.length)];
      if (picked === undefined) throw new Error("nothing to pick from");
      return picked;
    },
    // Arrivals counted until their exponential gaps fill the mean; means here stay below a thousand.
    poisson: (mean) => {
      let count = -1;
      for (let time = 0; time <= mean; count += 1) time -= Math.log(1 - share());
      return count;
    },
    // A whole shape is a sum of exponentials.
    gamma: (shape) => {
      let sum = 0;
      for (let at = 0; at < shape; at += 1) sum -= Math.log(1 - share());
      return sum;
    },
  };
}
