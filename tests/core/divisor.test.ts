import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { commonDivisor } from "../../src/core/divisor.ts";

describe("published", () => {
  it("Knuth, The Art of Computer Programming, volume 2, section 4.5.2: of 40902 and 24140, 34 (from memory)", () => {
    expect(commonDivisor(40902, 24140)).toBe(34);
  });
});

describe("properties", () => {
  it("divides both, and no larger number does", () => {
    const number = fc.integer({ min: 1, max: 400 });
    const check = fc.property(number, number, (one, other) => {
      const found = commonDivisor(one, other);
      const common = Array.from({ length: 400 }, (_, at) => at + 1).filter(
        (by) => one % by === 0 && other % by === 0,
      );
      expect(found).toBe(Math.max(...common));
    });
    fc.assert(check);
  });
  it("is the other number beside nothing, and no number beside none", () => {
    expect([commonDivisor(0, 7), commonDivisor(7, 0), commonDivisor(0, 0)]).toEqual([7, 7, 0]);
    expect(commonDivisor(NaN, 7)).toBeNaN();
    expect(commonDivisor(7, NaN)).toBeNaN();
  });
});
