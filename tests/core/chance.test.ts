import { readFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import * as chance from "../../src/core/chance.ts";
import { InputError } from "../../src/core/errors.ts";

interface Reference {
  readonly made: string;
  readonly normal: readonly { readonly chance: number; readonly value: number }[];
  readonly beta: readonly {
    readonly chance: number;
    readonly a: number;
    readonly b: number;
    readonly value: number;
  }[];
  readonly gamma: readonly {
    readonly chance: number;
    readonly shape: number;
    readonly value: number;
  }[];
}

const reference = JSON.parse(
  readFileSync(new URL("../reference/chance.json", import.meta.url), "utf8"),
) as Reference;

describe(`second implementation: ${reference.made}`, () => {
  const worst = <Row>(rows: readonly Row[], found: (row: Row) => number, true_: keyof Row) =>
    Math.max(
      ...rows.map((row) => {
        const value = row[true_] as number;
        // Below this a double number has not all its digits.
        return value < 1e-290 && value > -1e-290 ? 0 : Math.abs(found(row) / value - 1);
      }),
    );
  const { normal, beta, gamma } = reference;

  it("agrees on normal, beta and gamma quantiles within 1 in 10¹⁴", () => {
    const z = (row: (typeof normal)[number]): number => chance.normalQuantile(row.chance);
    expect(worst(normal, z, "value")).toBeLessThan(1e-14);
    const share = (row: (typeof beta)[number]): number =>
      chance.betaQuantile(row.chance, row.a, row.b);
    expect(worst(beta, share, "value")).toBeLessThan(1e-14);
    const value = (row: (typeof gamma)[number]): number =>
      chance.gammaQuantile(row.chance, row.shape);
    expect(worst(gamma, value, "value")).toBeLessThan(1e-14);
  });
});

const share = fc.double({ min: 0.001, max: 0.999999, noNaN: true });

describe("properties", () => {
  it("inverts the normal and gamma shares", () => {
    const check = fc.property(share, fc.double({ min: 0.5, max: 200, noNaN: true }), (p, shape) => {
      expect(chance.normalAtMost(chance.normalQuantile(p))).toBeCloseTo(p, 13);
      expect(chance.gammaAtMost(chance.gammaQuantile(p, shape), shape)).toBeCloseTo(p, 11);
    });
    fc.assert(check);
    expect(chance.normalQuantile(0.5)).toBe(0);
    expect(chance.normalQuantile(1e-300)).toBeCloseTo(-37.0471, 4);
  });
  it("ends at shapes as small and as large as a number can be", () => {
    for (const shape of [1e-300, 1e-3, Number.MAX_VALUE]) {
      const value = chance.gammaQuantile(1 - Number.EPSILON / 2, shape);
      expect(value > 0 && value <= Number.MAX_VALUE).toBe(true);
      const part = chance.betaQuantile(1e-300, shape, 2);
      expect(part > 0 && part <= 1).toBe(true);
    }
  });
  it("shares one between both tails of gamma and beta", () => {
    const shape = fc.double({ min: 0.5, max: 200, noNaN: true });
    const check = fc.property(share, shape, shape, (x, a, b) => {
      const value = a * (0.5 + x);
      expect(chance.gammaAtMost(value, a) + chance.gammaAbove(value, a)).toBeCloseTo(1, 12);
      expect(chance.betaAtMost(x, a, b) + chance.betaAbove(x, a, b)).toBeCloseTo(1, 12);
      expect(chance.betaAbove(x, a, b)).toBeCloseTo(chance.betaAtMost(1 - x, b, a), 12);
    });
    fc.assert(check);
  });
  it("knows logarithms of factorials", () => {
    let sum = 0;
    for (let n = 1; n <= 170; n += 1) {
      sum += Math.log(n);
      expect(chance.logGamma(n + 1)).toBeCloseTo(sum, 10);
    }
  });
});

describe("bad input", () => {
  const faults: readonly [() => unknown, string][] = [
    [() => chance.normalQuantile(0), "chance must be above 0 and below 1, got 0"],
    [() => chance.betaQuantile(1, 2, 2), "chance must be above 0 and below 1, got 1"],
    [() => chance.gammaQuantile(NaN, 2), "chance must be above 0 and below 1, got NaN"],
    [() => chance.gammaQuantile(0.5, NaN), "shape must be above 0, got NaN"],
    [() => chance.gammaQuantile(0.5, 0), "shape must be above 0, got 0"],
    [() => chance.gammaQuantile(0.5, Infinity), "shape must be above 0, got Infinity"],
    [() => chance.betaQuantile(0.5, -1, 2), "a must be above 0, got -1"],
    [() => chance.betaQuantile(0.5, NaN, 2), "a must be above 0, got NaN"],
    [() => chance.betaQuantile(0.5, 2, Infinity), "b must be above 0, got Infinity"],
  ];
  for (const [call, message] of faults) {
    it(`says: ${message}`, () => {
      expect(call).toThrow(InputError);
      expect(call).toThrow(message);
    });
  }
});
