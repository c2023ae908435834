import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { InputError } from "../../src/core/errors.ts";
import { climb, replacementInterval, type IntervalBasis } from "../../src/core/usage.ts";
import type { Published } from "./published.ts";

const budget = (usesPerMonth: number | null): IntervalBasis => ({
  ...{ usesPerMonth, shortest: 3, longest: 6 },
  ...{ useBudget: 600, lightUse: null, heavyUse: null },
});

const ramp = (usesPerMonth: number | null): IntervalBasis => ({
  ...{ usesPerMonth, shortest: 6, longest: 9 },
  ...{ useBudget: null, lightUse: 100, heavyUse: 200 },
});

const points: readonly Published<number>[] = [0, 1, 1.5, 2.72, 3.14].map((given, index) => ({
  source: `NumPy 1.24.2, docstring of numpy.interp, x = ${given}`,
  given,
  value: [3, 3, 2.5, 0.56, 0][index] ?? NaN,
  decimals: 12,
}));

describe("published", () => {
  for (const { source, given, value, decimals = 0 } of points) {
    it(`climbs between thresholds: ${source}`, () => {
      // The example joins (1, 3), (2, 2) and (3, 0), level outside.
      const found = 3 - climb(given, 1, 2) - 2 * climb(given, 2, 3);
      expect(found).toBeCloseTo(value, decimals);
    });
  }
  it("Own arithmetic, no publication: a use budget of 600 between 3 and 6 months", () => {
    const spans = [0, 50, 100, 120, 150, 200, 400].map((uses) => replacementInterval(budget(uses)));
    expect(spans).toEqual([6, 6, 6, 5, 4, 3, 3]);
  });
  it("Own arithmetic, no publication: a ramp from 100 to 200 uses between 6 and 9 months", () => {
    const spans = [0, 100, 130, 150, 200, 300].map((uses) => replacementInterval(ramp(uses)));
    expect(spans).toEqual([9, 9, 8, 7, 6, 6]);
  });
  it("Own arithmetic, no publication: thresholds of 20 and 60 sessions", () => {
    expect(6 - 3 * climb(36, 20, 60)).toBeCloseTo(4.8, 12);
    expect(9 - 3 * climb(36, 20, 60)).toBeCloseTo(7.8, 12);
    const at = (usesPerMonth: number, shortest: number, longest: number): number =>
      replacementInterval({ ...ramp(usesPerMonth), shortest, longest, lightUse: 20, heavyUse: 60 });
    expect([at(36, 3, 6), at(5, 3, 6), at(90, 3, 6)]).toEqual([4, 6, 3]);
    expect([at(36, 6, 9), at(5, 6, 9), at(90, 6, 9)]).toEqual([7, 9, 6]);
  });
});

const months = fc.integer({ min: 2, max: 120 }).map((halves) => halves / 2);
const given = fc
  .record({
    usesPerMonth: fc.option(fc.integer({ min: 0, max: 2000 })),
    ends: fc.tuple(months, months),
    useBudget: fc.option(fc.integer({ min: 1, max: 20_000 })),
    thresholds: fc.option(
      fc.tuple(fc.integer({ min: 0, max: 500 }), fc.integer({ min: 0, max: 500 })),
    ),
  })
  .map(({ usesPerMonth, ends, useBudget, thresholds }): IntervalBasis => {
    const [lightUse, heavyUse] = thresholds ?? [null, null];
    return {
      usesPerMonth,
      useBudget,
      shortest: Math.min(...ends),
      longest: Math.max(...ends),
      lightUse: lightUse === null ? null : Math.min(lightUse, heavyUse),
      heavyUse: lightUse === null ? null : Math.max(lightUse, heavyUse),
    };
  });

describe("second implementation: counting whole months down from the long end", () => {
  it("agrees in whole numbers, where no division is needed", () => {
    const fits = (months: number, { usesPerMonth: uses, ...rest }: IntervalBasis): boolean => {
      const { shortest, longest, useBudget, lightUse, heavyUse } = rest;
      if (months <= shortest) return true;
      if (uses === null || (useBudget === null && lightUse === null)) return false;
      if (useBudget !== null && months * uses > useBudget) return false;
      if (lightUse === null || heavyUse === null || uses <= lightUse) {
        return !(lightUse !== null && lightUse === heavyUse && uses >= heavyUse);
      }
      if (uses >= heavyUse) return false;
      // On the line the lost months and the way climbed are in proportion.
      return (longest - months) * (heavyUse - lightUse) >= (longest - shortest) * (uses - lightUse);
    };
    const check = fc.property(given, (row) => {
      let months = Math.floor(row.longest);
      while (months > Math.floor(row.shortest) && !fits(months, row)) months -= 1;
      expect(replacementInterval(row)).toBe(months);
    });
    fc.assert(check, { numRuns: 5_000 });
  });
});

describe("properties", () => {
  it("is whole, never above longest, never below shortest rounded down", () => {
    const check = fc.property(given, (row) => {
      const months = replacementInterval(row);
      expect(Number.isInteger(months)).toBe(true);
      expect(months).toBeLessThanOrEqual(row.longest + 1e-9);
      expect(months).toBeGreaterThanOrEqual(Math.floor(row.shortest));
    });
    fc.assert(check);
  });
  it("never grows with usage, and unknown usage is never longer than known", () => {
    const check = fc.property(given, fc.double({ min: 0, max: 500, noNaN: true }), (row, more) => {
      const uses = row.usesPerMonth ?? 0;
      const known = replacementInterval({ ...row, usesPerMonth: uses });
      expect(replacementInterval({ ...row, usesPerMonth: uses + more })).toBeLessThanOrEqual(known);
      expect(replacementInterval({ ...row, usesPerMonth: null })).toBeLessThanOrEqual(known);
    });
    fc.assert(check);
  });
  it("takes the shorter of two curves", () => {
    const check = fc.property(given, (row) => {
      fc.pre(row.useBudget !== null && row.lightUse !== null);
      const one = replacementInterval({ ...row, useBudget: null });
      const other = replacementInterval({ ...row, lightUse: null, heavyUse: null });
      expect(replacementInterval(row)).toBe(Math.min(one, other));
    });
    fc.assert(check);
  });
  it("keeps whole months that a division just misses", () => {
    expect(
      replacementInterval({ ...budget(0.1 + 0.2), shortest: 1, longest: 12, useBudget: 1.5 }),
    ).toBe(5);
  });
  it("gives shortest, rounded down, without a curve or without usage", () => {
    expect(replacementInterval({ ...budget(10), shortest: 3.5, useBudget: null })).toBe(3);
    expect(replacementInterval({ ...budget(null), shortest: 3.5 })).toBe(3);
    expect(replacementInterval({ ...budget(0), useBudget: null })).toBe(3);
  });
  it("steps down where both thresholds are equal", () => {
    const step = (uses: number): number =>
      replacementInterval({ ...ramp(uses), lightUse: 150, heavyUse: 150 });
    expect([step(149.9), step(150), step(151)]).toEqual([9, 6, 6]);
  });
});

describe("bad input", () => {
  const faults: readonly [Partial<IntervalBasis>, string][] = [
    [{ usesPerMonth: -1 }, "usesPerMonth must be zero or more, got -1"],
    [{ usesPerMonth: NaN }, "usesPerMonth must be zero or more, got NaN"],
    [{ usesPerMonth: Infinity }, "usesPerMonth must be zero or more, got Infinity"],
    [{ shortest: 0.5 }, "shortest must be at least 1 month, got 0.5"],
    [{ shortest: NaN }, "shortest must be at least 1 month, got NaN"],
    [{ longest: 2 }, "longest must be a number of months not below shortest, got 2"],
    [{ longest: Infinity }, "longest must be a number of months not below shortest, got Infinity"],
    [{ useBudget: 0 }, "useBudget must be above 0, got 0"],
    [{ useBudget: -5 }, "useBudget must be above 0, got -5"],
    [{ useBudget: NaN }, "useBudget must be above 0, got NaN"],
    [{ lightUse: -1, heavyUse: 5 }, "lightUse must be zero or more, got -1"],
    [{ heavyUse: 200 }, "lightUse must be given together with heavyUse, got a blank cell"],
    [{ lightUse: 200 }, "heavyUse must be a number not below lightUse, got a blank cell"],
    [{ lightUse: 200, heavyUse: 100 }, "heavyUse must be a number not below lightUse, got 100"],
  ];
  for (const [change, message] of faults) {
    it(`says: ${message}`, () => {
      expect(() => replacementInterval({ ...budget(100), ...change })).toThrow(InputError);
      expect(() => replacementInterval({ ...budget(100), ...change })).toThrow(message);
    });
  }
});
