import { describe, expect, it } from "vitest";
import { certain, type Distribution, meanOf, quantileOf } from "../../src/core/distribution.ts";
import { countDistribution } from "../../src/core/count-distribution.ts";
import { mixedAlong } from "../../src/core/error-mix.ts";
import { ERROR_POINTS } from "../../src/core/open-fleet.ts";

const along = (of: (z: number) => Distribution): Distribution => {
  const [low, middle, high] = ERROR_POINTS;
  return mixedAlong([of(low.at), of(middle.at), of(high.at)]);
};
const varianceOf = (one: Distribution): number => {
  const mean = meanOf(one);
  return one.chances.reduce((sum, chance, at) => sum + chance * (one.least + at - mean) ** 2, 0);
};

describe("a number moved by a normal error", () => {
  it.each([
    [0.5, 0],
    [0.8, 0.8416],
    [0.9, 1.2816],
    [0.95, 1.6449],
  ])("is not exceeded with %f up to %f standard deviations (normal table)", (chance, z) => {
    const mixed = along((at) => certain(Math.round(10_000 + 280 * at)));
    // Steps of a thirty-third of chance are told apart, no finer.
    expect(Math.abs((quantileOf(mixed, chance) - 10_000) / 280 - z)).toBeLessThan(0.12);
  });

  it("keeps the mean and variance of what chance and error do together", () => {
    // Poisson counts whose mean is 400 and errs by 5 %: variance 400 + 20² (law of total variance).
    const mixed = along((z) => {
      const mean = 400 * (1 + 0.05 * z);
      return countDistribution({ mean, variance: mean });
    });
    expect(meanOf(mixed)).toBeCloseTo(400, 0);
    expect(varianceOf(mixed) / 800).toBeCloseTo(1, 1);
  });

  it("is as it was where the error does not move it", () => {
    const one = countDistribution({ mean: 12, variance: 12 });
    const mixed = along(() => one);
    expect(mixed.least).toBe(one.least);
    mixed.chances.forEach((chance, at) => {
      expect(chance).toBeCloseTo(one.chances[at] ?? 0, 12);
    });
  });
});
