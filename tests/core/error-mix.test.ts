import { describe, expect, it } from "vitest";
import { certain, type Distribution, quantileOf } from "../../src/core/distribution.ts";
import { countDistribution } from "../../src/core/count-distribution.ts";
import { quantileAlong } from "../../src/core/error-mix.ts";
import { ERROR_POINTS } from "../../src/core/open-fleet.ts";

const along = (of: (z: number) => Distribution, chance: number): number => {
  const [low, middle, high] = ERROR_POINTS;
  return quantileAlong([of(low.at), of(middle.at), of(high.at)], chance);
};

describe("a number moved by a normal error", () => {
  it.each([
    [0.5, 0],
    [0.8, 0.8416],
    [0.9, 1.2816],
    [0.95, 1.6449],
  ])("is not exceeded with %f up to %f standard deviations (normal table)", (chance, z) => {
    const found = along((at) => certain(Math.round(10_000 + 280 * at)), chance);
    // Steps of a thirty-third of chance are told apart, no finer.
    expect(Math.abs((found - 10_000) / 280 - z)).toBeLessThan(0.12);
  });

  it.each([
    [0.1, -1.2816],
    [0.8, 0.8416],
    [0.95, 1.6449],
  ])("varies by what chance and error do together: %f", (chance, z) => {
    // Poisson counts whose mean is 4,000 and errs by 2 %: variance 4,000 + 80² (law of total variance), nearly normal.
    const of = (at: number): Distribution => {
      const mean = 4000 * (1 + 0.02 * at);
      return countDistribution({ mean, variance: mean });
    };
    const spread = Math.sqrt(4000 + 80 ** 2);
    expect(Math.abs((along(of, chance) - 4000) / spread - z)).toBeLessThan(0.05);
  });

  it("is as it was where the error does not move it", () => {
    const one = countDistribution({ mean: 12, variance: 12 });
    for (const chance of [0.05, 0.5, 0.8, 0.95]) {
      expect(along(() => one, chance)).toBe(quantileOf(one, chance));
    }
  });
});
