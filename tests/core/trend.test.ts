import { readFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { smoothSeason, smoothTrend } from "../../src/core/trend.ts";

const nist = [6.4, 5.6, 7.8, 8.8, 11, 11.6, 16.7, 15.3, 21.6, 22.4];
const air = [
  17.5534, 21.8601, 23.8866, 26.9293, 26.8885, 28.8314, 30.0751, 30.9535, 30.1857, 31.5797,
  32.577569, 33.477398, 39.021581, 41.386432, 41.596552,
];
const passengers = [
  112, 118, 132, 129, 121, 135, 148, 148, 136, 119, 104, 118, 115, 126, 141, 135, 125, 149, 170,
  170, 158, 133, 114, 140, 145, 150, 178, 163, 172, 178, 199, 199, 184, 162, 146, 166, 171, 180,
  193, 181, 183, 218, 230, 242, 209, 191, 172, 194, 196, 196, 236, 235, 229, 243, 264, 272, 237,
  211, 180, 201, 204, 188, 235, 227, 234, 264, 302, 293, 259, 229, 203, 229, 242, 233, 267, 269,
  270, 315, 364, 347, 312, 274, 237, 278, 284, 277, 317, 313, 318, 374, 413, 405, 355, 306, 271,
  306, 315, 301, 356, 348, 355, 422, 465, 467, 404, 347, 305, 336, 340, 318, 362, 348, 363, 435,
  491, 505, 404, 359, 310, 337, 360, 342, 406, 396, 420, 472, 548, 559, 463, 407, 362, 405, 417,
  391, 419, 461, 472, 535, 622, 606, 508, 461, 390, 432,
];

describe("published", () => {
  it("NIST/SEMATECH e-Handbook 6.4.3.4 (as transcribed elsewhere, text read): S1 to S10", () => {
    const printed = [6.4, 6.6, 7.2, 8.1, 9.8, 11.5, 14.5, 16.7, 19.9, 22.8];
    // The mean of the first three changes.
    const slope = ((nist[3] ?? 0) - (nist[0] ?? 0)) / 3;
    expect(printed[0]).toBe(nist[0]);
    printed.slice(1).forEach((value, at) => {
      const options = { alpha: 0.3623, beta: 1, start: { level: nist[0] ?? 0, slope } };
      const [one = 0, two = 0] = smoothTrend(nist.slice(1, at + 2), 2, options);
      // Two steps of one slope lead back to the level they start from.
      expect(Math.abs(2 * one - two - value)).toBeLessThan(0.051);
    });
  });
  const start = { level: air[0] ?? 0, slope: (air[1] ?? 0) - (air[0] ?? 0) };
  it("Hyndman & Athanasopoulos, Forecasting: principles and practice, 1st ed. 7.2 (text of a test of statsmodels read): five years ahead", () => {
    const found = smoothTrend(air, 5, { alpha: 0.8, beta: 0.2, start });
    [43.76, 45.59, 47.43, 49.27, 51.1].forEach((value, step) => {
      expect(Math.abs((found[step] ?? 0) - value)).toBeLessThan(0.0051);
    });
  });
  it("Computed in R, not published: the same, damped by 0.9", () => {
    const found = smoothTrend(air, 5, { alpha: 0.8, beta: 0.2, damp: 0.9, start });
    [
      42.9591501712025, 44.0344609834796, 45.002240714529, 45.8732424724734, 46.6571440546234,
    ].forEach((value, step) => {
      expect(found[step]).toBeCloseTo(value, 9);
    });
  });
  it("Computed in R 4.2.2, not published: stats::HoltWinters on datasets::AirPassengers, starts given", () => {
    const found = smoothSeason(passengers, 3, { alpha: 0.3, beta: 0.1, gamma: 0.2 });
    [474.554797946684, 469.299903221076, 512.309611993415].forEach((value, step) => {
      expect(found[step]).toBeCloseTo(value, 6);
    });
  });
});

interface Trended {
  readonly alpha: number;
  readonly beta: number;
  readonly ahead: readonly number[];
}
const r = JSON.parse(
  readFileSync(new URL("../reference/compliance.json", import.meta.url), "utf8"),
) as {
  readonly made: string;
  readonly passengers: readonly number[];
  readonly season: readonly (Trended & { readonly gamma: number })[];
  readonly trend: readonly Trended[];
};

describe(`second implementation: ${r.made}, HoltWinters`, () => {
  it("agrees on a season, fifteen months ahead", () => {
    expect(r.passengers).toEqual(passengers);
    expect(r.season.length).toBe(3);
    for (const { alpha, beta, gamma, ahead } of r.season) {
      const found = smoothSeason(passengers, 15, { alpha, beta, gamma });
      ahead.forEach((value, step) => {
        expect(found[step]).toBeCloseTo(value, 8);
      });
    }
  });
  it("agrees on a trend, five months ahead", () => {
    const [first = 0, second = 0] = passengers;
    for (const { alpha, beta, ahead } of r.trend) {
      const start = { level: second, slope: second - first };
      const found = smoothTrend(passengers.slice(2), 5, { alpha, beta, start });
      ahead.forEach((value, step) => {
        expect(found[step]).toBeCloseTo(value, 8);
      });
    }
  });
});

const weight = fc.double({ min: 0, max: 1, noNaN: true });
const values = fc.array(fc.integer({ min: 0, max: 500 }), { minLength: 24, maxLength: 60 });
const weights = fc.record({ alpha: weight, beta: weight, gamma: weight });

describe("properties", () => {
  it("goes on along a straight line, and over gaps in it", () => {
    const check = fc.property(weights, fc.array(fc.boolean(), { minLength: 5 }), (given, gaps) => {
      const line = gaps.map((gap, at) => (gap ? null : 10 + 3 * at));
      fc.pre(line.some((one) => one !== null));
      const found = smoothTrend(line, 2, { ...given, start: { level: 7, slope: 3 } });
      expect(found[0]).toBeCloseTo(10 + 3 * gaps.length, 6);
      expect(found[1]).toBeCloseTo(13 + 3 * gaps.length, 6);
    });
    fc.assert(check);
  });
  it("repeats a season that does not change, with gaps after its first year", () => {
    const check = fc.property(weights, fc.array(fc.boolean(), { minLength: 12 }), (given, gaps) => {
      const pattern = [9, 4, 6, 2, 8, 1, 7, 3, 5, 12, 10, 11];
      const of = (at: number): number => pattern[at % 12] ?? 0;
      const series = [...pattern, ...gaps.map((gap, at) => (gap ? null : of(at)))];
      const found = smoothSeason(series, 12, given);
      found.forEach((one, step) => {
        expect(one).toBeCloseTo(of(gaps.length + step), 8);
      });
    });
    fc.assert(check);
  });
  it("a constant series goes on as it was", () => {
    const check = fc.property(weights, fc.integer({ min: 0, max: 999 }), (given, one) => {
      const series = Array.from({ length: 30 }, () => one);
      for (const found of [...smoothTrend(series, 4, given), ...smoothSeason(series, 4, given)]) {
        expect(found).toBeCloseTo(one, 8);
      }
    });
    fc.assert(check);
  });
  it("twice the values, twice the forecast; 50 more, 50 more", () => {
    const check = fc.property(values, weights, (given, options) => {
      const ahead = (some: readonly number[]): number[] => [
        ...smoothTrend(some, 3, { ...options, damp: 0.9 }),
        ...smoothSeason(some, 3, options),
      ];
      const found = ahead(given);
      const twice = ahead(given.map((one) => 2 * one));
      const more = ahead(given.map((one) => one + 50));
      found.forEach((one, step) => {
        expect(twice[step]).toBe(2 * one);
        expect(Math.abs((more[step] ?? NaN) - one - 50)).toBeLessThan(1e-6 * (1 + Math.abs(one)));
      });
    });
    fc.assert(check);
  });
});

describe("bad input", () => {
  const options = { alpha: 0.3, beta: 0.1, gamma: 0.2 };
  it("names a weight that is no share", () => {
    const wanted = /must be a share from 0 to 1, got -1$/;
    for (const name of ["alpha", "beta", "gamma"]) {
      expect(() => smoothSeason(passengers, 1, { ...options, [name]: -1 })).toThrow(
        `${name} must be a share from 0 to 1, got -1`,
      );
    }
    expect(() => smoothTrend([1], 1, { ...options, damp: -1 })).toThrow(wanted);
  });
  it("has no answer without two cycles, or where nothing is known", () => {
    expect(() => smoothSeason(passengers.slice(0, 23), 1, options)).toThrow(
      "needs two cycles of 12 steps with known values",
    );
    expect(() => smoothTrend([null], 1, options)).toThrow("needs at least one known value");
  });
});
