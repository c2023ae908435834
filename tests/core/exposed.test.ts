import { describe, expect, it } from "vitest";
import { InputError } from "../../src/core/errors.ts";
import {
  type ExposedFit,
  exposedRow,
  failedUnder,
  lifeUnder,
  likelihoodOf,
} from "../../src/core/exposed.ts";
import { failedBefore } from "../../src/core/life.ts";

const plain: ExposedFit = {
  ...{ shape: 2.5, start: -2.5 * Math.log(9), effects: [] },
  covariance: [
    [0, 0],
    [0, 0],
  ],
};

describe("second implementation", () => {
  it("fails as a plain Weibull life does where nothing is told of exposure", () => {
    for (const months of [1, 3, 6, 12]) {
      const { share } = failedUnder(plain, { months, pace: 1, factors: [] }, 0.95);
      expect(share).toBeCloseTo(failedBefore(months, { shape: 2.5, scale: 9 }, 0.95).share, 14);
    }
  });
  it("has the limits of a plain life's delta method, in its own parameters", () => {
    // Shape and scale by their logarithms, as lifeFit gives them.
    const [scale, shape, both] = [0.023, 0.047, -0.022];
    const [b, log] = [2.4, Math.log(8.6)];
    const slopes = [
      [0, b],
      [-b, -b * log],
    ];
    const ofLogs = [
      [scale, both],
      [both, shape],
    ];
    const covariance = slopes.map((one) =>
      slopes.map((other) =>
        one.reduce(
          (sum, left, i) =>
            sum + other.reduce((part, right, j) => part + left * right * (ofLogs[i]?.[j] ?? 0), 0),
          0,
        ),
      ),
    );
    const fit = { shape: b, start: -b * log, effects: [], covariance };
    for (const months of [1, 3, 8.6, 12]) {
      const known = failedBefore(
        months,
        { shape: b, scale: 8.6, covariance: { scale, shape, both } },
        0.95,
      );
      const found = failedUnder(fit, { months, pace: 1, factors: [] }, 0.95);
      expect(found.low).toBeCloseTo(known.low, 12);
      expect(found.high).toBeCloseTo(known.high, 12);
    }
  });
});

describe("properties", () => {
  it("has a life counted in uses end after as many uses, at any pace", () => {
    for (const pace of [5, 40, 160]) {
      const { scale } = lifeUnder({ ...plain, start: -2.5 * Math.log(360) }, { pace, factors: [] });
      expect(scale * pace).toBeCloseTo(360, 9);
    }
  });
  it("has a life shortened by a factor, as far as its effect says", () => {
    const fit = { ...plain, effects: [2.5 * Math.log(2)] };
    expect(lifeUnder(fit, { pace: 1, factors: [1] }).scale).toBeCloseTo(4.5, 12);
    expect(lifeUnder(fit, { pace: 1, factors: [0] }).scale).toBeCloseTo(9, 12);
  });
  it("has the likelihood fall where a failure comes at an unlikely age", () => {
    const at = (months: number): number =>
      likelihoodOf(plain, [{ months, failed: true, pace: 1, factors: [] }]);
    expect(at(7)).toBeGreaterThan(at(2));
    expect(at(7)).toBeGreaterThan(at(18));
  });
});

describe("refused", () => {
  it("an age or a pace that is not above 0, and other factors than were fitted", () => {
    expect(() => exposedRow({ months: 0, pace: 1, factors: [] })).toThrow(InputError);
    expect(() => exposedRow({ months: 1, pace: 0, factors: [] })).toThrow(InputError);
    expect(() => failedUnder(plain, { months: 1, pace: 1, factors: [1] }, 0.9)).toThrow(
      "factors must be as many as were fitted, 0, got 1",
    );
  });
});
