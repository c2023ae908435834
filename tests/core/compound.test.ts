import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { compoundChances } from "../../src/core/compound.ts";
import { countChance } from "../../src/core/count-distribution.ts";
import { InputError } from "../../src/core/errors.ts";

describe("published", () => {
  it("Quenouille 1949 by the recursion of Panjer 1981: logarithmic sizes make a negative binomial of size 3, p 0.4 (from memory)", () => {
    const sizes = Array.from({ length: 200 }, (_, n) => 0.6 ** (n + 1) / (n + 1) / -Math.log(0.4));
    const found = compoundChances(-3 * Math.log(0.4), sizes, 6);
    const values = [0.064, 0.1152, 0.13824, 0.13824, 0.124416, 0.10450944, 0.083607552];
    values.forEach((value, total) => {
      expect(found[total]).toBeCloseTo(value, 12);
      expect(countChance(total, { mean: 4.5, variance: 11.25 })).toBeCloseTo(value, 12);
    });
    expect(found.length).toBe(7);
  });
});

describe("properties", () => {
  it("shares one among the chances of compound counts, with the mean they should have", () => {
    const rates = fc.double({ min: 0, max: 60, noNaN: true });
    const check = fc.property(rates, (rate) => {
      const chances = compoundChances(rate, [0.5, 0.3, 0.2], 600);
      const mass = chances.reduce((sum, chance) => sum + chance, 0);
      const mean = chances.reduce((sum, chance, total) => sum + total * chance, 0);
      expect(mass).toBeCloseTo(1, 10);
      expect(mean).toBeCloseTo(1.7 * rate, 8);
    });
    fc.assert(check);
  });
});

describe("bad input", () => {
  const faults: readonly [string, () => unknown][] = [
    ["rate must be a number from 0 to 700, got 701", () => compoundChances(701, [1], 3)],
    ["sizes must be chances that add to 1, got 0.5", () => compoundChances(1, [0.5], 3)],
    ["most must be a whole number, zero or more, got -1", () => compoundChances(1, [1], -1)],
  ];
  for (const [message, call] of faults) {
    it(`says: ${message}`, () => {
      expect(call).toThrow(InputError);
      expect(call).toThrow(message);
    });
  }
});
