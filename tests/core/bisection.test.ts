import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { bisected, countUpTo, firstWhole } from "../../src/core/bisection.ts";

describe("published", () => {
  it("Burden and Faires, Numerical Analysis, section 2.1, x³ + 4x² − 10 between 1 and 2: 1.365230013 (from memory)", () => {
    const [below, above] = bisected(1, 2, (x) => x ** 3 + 4 * x ** 2 - 10 >= 0);
    expect(below).toBeCloseTo(1.365230013, 9);
    expect(above - below).toBeLessThanOrEqual(Number.EPSILON);
  });
});

describe("properties", () => {
  const number = fc.double({ noNaN: true, noDefaultInfinity: true, min: -1e300, max: 1e300 });
  it("ends at the threshold itself, with no number between it and the one below", () => {
    const check = fc.property(number, number, number, (one, other, third) => {
      const [low = 0, at = 0, high = 0] = [one, other, third].sort((a, b) => a - b);
      fc.pre(low < at);
      const [below, above] = bisected(low, Math.max(high, at), (value) => value >= at);
      expect(above - at).toBe(0);
      expect(below).toBeLessThan(at);
      const middle = below + (above - below) / 2;
      expect(middle <= below || middle >= above).toBe(true);
    });
    fc.assert(check);
  });
  it("finds the first whole number as walking does, and the end where the test never holds", () => {
    const whole = fc.integer({ min: -50, max: 50 });
    const check = fc.property(whole, fc.nat(60), whole, (low, wide, from) => {
      let walked = low;
      while (walked < low + wide && walked < from) walked += 1;
      expect(firstWhole(low, low + wide, (value) => value >= from)).toBe(walked);
    });
    fc.assert(check);
    expect(firstWhole(0, Number.MAX_SAFE_INTEGER, () => false)).toBe(Number.MAX_SAFE_INTEGER);
  });
  it("counts as walking through the list does, numbers that are there several times and none included", () => {
    const numbers = fc.array(fc.integer({ min: -9, max: 9 }), { maxLength: 40 });
    const check = fc.property(numbers, fc.integer({ min: -11, max: 11 }), (some, most) => {
      const ascending = some.sort((one, other) => one - other);
      expect(countUpTo(ascending, most)).toBe(ascending.filter((one) => one <= most).length);
    });
    fc.assert(check);
  });
});
