import { readFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { InputError, NoAnswerError } from "../../src/core/errors.ts";
import { normalQuantile } from "../../src/core/chance.ts";
import { fitLevel, movingMean, naive, requireShare } from "../../src/core/smooth.ts";
import { seasonalNaive, type Series, smoothLevel } from "../../src/core/smooth.ts";
import type { Published } from "./published.ts";

/** One step ahead with a given weight, started at the first value. */
interface Smoothed {
  readonly values: readonly number[];
  readonly alpha: number;
}

const nist = [71, 70, 69, 68, 64, 65, 72, 78, 75, 75, 75, 70];
const oil = [
  446.6565229, 454.4733065, 455.662974, 423.6322388, 456.2713279, 440.5880501, 425.3325201,
  485.1494479, 506.0481621, 526.7919833, 514.268889, 494.2110193,
];

const published: readonly Published<Smoothed, readonly number[]>[] = [
  {
    source: "NIST/SEMATECH e-Handbook 6.4.3.1 (from memory), S2 to S12, alpha 0.1",
    given: { values: nist, alpha: 0.1 },
    value: [71, 70.9, 70.71, 70.44, 69.8, 69.32, 69.58, 70.43, 70.88, 71.29, 71.67],
    decimals: 2,
  },
  {
    source:
      "Hyndman & Athanasopoulos, Forecasting: principles and practice, 1st ed. 7.1, alpha 0.2 (text of a test of statsmodels read)",
    given: { values: oil, alpha: 0.2 },
    value: [484.802468],
    decimals: 4,
  },
  {
    source:
      "Hyndman & Athanasopoulos, Forecasting: principles and practice, 1st ed. 7.1, alpha 0.6 (text of a test of statsmodels read)",
    given: { values: oil, alpha: 0.6 },
    value: [501.837461],
    decimals: 4,
  },
];

const saudi = [
  445.364098092, 453.195010427, 454.409641012, 422.378905779, 456.037121728, 440.386604674,
  425.194372519, 486.20517351, 500.429086073, 521.27590917, 508.947617045, 488.888857729,
  509.870574978, 456.722912348, 473.816602915, 525.950870565, 549.833807597, 542.340469826,
];

describe("published", () => {
  for (const { source, given, value, decimals = 0 } of published) {
    it(source, () => {
      const { values, alpha } = given;
      const levels = values.map(
        (_, at) => smoothLevel(values.slice(0, at + 1), 1, { alpha, start: values[0] ?? 0 })[0],
      );
      value.forEach((printed, at) => {
        const found = levels[value.length === 1 ? levels.length - 1 : at] ?? NaN;
        expect(Math.abs(found - printed)).toBeLessThan(0.51 * 10 ** -decimals);
      });
    });
  }
  it("NIST/SEMATECH e-Handbook 6.4.3.1 (from memory): mean squared error 19.0", () => {
    const errors = nist.slice(1).map((value, at) => {
      const [level = NaN] = smoothLevel(nist.slice(0, at + 1), 1, { alpha: 0.1, start: 71 });
      return value - level;
    });
    const squares = errors.reduce((sum, error) => sum + error * error, 0);
    expect(squares / errors.length).toBeCloseTo(19.0, 1);
    // Printed 208.94 from errors rounded before.
    expect(squares).toBeCloseTo(208.818, 2);
  });
  it("Hyndman & Athanasopoulos, Forecasting: principles and practice, 2nd ed. 7.1 (output read): best weight, forecast, 80% limits", () => {
    const { alpha, start, level, squares } = fitLevel(saudi);
    // R's search stops a little before the least squares: hence more room than the last digit.
    expect(Math.abs(alpha - 0.8339)).toBeLessThan(0.0002);
    expect(Math.abs(start - 446.5868)).toBeLessThan(0.02);
    expect(Math.abs(level - 542.6806)).toBeLessThan(0.001);
    const reach = normalQuantile(0.9) * Math.sqrt(squares / (saudi.length - 2));
    expect(Math.abs(level - reach - 504.4541)).toBeLessThan(0.001);
    expect(Math.abs(level + reach - 580.907)).toBeLessThan(0.001);
  });
  it("Computed, not published: the least squares themselves", () => {
    const { alpha, start, level } = fitLevel(saudi);
    expect(alpha).toBeCloseTo(0.8338436, 6);
    expect(start).toBeCloseTo(446.57543, 4);
    expect(level).toBeCloseTo(542.68036, 4);
  });
});

interface Fitted {
  readonly series: Series;
  readonly fit: { readonly alpha: number; readonly squares: number; readonly level: number };
}
interface Smoothing {
  readonly made: string;
  readonly passengers: readonly number[];
  readonly level: readonly { readonly alpha: number; readonly ahead: readonly number[] }[];
}
const read = (name: string): unknown =>
  JSON.parse(readFileSync(new URL(`../reference/${name}.json`, import.meta.url), "utf8"));
const python = read("ahead") as { readonly made: string; readonly rows: readonly Fitted[] };
const r = read("compliance") as Smoothing;

describe("second implementation", () => {
  it(`${r.made}: HoltWinters with a given weight`, () => {
    for (const { alpha, ahead } of r.level) {
      const start = r.passengers[0] ?? NaN;
      expect(smoothLevel(r.passengers, 1, { alpha, start })[0]).toBeCloseTo(ahead[0] ?? NaN, 9);
    }
  });
  it(`${python.made}: least squares with gaps, from a matrix and a bounded search`, () => {
    expect(python.rows.length).toBe(64);
    for (const { series, fit } of python.rows) {
      const found = fitLevel(series);
      expect(found.squares).toBeLessThanOrEqual(fit.squares * (1 + 1e-9) + 1e-9);
      expect(found.squares).toBeGreaterThanOrEqual(fit.squares * (1 - 1e-9) - 1e-9);
      if (Math.abs(found.alpha - fit.alpha) < 1e-3) {
        expect(Math.abs(found.level / fit.level - 1)).toBeLessThan(1e-5);
      }
    }
  });
});

const value = fc.integer({ min: 0, max: 500 });
const series = fc
  .tuple(fc.array(fc.option(value, { freq: 4 }), { maxLength: 40 }), value)
  .map(([some, last]): Series => [...some, last]);
const known = (given: Series): number[] => given.filter((one) => one !== null);

describe("properties", () => {
  it("a level stays within the values seen, gaps or not", () => {
    const check = fc.property(series, (given) => {
      const values = known(given);
      for (const found of [
        fitLevel(given).level,
        fitLevel(given).start,
        ...movingMean(given, 1, 12),
        ...smoothLevel(given, 1, { alpha: 0.2 }),
      ]) {
        expect(found).toBeGreaterThanOrEqual(Math.min(...values) - 1e-9);
        expect(found).toBeLessThanOrEqual(Math.max(...values) + 1e-9);
      }
    });
    fc.assert(check);
  });
  it("a gap never gives less than the lowest value seen in its place would", () => {
    const check = fc.property(series, (given) => {
      const least = Math.min(...known(given));
      const filled = given.map((one) => one ?? least);
      const start = known(given)[0] ?? 0;
      const level = (some: Series): number => smoothLevel(some, 1, { alpha: 0.2, start })[0] ?? 0;
      const mean = (some: Series): number => movingMean(some, 1)[0] ?? 0;
      expect(level(given)).toBeGreaterThanOrEqual(level(filled) - 1e-9);
      expect(mean(given)).toBeGreaterThanOrEqual(mean(filled) - 1e-9);
    });
    fc.assert(check);
  });
  it("grows with its values: twice the values, twice the level; 100 more, 100 more", () => {
    const check = fc.property(series, (given) => {
      const twice = given.map((one) => (one === null ? null : one * 2));
      const more = given.map((one) => (one === null ? null : one + 100));
      const fit = fitLevel(given);
      expect(fitLevel(twice)).toEqual({
        ...fit,
        start: fit.start * 2,
        level: fit.level * 2,
        squares: fit.squares * 4,
      });
      expect(Math.abs(fitLevel(more).squares - fit.squares)).toBeLessThan(1e-6 * (1 + fit.squares));
      const level = (some: Series): number => smoothLevel(some, 1, { alpha: 0.3 })[0] ?? 0;
      expect(level(more)).toBeCloseTo(level(given) + 100, 9);
    });
    fc.assert(check);
  });
  it("a constant series goes on as it was, for every step", () => {
    const check = fc.property(
      fc.integer({ min: 0, max: 9999 }),
      fc.integer({ min: 1, max: 40 }),
      (one, length) => {
        const given = Array.from({ length }, () => one);
        expect(fitLevel(given).level).toBeCloseTo(one, 8);
        expect(naive(given, 3)).toEqual([one, one, one]);
        expect(movingMean(given, 2)[1]).toBeCloseTo(one, 9);
      },
    );
    fc.assert(check);
  });
  it("the best weight is at least as good as any other", () => {
    const check = fc.property(
      series,
      fc.double({ min: 0, max: 1, noNaN: true }),
      (given, alpha) => {
        const { squares } = fitLevel(given);
        const start = movingMean(given, 1, 6)[0] ?? 0;
        let [at, others] = [start, 0];
        for (const one of known(given)) {
          others += (one - at) ** 2;
          at += alpha * (one - at);
        }
        // The search starts on a grid of twentieths: between two of them a second valley may be missed.
        expect(squares).toBeLessThanOrEqual(others * 1.02 + 1e-6);
      },
    );
    fc.assert(check);
  });
  it("last year's value is the latest known of the same month, over any number of years", () => {
    const check = fc.property(series, fc.integer({ min: 1, max: 30 }), (given, steps) => {
      const found = seasonalNaive(given, steps);
      expect(found.length).toBe(steps);
      found.forEach((one, step) => {
        const same = given.filter((_, at) => (given.length + step - at) % 12 === 0);
        expect(one).toBe(known(same).at(-1) ?? null);
      });
    });
    fc.assert(check);
  });
});

describe("bad input", () => {
  it("says that a weight is no share", () => {
    const wanted = "alpha must be a share from 0 to 1, got 1.5";
    expect(() => smoothLevel([1], 1, { alpha: 1.5 })).toThrow(
      new InputError("alpha", "a share from 0 to 1", 1.5),
    );
    expect(() => smoothLevel([1], 1, { alpha: 1.5 })).toThrow(wanted);
    expect(() => requireShare(NaN, "beta")).toThrow("beta must be a share from 0 to 1, got NaN");
  });
  it("says that a period is none", () => {
    expect(() => seasonalNaive([1], 1, 0)).toThrow(
      "period must be a whole number of at least 1, got 0",
    );
  });
  it("has no answer where nothing is known", () => {
    for (const run of [naive, movingMean]) {
      expect(() => run([null, null], 1)).toThrow(NoAnswerError);
      expect(() => run([], 1)).toThrow("needs at least one known value");
    }
    expect(() => fitLevel([null])).toThrow("needs at least one known value");
    expect(seasonalNaive([], 2)).toEqual([null, null]);
  });
});
