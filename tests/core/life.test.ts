import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { gammaAtMost } from "../../src/core/chance.ts";
import { InputError } from "../../src/core/errors.ts";
import { countAtMost } from "../../src/core/count-distribution.ts";
import {
  failedBefore,
  failureRate,
  failuresAhead,
  jeffreysRate,
  type Life,
  possibleLives,
} from "../../src/core/life.ts";

describe("published", () => {
  it("NIST/SEMATECH e-Handbook 8.4.5.1, formulas for a test ended by time, two failures in 1,000 hours (computed, not published)", () => {
    const { rate, low, high } = failureRate({ failures: 2, months: 1000 }, 0.9);
    expect(rate).toBe(0.002);
    expect(low).toBeCloseTo(0.00035536151069866196, 12);
    expect(high).toBeCloseTo(0.006295793621871988, 12);
  });
  it("No failure in 36 unit-months, upper limit of 95 % on one side: −ln 0.05 / 36", () => {
    const { rate, low, high } = failureRate({ failures: 0, months: 36 }, 0.9);
    expect([rate, low]).toEqual([0, 0]);
    expect(high).toBeCloseTo(-Math.log(0.05) / 36, 14);
    expect(high).toBeCloseTo(0.0832, 4);
  });
});

/** Chance that a Poisson count is at most k, term by term. */
function poissonAtMost(k: number, mean: number): number {
  let [term, sum] = [Math.exp(-mean), 0];
  for (let at = 0; at <= k; at += 1) {
    sum += term;
    term *= mean / (at + 1);
  }
  return sum;
}

describe("Jeffreys' prior", () => {
  it("is what integrating over the rates that few failures leave open gives", () => {
    const [failures, months, ahead] = [3, 24, 4];
    const shares = [0, 0, 0, 0];
    let whole = 0;
    for (let rate = 0.00005; rate < 2; rate += 0.0001) {
      const weight = rate ** (failures - 0.5) * Math.exp(-rate * months);
      whole += weight;
      for (const [k, sum] of shares.entries()) {
        shares[k] = sum + weight * poissonAtMost(k, rate * ahead);
      }
    }
    const found = failuresAhead({ failures, months }, ahead);
    shares.forEach((sum, k) => {
      expect(countAtMost(k, found)).toBeCloseTo(sum / whole, 6);
    });
  });
  it("does not take a failure never seen for none to come, and trusts many", () => {
    expect(jeffreysRate({ failures: 0, months: 12 })).toBeCloseTo(1 / 24, 15);
    const none = failuresAhead({ failures: 0, months: 12 }, 3);
    expect(none.mean).toBeCloseTo(0.125, 15);
    expect(none.variance).toBeGreaterThan(none.mean);
    const many = failuresAhead({ failures: 1_000_000, months: 1_000_000 }, 3);
    expect(many.variance).toBeCloseTo(3, 4);
  });
});

const uncertain: Life = {
  ...{ shape: 2.4, scale: 8.6 },
  covariance: { scale: 0.023, shape: 0.047, both: -0.022 },
};

describe("second implementation", () => {
  it("puts the limits of a rate where the counted ends become that rare", () => {
    for (const failures of [1, 2, 5, 30]) {
      const { low, high } = failureRate({ failures, months: 40 }, 0.8);
      expect(1 - poissonAtMost(failures - 1, low * 40)).toBeCloseTo(0.1, 10);
      expect(poissonAtMost(failures, high * 40)).toBeCloseTo(0.1, 10);
    }
  });
  it("has the limits of the failed share from slopes taken by small steps", () => {
    const { covariance = { scale: NaN, shape: NaN, both: NaN } } = uncertain;
    for (const months of [1, 3, 6, 8.6, 12]) {
      const at = (u: number, v: number): number => {
        const scale = uncertain.scale * Math.exp(u);
        return Math.log((months / scale) ** (uncertain.shape * Math.exp(v)));
      };
      const h = 1e-5;
      const du = (at(h, 0) - at(-h, 0)) / (2 * h);
      const dv = (at(0, h) - at(0, -h)) / (2 * h);
      const error = Math.sqrt(
        du ** 2 * covariance.scale + 2 * du * dv * covariance.both + dv ** 2 * covariance.shape,
      );
      const { share, low, high } = failedBefore(months, uncertain, 0.95);
      const failed = (logWear: number): number => 1 - Math.exp(-Math.exp(logWear));
      expect(share).toBeCloseTo(gammaAtMost((months / 8.6) ** 2.4, 1), 12);
      expect(low).toBeCloseTo(failed(at(0, 0) - 1.959963984540054 * error), 7);
      expect(high).toBeCloseTo(failed(at(0, 0) + 1.959963984540054 * error), 7);
    }
  });
  it("stands for a normal pair: the means, variances and covariance of nine points", () => {
    const lives = possibleLives(uncertain);
    expect(lives).toHaveLength(9);
    const mean = (of: (u: number, v: number) => number): number =>
      lives.reduce((sum, { share, life }) => {
        const [u, v] = [Math.log(life.scale / 8.6), Math.log(life.shape / 2.4)];
        return sum + share * of(u, v);
      }, 0);
    expect(mean(() => 1)).toBeCloseTo(1, 14);
    expect(mean((u) => u)).toBeCloseTo(0, 14);
    expect(mean((_, v) => v)).toBeCloseTo(0, 14);
    expect(mean((u) => u * u)).toBeCloseTo(0.023, 14);
    expect(mean((_, v) => v * v)).toBeCloseTo(0.047, 14);
    expect(mean((u, v) => u * v)).toBeCloseTo(-0.022, 14);
    // A normal value has a fourth moment of three squared variances.
    expect(mean((u) => u ** 4)).toBeCloseTo(3 * 0.023 ** 2, 14);
  });
});

describe("properties", () => {
  it("keeps shares between 0 and 1, low below high, and level with a known life", () => {
    const check = fc.property(
      fc.double({ min: 0.01, max: 100, noNaN: true }),
      fc.double({ min: 0.1, max: 10, noNaN: true }),
      (months, shape) => {
        const life = { ...uncertain, shape };
        const { share, low, high } = failedBefore(months, life, 0.9);
        expect(low).toBeGreaterThanOrEqual(0);
        expect(share).toBeGreaterThanOrEqual(low);
        expect(high).toBeGreaterThanOrEqual(share);
        expect(high).toBeLessThanOrEqual(1);
        const known = failedBefore(months, { shape, scale: 8.6 }, 0.9);
        expect(known).toEqual({ share, low: share, high: share });
      },
    );
    fc.assert(check);
  });
  it("has a life taken as known stand alone", () => {
    const life = { shape: 2, scale: 5 };
    expect(possibleLives(life)).toEqual([{ share: 1, life }]);
  });
});

describe("bad input", () => {
  const faults: readonly [() => unknown, string][] = [
    [
      () => failureRate({ failures: -1, months: 5 }, 0.9),
      "failures must be a whole number of at least 0, got -1",
    ],
    [
      () => failureRate({ failures: 1.5, months: 5 }, 0.9),
      "failures must be a whole number of at least 0, got 1.5",
    ],
    [() => failureRate({ failures: 1, months: 0 }, 0.9), "months must be above 0, got 0"],
    [() => failureRate({ failures: 1, months: 5 }, 0), "level must be above 0 and below 1, got 0"],
    [() => failedBefore(0, uncertain, 0.9), "months must be above 0, got 0"],
    [() => failedBefore(1, { shape: 0, scale: 1 }, 0.9), "shape must be above 0, got 0"],
    [
      () => failedBefore(1, { shape: 1, scale: Infinity }, 0.9),
      "scale must be above 0, got Infinity",
    ],
    [() => failedBefore(1, uncertain, 1), "level must be above 0 and below 1, got 1"],
    [() => possibleLives({ shape: NaN, scale: 1 }), "shape must be above 0, got NaN"],
  ];
  for (const [call, message] of faults) {
    it(`says: ${message}`, () => {
      expect(call).toThrow(InputError);
      expect(call).toThrow(message);
    });
  }
});
