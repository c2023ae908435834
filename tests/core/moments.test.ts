import { describe, expect, it } from "vitest";
import { certain, sumOf } from "../../src/core/distribution.ts";
import {
  addedUp,
  mixedMoments,
  momentsOf,
  momentsOfNumber,
  normalOf,
  summed,
} from "../../src/core/moments.ts";

const coin = Float64Array.of(0.5, 0.5);

describe("published", () => {
  it("Ross, Introduction to Probability Models, conditional variance formula, from memory: a die's half of the time, else 7", () => {
    const die = { mean: 3.5, variance: 35 / 12 };
    const { mean, variance } = mixedMoments([die, { mean: 7, variance: 0 }], () => 0.5);
    expect(mean).toBeCloseTo(5.25, 12);
    expect(variance).toBeCloseTo(35 / 24 + 1.75 ** 2, 12);
  });
  it("Feller, volume I, chapter VII, from memory: 100 tosses, at most 55 heads .8643, by the normal rule", () => {
    const heads = normalOf(Array.from({ length: 100 }, () => momentsOf(coin)));
    let atMost = 0;
    heads.chances.forEach((chance, at) => {
      if (heads.least + at <= 55) atMost += chance;
    });
    expect(atMost).toBeCloseTo(0.8643, 4);
  });
});

describe("second implementation", () => {
  it("adds up in one row what convolution two by two adds up", () => {
    const parts = [coin, Float64Array.of(0.2, 0, 0.8), Float64Array.of(1), Float64Array.of(0, 1)];
    const found = addedUp({
      size: parts.length,
      widest: 3,
      write: (at, row) => {
        row.set(parts[at] ?? []);
        return parts[at]?.length ?? 0;
      },
    });
    const wanted = sumOf(parts.map((chances) => ({ least: 0, chances })));
    wanted.chances.forEach((chance, at) => {
      expect(found.chances[wanted.least + at - found.least] ?? 0).toBeCloseTo(chance, 14);
    });
    const { mean, variance } = momentsOfNumber(found);
    const sum = summed(parts.map(momentsOf));
    expect([mean, variance]).toEqual([
      expect.closeTo(sum.mean, 12),
      expect.closeTo(sum.variance, 12),
    ]);
  });
  it("is a whole number where nothing is spread", () => {
    expect(normalOf([{ mean: 4, variance: 0 }])).toEqual(certain(4));
    expect(normalOf([])).toEqual(certain(0));
  });
});
