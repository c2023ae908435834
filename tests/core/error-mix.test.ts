import { describe, expect, it } from "vitest";
import { type Chance, chance as demoChance } from "../../src/book/demo/chance.ts";
import { certain, type Distribution, quantileOf } from "../../src/core/distribution.ts";
import { countDistribution } from "../../src/core/count-distribution.ts";
import { limitsAlong, predictionAlong } from "../../src/core/error-mix.ts";
import { InputError } from "../../src/core/errors.ts";
import { ERROR_POINTS } from "../../src/core/open-fleet.ts";

const normal = (random: Chance): number =>
  Math.sqrt(-2 * Math.log(1 - random.share())) * Math.cos(2 * Math.PI * random.share());

const along = (of: (z: number) => Distribution, chance: number): number => {
  const [low, middle, high] = ERROR_POINTS;
  return predictionAlong([of(low.at), of(middle.at), of(high.at)]).quantile(chance);
};

describe("a number moved by an error whose spread is an estimate", () => {
  // Student's t with five degrees of freedom, one tail: Fisher and Yates, Statistical Tables, table III (from memory).
  it.each([
    [0.5, 0],
    [0.8, 0.92],
    [0.9, 1.476],
    [0.95, 2.015],
  ])("is not exceeded with %f up to %f standard errors", (chance, t) => {
    const found = along((at) => certain(Math.round(10_000 + 280 * at)), chance);
    // Steps of a thirty-third of chance are told apart, no finer.
    expect(Math.abs((found - 10_000) / 280 - t)).toBeLessThan(0.12);
    const mirrored = along((at) => certain(Math.round(10_000 + 280 * at)), 1 - chance);
    expect(Math.abs(mirrored + found - 20_000)).toBeLessThanOrEqual(chance === 0.5 ? 0 : 60);
  });

  it.each([0.05, 0.1, 0.5, 0.8, 0.95])(
    "varies by what chance and error do together: %f",
    (chance) => {
      // Poisson counts whose mean is 4,000 and errs by 2 %: nearly normal about each, drawn over many values of a Student's
      // t that is made of normal ones, t = z / √(χ²₅ / 5), the definition.
      const random = demoChance(7);
      const drawn = Array.from({ length: 20_000 }, () => {
        let squares = 0;
        for (let at = 0; at < 5; at += 1) squares += normal(random) ** 2;
        const mean = 4000 * (1 + 0.02 * (normal(random) / Math.sqrt(squares / 5)));
        return mean + Math.sqrt(mean) * normal(random);
      }).sort((one, other) => one - other);
      const wanted = drawn[Math.floor(chance * drawn.length)] ?? 0;
      const of = (at: number): Distribution => countDistribution({ mean: 4000 * (1 + 0.02 * at) });
      expect(Math.abs(along(of, chance) - wanted)).toBeLessThan(12);
    },
  );

  it("is told by its chances where its quantiles are, and by those of whole numbers more than was asked", () => {
    const points = ERROR_POINTS.map(({ at }) => countDistribution({ mean: 40 + 3 * at }));
    const { quantile, atMost } = predictionAlong(points);
    for (const chance of [0.05, 0.5, 0.8, 0.95]) {
      expect(atMost(quantile(chance))).toBeGreaterThanOrEqual(chance - 1e-12);
      expect(atMost(quantile(chance) - 1)).toBeLessThan(chance);
    }
    const { low, high, holds } = limitsAlong(points, 0.8);
    expect(holds).toBeCloseTo(atMost(high) - atMost(low - 1), 12);
    expect(holds).toBeGreaterThan(0.8);
    // A binomial count of 3 at one half: 1 to 2 with 6 of 8.
    const coins = { least: 0, chances: Float64Array.of(0.125, 0.375, 0.375, 0.125) };
    expect(limitsAlong([coins], 0.5)).toEqual({ low: 1, high: 2, holds: 0.75 });
    // Where no less than none is possible, nothing below it is missing.
    expect(limitsAlong([coins], 0.99)).toEqual({ low: 0, high: 3, holds: 1 });
  });

  it("is as it was where the error does not move it", () => {
    const one = countDistribution({ mean: 12, variance: 12 });
    for (const chance of [0.05, 0.5, 0.8, 0.95]) {
      expect(along(() => one, chance)).toBe(quantileOf(one, chance));
    }
  });

  it("lies about what is expected where that is known better", () => {
    const points = ERROR_POINTS.map(({ at }) => certain(Math.round(1000 + 30 * at)));
    const usual = limitsAlong(points, 0.9);
    const higher = limitsAlong(points, 0.9, 1012);
    expect([higher.low - usual.low, higher.high - usual.high]).toEqual([12, 12]);
    // Nothing is needed less often than never.
    const few = ERROR_POINTS.map(({ at }) => certain(Math.round(3 + 2 * at)));
    expect(limitsAlong(few, 0.95).low).toBe(0);
    expect(() => limitsAlong([], 0.9)).toThrow(InputError);
  });
});
