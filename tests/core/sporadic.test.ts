import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Series } from "../../src/core/smooth.ts";
import { croston, teunterSyntetosBabai } from "../../src/core/sporadic.ts";

const product = [
  0, 2, 0, 1, 0, 11, 0, 0, 0, 0, 2, 0, 6, 3, 0, 0, 0, 0, 0, 7, 0, 0, 0, 0, 0, 0, 0, 3, 1, 0, 0, 1,
  0, 1, 0, 0,
];

describe("published", () => {
  it("Croston and Syntetos-Boylan, R packages forecast 8.20 and tsintermittent 1.10 on productC of CRAN fma (computed, not published)", () => {
    expect(croston(product, { alpha: 0.1 })).toBeCloseTo(0.9845965214, 9);
    expect(croston(product, { alpha: 0.1, corrected: true })).toBeCloseTo(0.9353666953, 9);
  });
  it("Teunter, Syntetos and Babai, R package tsintermittent 1.10 (computed, not published)", () => {
    const start = { size: 2, chance: 11 / 36 };
    const found = teunterSyntetosBabai(product, { alpha: 0.1, beta: 0.1, start });
    expect(found).toBeCloseTo(0.822996963118908, 9);
    expect(teunterSyntetosBabai(product, { alpha: 0.1, beta: 0.1 })).toBe(found);
  });
});

const demand = fc.oneof(fc.constant(0), fc.constant(0), fc.integer({ min: 1, max: 20 }));
const demands = fc.array(demand, { minLength: 1, maxLength: 60 });
const alpha = fc.double({ min: 0, max: 1, noNaN: true });

describe("second implementation: demands and intervals taken apart first", () => {
  it("agrees", () => {
    const check = fc.property(demands, alpha, (given, weight) => {
      const at = given.flatMap((one, index) => (one > 0 ? [index] : []));
      const smooth = (some: readonly number[]): number =>
        some.reduce((level, one) => weight * one + (1 - weight) * level, some[0] ?? 0);
      const sizes = smooth(at.map((index) => given[index] ?? 0));
      const intervals = smooth(at.map((index, n) => index - (n === 0 ? -1 : (at[n - 1] ?? 0))));
      const wanted = at.length === 0 ? 0 : sizes / intervals;
      expect(croston(given, { alpha: weight })).toBeCloseTo(wanted, 9);
    });
    fc.assert(check);
  });
});

describe("properties", () => {
  it("a gap changes nothing: it stretches no interval and is no month without demand", () => {
    const check = fc.property(
      demands,
      fc.nat(),
      fc.integer({ min: 1, max: 9 }),
      (given, place, gaps) => {
        const at = place % (given.length + 1);
        const blank = Array.from({ length: gaps }, () => null);
        const holed: Series = [...given.slice(0, at), ...blank, ...given.slice(at)];
        expect(croston(holed, { alpha: 0.1 })).toBe(croston(given, { alpha: 0.1 }));
        const options = { alpha: 0.1, beta: 0.2 };
        expect(teunterSyntetosBabai(holed, options)).toBe(teunterSyntetosBabai(given, options));
      },
    );
    fc.assert(check);
  });
  it("without demand there is none ahead; the same demand every month goes on", () => {
    expect(croston([0, 0, null], { alpha: 0.1 })).toBe(0);
    expect(teunterSyntetosBabai([0, 0, null], { alpha: 0.1, beta: 0.1 })).toBe(0);
    expect(croston([7, 7, 7], { alpha: 0.3 })).toBe(7);
    expect(teunterSyntetosBabai([7, 7, 7], { alpha: 0.3, beta: 0.3 })).toBe(7);
  });
  it("an item that has died out fades one way and not the other", () => {
    const died = [...product, ...Array.from({ length: 24 }, () => 0)];
    expect(croston(died, { alpha: 0.1 })).toBe(croston(product, { alpha: 0.1 }));
    const options = { alpha: 0.1, beta: 0.1, start: { size: 2, chance: 0.3 } };
    expect(teunterSyntetosBabai(died, options)).toBeCloseTo(
      0.9 ** 24 * teunterSyntetosBabai(product, options),
      9,
    );
  });
});

describe("bad input", () => {
  it("names what is wrong", () => {
    expect(() => croston([-1], { alpha: 0.1 })).toThrow("series must be zero or more, got -1");
    expect(() => teunterSyntetosBabai([NaN], { alpha: 0.1, beta: 0.1 })).toThrow(
      "series must be zero or more, got NaN",
    );
    expect(() => croston([1], { alpha: 2 })).toThrow("alpha must be a share from 0 to 1, got 2");
    expect(() => teunterSyntetosBabai([1], { alpha: 0, beta: -1 })).toThrow(
      "beta must be a share from 0 to 1, got -1",
    );
  });
});
