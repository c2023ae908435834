import { readFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { gammaQuantile } from "../../src/core/chance.ts";
import * as count from "../../src/core/count-distribution.ts";
import { meanOf } from "../../src/core/distribution.ts";
import { InputError } from "../../src/core/errors.ts";
import type { Published } from "./published.ts";

interface Count {
  readonly mean: number;
  readonly variance: number;
  readonly k: number;
  readonly exactly: number;
  readonly atMost: number;
  readonly above: number;
  readonly short: number;
  readonly chance: number;
  readonly quantile: number;
}

interface Reference {
  readonly made: string;
  readonly counts: readonly Count[];
}

const reference = JSON.parse(
  readFileSync(new URL("../reference/chance.json", import.meta.url), "utf8"),
) as Reference;

const slides =
  "Order-up-to model, lecture slides after Cachon & Terwiesch, Poisson table of mean 1.25 (text read)";

const tables: readonly Published<(k: number) => number, readonly number[]>[] = [
  {
    source: `${slides}: f(Q)`,
    given: (k) => count.countChance(k, { mean: 1.25 }),
    value: [0.286505, 0.358131, 0.223832, 0.093263, 0.029145],
    decimals: 6,
  },
  {
    source: `${slides}: F(Q)`,
    given: (k) => count.countAtMost(k, { mean: 1.25 }),
    value: [0.286505, 0.644636, 0.868468, 0.961731, 0.990876],
    decimals: 6,
  },
  {
    source: `${slides}: loss function`,
    given: (k) => count.expectedAbove(k, { mean: 1.25 }),
    value: [1.25, 0.5365, 0.18114, 0.04961, 0.01134],
    decimals: 5,
  },
  {
    source: "Sherbrooke, Optimal Inventory Modeling of Systems, ch. 2, mean 1 (from memory)",
    given: (k) => count.expectedAbove(k, { mean: 1 }),
    value: [1, 0.368, 0.104, 0.023],
    decimals: 3,
  },
  {
    source: "Sherbrooke, Optimal Inventory Modeling of Systems, ch. 2, mean 4 (from memory)",
    given: (k) => count.expectedAbove(k, { mean: 4 }),
    value: [4, 3.018, 2.11, 1.348, 0.7815, 0.41],
    decimals: 3,
  },
];

/** Largest mean that so many units cover: half a chi-squared quantile, table printed to 4 places. */
const thresholds: readonly Published<number, readonly number[]>[] = [
  {
    source: "Chi-squared thresholds of the Poisson count, 95 % (computed in R, not published)",
    given: 0.95,
    value: [0.3554, 0.8177, 1.3663, 1.9701],
    decimals: 4,
  },
  {
    source: "Chi-squared thresholds of the Poisson count, 99 % (computed in R, not published)",
    given: 0.99,
    value: [0.1486, 0.436, 0.8232, 1.2791],
    decimals: 4,
  },
];

describe("published", () => {
  for (const { source, given, value, decimals = 0 } of tables) {
    it(source, () => {
      value.forEach((printed, k) => {
        expect(given(k)).toBeCloseTo(printed, decimals);
      });
    });
  }
  it("Blanchard, Logistics Engineering and Management, spares nomograph: 20 parts, 0.1 in 1,000 h, 2,160 h, 95 % (from memory)", () => {
    expect(count.countQuantile(0.95, { mean: 20 * 0.0001 * 2160 })).toBe(8);
  });
  it("Greenwood & Yule 1920, Poisson mixed by gamma: mean 4, size 4, at most 8 (computed, not published)", () => {
    expect(count.countAtMost(8, { mean: 4, variance: 8 })).toBeCloseTo(0.927001953125, 10);
  });
  for (const { source, given, value, decimals = 0 } of thresholds) {
    it(source, () => {
      value.forEach((printed, index) => {
        const units = index + 1;
        expect(gammaQuantile(1 - given, units + 1)).toBeCloseTo(printed, decimals);
        expect(count.countQuantile(given, { mean: printed - 0.0001 })).toBe(units);
        expect(count.countQuantile(given, { mean: printed + 0.0001 })).toBe(units + 1);
      });
    });
  }
});

describe(`second implementation: ${reference.made}`, () => {
  const worst = <Row>(rows: readonly Row[], found: (row: Row) => number, true_: keyof Row) =>
    Math.max(
      ...rows.map((row) => {
        const value = row[true_] as number;
        // Below this a double number has not all its digits.
        return value < 1e-290 && value > -1e-290 ? 0 : Math.abs(found(row) / value - 1);
      }),
    );
  const { counts } = reference;

  it("has 300 counts, half of them Poisson, half negative binomial", () => {
    expect(counts.filter(({ mean, variance }) => variance > mean).length).toBe(150);
    expect(counts.filter(({ mean, variance }) => variance === mean).length).toBe(150);
  });
  it("agrees on single chances, upper tails and mean shortages within 1 in 10¹²", () => {
    expect(worst(counts, (row) => count.countChance(row.k, row), "exactly")).toBeLessThan(1e-12);
    expect(worst(counts, (row) => count.countAbove(row.k, row), "above")).toBeLessThan(1e-12);
    expect(worst(counts, (row) => count.expectedAbove(row.k, row), "short")).toBeLessThan(1e-12);
  });
  it("agrees on lower tails: Poisson within 1 in 10¹³, negative binomial 3 in 10¹¹", () => {
    const poisson = counts.filter(({ mean, variance }) => variance <= mean);
    const spread = counts.filter(({ mean, variance }) => variance > mean);
    const atMost = (row: Count): number => count.countAtMost(row.k, row);
    expect(worst(poisson, atMost, "atMost")).toBeLessThan(1e-13);
    expect(worst(spread, atMost, "atMost")).toBeLessThan(3e-11);
  });
  it("agrees on every whole quantile", () => {
    for (const row of counts) {
      expect(count.countQuantile(row.chance, row)).toBe(row.quantile);
    }
  });
});

const mean = fc.double({ min: 1e-3, max: 1e4, noNaN: true });
const ratio = fc.oneof(
  fc.constant(1),
  fc.double({ min: 1, max: 50, noNaN: true }),
  fc.double({ min: 1_000, max: 5_000, noNaN: true }),
);
const spread = fc
  .record({ mean, ratio })
  .map(({ mean, ratio }) => ({ mean, variance: mean * ratio }));
const units = fc.integer({ min: 0, max: 2_000 });
const share = fc.double({ min: 0.001, max: 0.999999, noNaN: true });

describe("properties", () => {
  it("shares one between at most and above, and adds each chance to at most", () => {
    const check = fc.property(spread, units, (one, k) => {
      const atMost = count.countAtMost(k, one);
      expect(atMost + count.countAbove(k, one)).toBeCloseTo(1, 9);
      expect(count.countAtMost(k - 1, one) + count.countChance(k, one)).toBeCloseTo(atMost, 8);
    });
    fc.assert(check);
  });
  it("gives the smallest count that reaches the chance", () => {
    const check = fc.property(spread, share, (one, wanted) => {
      const k = count.countQuantile(wanted, one);
      expect(count.countAbove(k, one)).toBeLessThanOrEqual((1 - wanted) * (1 + 1e-9));
      if (k > 0) expect(count.countAtMost(k - 1, one)).toBeLessThan(wanted * (1 + 1e-9));
    });
    fc.assert(check);
  });
  it("walks and searches to the same count: quantiles do not jump where the way changes", () => {
    for (const ratio of [1, 1.5, 20]) {
      const at = (mean: number, wanted: number): number =>
        count.countQuantile(wanted, { mean, variance: mean * ratio });
      for (const wanted of [0.05, 0.5, 0.95, 0.999]) {
        expect(at(60.000001, wanted)).toBe(at(59.999999, wanted));
      }
      expect(at(7, 0.99990001)).toBe(at(7, 0.9999));
    }
  });
  it("loses with each unit of stock the chance that it is called for", () => {
    const check = fc.property(spread, units, (one, k) => {
      const drop = count.expectedAbove(k, one) - count.expectedAbove(k + 1, one);
      // Both sides carry the rounding of a mean of up to ten thousand.
      expect(Math.abs(drop - count.countAbove(k, one))).toBeLessThan(1e-13 * one.mean + 1e-8);
      expect(count.expectedAbove(k, one)).toBeGreaterThanOrEqual(0);
    });
    fc.assert(check);
  });
  it("keeps a long tail whole: a variance of thousands of means", () => {
    for (const stock of [10, 100, 5_000]) {
      const one = { mean: 10, variance: 20_000 };
      let sum = 0;
      for (let k = 200_000; k > stock; k -= 1) sum += (k - stock) * count.countChance(k, one);
      expect(count.expectedAbove(stock, one) / sum).toBeCloseTo(1, 8);
    }
  });
  it("ends, and stays a chance, however wide the spread", () => {
    for (const [mean, variance] of [
      [3.6e-94, 1.9e-20],
      [1e-3, 1e6],
      [5, 1e21],
      [1e8, 1e30],
    ] as const) {
      const one = { mean, variance };
      for (const k of [0, 1, 100]) {
        expect(count.countAbove(k, one)).toBeGreaterThanOrEqual(0);
        expect(count.countAbove(k, one) + count.countAtMost(k, one)).toBeCloseTo(1, 12);
      }
      expect(Number.isFinite(count.countQuantile(0.999999, one))).toBe(true);
      expect(count.countQuantile(0.5, one)).toBe(0);
    }
  });
  it("takes a variance below the mean for Poisson, and nothing for nothing", () => {
    expect(count.countChance(3, { mean: 4, variance: 1 })).toBe(count.countChance(3, { mean: 4 }));
    expect(count.countChance(0, { mean: 0 })).toBe(1);
    expect(count.countChance(1, { mean: 0 })).toBe(0);
    expect(count.countChance(-1, { mean: 2 })).toBe(0);
    expect(count.countAtMost(-1, { mean: 2 })).toBe(0);
    expect(count.countAbove(-1, { mean: 2 })).toBe(1);
    expect(count.countAtMost(0, { mean: 0 })).toBe(1);
    expect(count.countAbove(0, { mean: 0 })).toBe(0);
    expect(count.countQuantile(0.99, { mean: 0 })).toBe(0);
    expect(count.countQuantile(0, { mean: 70 })).toBe(0);
    expect(count.expectedAbove(-2, { mean: 3 })).toBe(5);
  });
  it("writes a distribution out: each chance, nothing of weight left out, nothing above the most", () => {
    const narrow = fc.record({
      mean: fc.double({ min: 1e-3, max: 300, noNaN: true }),
      ratio: fc.double({ min: 1, max: 9, noNaN: true }),
    });
    const check = fc.property(narrow, fc.integer({ min: 0, max: 400 }), ({ mean, ratio }, most) => {
      const one = { mean, variance: mean * ratio };
      const { least, chances } = count.countDistribution(one);
      chances.forEach((found, at) => {
        expect(found).toBe(count.countChance(least + at, one));
      });
      expect(count.countAtMost(least - 1, one)).toBeLessThan(1e-15);
      expect(count.countAbove(least + chances.length - 1, one)).toBeLessThan(1e-15);
      expect(meanOf({ least, chances })).toBeCloseTo(mean, 9);
      const cut = count.countDistribution(one, most);
      expect(cut.least + cut.chances.length - 1).toBeLessThanOrEqual(most);
    });
    fc.assert(check);
    expect(count.countDistribution({ mean: 0 })).toEqual({ least: 0, chances: Float64Array.of(1) });
  });
});

describe("bad input", () => {
  const faults: readonly [() => unknown, string][] = [
    [() => count.countAtMost(1, { mean: -1 }), "mean must be zero or more, got -1"],
    [() => count.countAbove(1, { mean: NaN }), "mean must be zero or more, got NaN"],
    [() => count.countChance(1, { mean: Infinity }), "mean must be zero or more, got Infinity"],
    [
      () => count.expectedAbove(1, { mean: 1, variance: -1 }),
      "variance must be zero or more, got -1",
    ],
    [() => count.countQuantile(1, { mean: 1 }), "chance must be 0 up to but not 1, got 1"],
    [() => count.countQuantile(-0.1, { mean: 1 }), "chance must be 0 up to but not 1, got -0.1"],
  ];
  for (const [call, message] of faults) {
    it(`says: ${message}`, () => {
      expect(call).toThrow(InputError);
      expect(call).toThrow(message);
    });
  }
});
