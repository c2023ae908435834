import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { accuracy, backtest, rootMeanSquare } from "../../src/core/accuracy.ts";
import { movingMean, naive, seasonalNaive, type Series } from "../../src/core/smooth.ts";
import type { Published } from "./published.ts";

const history = [
  443, 410, 420, 532, 433, 421, 410, 512, 449, 381, 423, 531, 426, 408, 416, 520, 409, 398, 398,
  507, 432, 398, 406, 526, 428, 397, 403, 517, 435, 383, 424, 521, 421, 402, 414, 500, 451, 380,
  416, 492, 428, 408, 406, 506, 435, 380, 421, 490, 435, 390, 412, 454, 416, 403, 408, 482, 438,
  386, 405, 491, 427, 383, 394, 473,
];
const came = [420, 390, 410, 488, 415, 398, 419, 488, 414, 374];

/** Root mean squared error, mean absolute error, the same in %, scaled by last year's quarter. */
const table: readonly Published<Series, readonly number[]>[] = [
  { source: "the mean", given: movingMean(history, 10), value: [38.45, 34.83, 8.28, 2.44] },
  { source: "the last value", given: naive(history, 10), value: [62.69, 57.4, 14.18, 4.01] },
  {
    source: "last year's quarter",
    given: seasonalNaive(history, 10, 4),
    value: [14.31, 13.4, 3.17, 0.94],
  },
];

describe("published", () => {
  for (const { source, given, value } of table) {
    it(`Hyndman & Athanasopoulos, Forecasting: principles and practice, 2nd ed. 3.4, table of errors (data read in CRAN fpp2, printed result from memory): ${source}`, () => {
      const found = accuracy(came, given, history, 4);
      const share = came.map((one, step) => Math.abs(one - (given[step] ?? NaN)) / one);
      const percent = (100 * share.reduce((sum, one) => sum + one, 0)) / share.length;
      [found?.rmse, found?.mae, percent, found?.mase].forEach((one, column) => {
        expect(Math.abs((one ?? NaN) - (value[column] ?? NaN))).toBeLessThan(0.0051);
      });
    });
  }
  it("Computed from the definition, not published: squared error scaled by last year's quarter", () => {
    const found = accuracy(came, seasonalNaive(history, 10, 4), history, 4);
    expect(found?.rmsse).toBeCloseTo(0.8527523962485303, 10);
  });
});

const value = fc.integer({ min: 0, max: 100 });
const series = fc.array(fc.option(value, { freq: 4 }), { minLength: 3, maxLength: 30 });

describe("second implementation: every pair of months written out", () => {
  it("agrees on the errors of the last value, with gaps", () => {
    const check = fc.property(series, (given) => {
      const errors = backtest(given, naive, { steps: 2, least: 1 });
      const pairs = [1, 2].map((step) =>
        given.flatMap((one, at) => {
          const later = given[at + step] ?? null;
          return one === null || later === null ? [] : [later - one];
        }),
      );
      expect(errors).toEqual(pairs);
    });
    fc.assert(check);
  });
});

describe("properties", () => {
  it("scaled errors do not change with the unit; others change with it", () => {
    const numbers = fc.array(value, { minLength: 16, maxLength: 16 });
    const check = fc.property(numbers, numbers, numbers, (one, other, past) => {
      const found = accuracy(one, other, past);
      const by = (some: readonly number[]): number[] => some.map((each) => each * 8);
      const larger = accuracy(by(one), by(other), by(past));
      expect(larger).toEqual(found && { ...found, mae: found.mae * 8, rmse: found.rmse * 8 });
      expect(found?.rmse).toBeGreaterThanOrEqual((found?.mae ?? 0) - 1e-9);
    });
    fc.assert(check);
  });
  it("last year's value is off by 1 where history and test are the same", () => {
    const past = [1, 2, 3, 4, 5, 6, 7, 8];
    expect(accuracy([9, 10, 11, 12], seasonalNaive(past, 4, 4), past, 4)).toEqual({
      ...{ mae: 4, rmse: 4, mase: 1, rmsse: 1 },
    });
  });
  it("leaves scaled errors blank where there is nothing to scale by, never 0 or endless", () => {
    const wanted = { mae: 1, rmse: 1, mase: null, rmsse: null };
    expect(accuracy([4], [3], [1, 2, 3], 12)).toEqual(wanted);
    expect(accuracy([4], [3], [3, 3, 3, 3], 2)).toEqual(wanted);
    expect(accuracy([4], [3], [3, null, null, 3], 2)).toEqual(wanted);
    expect(accuracy([null, 4], [3, null], [1, 2, 3], 1)).toBeNull();
    expect(rootMeanSquare([])).toBe(0);
  });
  it("shows a way only what was known then", () => {
    const seen: number[] = [];
    const way = (past: Series, steps: number): Series => {
      seen.push(past.length, steps);
      return naive(past, steps);
    };
    expect(backtest([1, null, 3, 4, 6], way, { steps: 3, least: 2 })).toEqual([[1, 2], [3], []]);
    expect(seen).toEqual([3, 2, 4, 1]);
  });
});

describe("bad input", () => {
  it("refuses to try before anything is known", () => {
    expect(() => backtest([1, 2], naive, { steps: 1, least: 0 })).toThrow(
      "least must be at least 1, got 0",
    );
  });
});
