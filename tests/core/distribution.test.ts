import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { InputError } from "../../src/core/errors.ts";
import {
  convolution,
  certain,
  type Distribution,
  centralLimits,
  quantileOf,
  mapped,
  meanOf,
  mixtureOf,
  repeated,
  sumOf,
  trimmed,
} from "../../src/core/distribution.ts";

function counts(least: number, ...chances: number[]): Distribution {
  return { least, chances: Float64Array.from(chances) };
}

/** The chance of a number, wherever the row begins. */
function chanceOf({ least, chances }: Distribution, count: number): number {
  return chances[count - least] ?? 0;
}

function mass({ chances }: Distribution): number {
  return chances.reduce((sum, chance) => sum + chance, 0);
}

const some = fc
  .tuple(
    fc.integer({ min: 0, max: 3 }),
    fc.array(fc.integer({ min: 0, max: 9 }), { minLength: 1, maxLength: 4 }),
  )
  .filter(([, weights]) => weights.some((weight) => weight > 0))
  .map(([least, weights]) => {
    const total = weights.reduce((sum, weight) => sum + weight, 0);
    return counts(least, ...weights.map((weight) => weight / total));
  });

describe("what follows from a number", () => {
  it("bears the chance of every number it follows from, and adds up as sums do", () => {
    const check = fc.property(some, fc.integer({ min: 1, max: 7 }), (one, price) => {
      const cost = mapped(one, (units) => units * price);
      one.chances.forEach((chance, at) => {
        expect(chanceOf(cost, (one.least + at) * price)).toBe(chance);
      });
      expect(mass(cost)).toBeCloseTo(1, 12);
      expect(meanOf(convolution(cost, cost))).toBeCloseTo(2 * price * meanOf(one), 10);
      const half = mapped(one, (units) => Math.ceil(units / 2));
      expect(mass(half)).toBeCloseTo(1, 12);
    });
    fc.assert(check);
  });
  it("leaves out sums above the most of interest, and no other", () => {
    const check = fc.property(some, some, fc.integer({ min: 0, max: 9 }), (one, other, more) => {
      const whole = convolution(one, other);
      const most = whole.least + more;
      const cut = convolution(one, other, most);
      for (let count = 0; count <= most; count += 1) {
        expect(chanceOf(cut, count)).toBe(chanceOf(whole, count));
      }
      expect(cut.least + cut.chances.length - 1).toBeLessThanOrEqual(most);
    });
    fc.assert(check);
  });
});

describe("published", () => {
  it("Binomial chances of three fair throws: 1, 3, 3, 1 eighths (common knowledge, no source)", () => {
    expect([...repeated(counts(0, 0.5, 0.5), 3).chances]).toEqual([0.125, 0.375, 0.375, 0.125]);
  });
});

describe("second implementation", () => {
  it("adds up what every combination gives", () => {
    const check = fc.property(fc.array(some, { maxLength: 5 }), (parts) => {
      const wanted = new Map<number, number>();
      const walk = (at: number, total: number, chance: number): void => {
        const part = parts[at];
        if (!part) {
          wanted.set(total, (wanted.get(total) ?? 0) + chance);
          return;
        }
        part.chances.forEach((one, more) => {
          walk(at + 1, total + part.least + more, chance * one);
        });
      };
      walk(0, 0, 1);
      const found = sumOf(parts);
      for (let count = 0; count <= 40; count += 1) {
        expect(chanceOf(found, count)).toBeCloseTo(wanted.get(count) ?? 0, 14);
      }
    });
    fc.assert(check);
  });
  it("is binomial for many alike, up to a national fleet", () => {
    const times = 10_000;
    const found = repeated(counts(0, 0.9, 0.1), times);
    expect(mass(found)).toBeCloseTo(1, 10);
    expect(meanOf(found)).toBeCloseTo(1000, 6);
    // From each chance the next follows.
    for (let count = 900; count < 1100; count += 1) {
      const ratio = (((times - count) / (count + 1)) * 0.1) / 0.9;
      expect(chanceOf(found, count + 1) / chanceOf(found, count) / ratio).toBeCloseTo(1, 9);
    }
  });
});

describe("properties", () => {
  it("has a mass of 1, and means that add up", () => {
    const check = fc.property(fc.array(some, { maxLength: 8 }), (parts) => {
      const sum = sumOf(parts);
      expect(mass(sum)).toBeCloseTo(1, 12);
      const means = parts.reduce((total, part) => total + meanOf(part), 0);
      expect(meanOf(sum)).toBeCloseTo(means, 11);
    });
    fc.assert(check);
  });
  it("repeats what is added as often one by one", () => {
    const check = fc.property(some, fc.integer({ min: 0, max: 13 }), (part, times) => {
      const power = repeated(part, times);
      const wanted = sumOf(Array.from({ length: times }, () => part));
      for (let count = 0; count <= 13 * 6; count += 1) {
        expect(chanceOf(power, count)).toBeCloseTo(chanceOf(wanted, count), 13);
      }
    });
    fc.assert(check);
  });
  it("adds in either order, nothing changing by a certain nought", () => {
    const check = fc.property(some, some, (one, other) => {
      const [there, back] = [convolution(one, other), convolution(other, one)];
      expect([back.least, back.chances.length]).toEqual([there.least, there.chances.length]);
      there.chances.forEach((chance, at) => {
        expect(back.chances[at]).toBeCloseTo(chance, 14);
      });
      expect(convolution(one, certain(0))).toEqual(trimmed(one));
    });
    fc.assert(check);
  });
  it("mixes by shares, and leaves a single one alone", () => {
    const check = fc.property(some, some, (one, other) => {
      const both = mixtureOf([
        { share: 0.3, distribution: one },
        { share: 0.7, distribution: other },
      ]);
      for (let count = 0; count <= 8; count += 1) {
        const wanted = 0.3 * chanceOf(one, count) + 0.7 * chanceOf(other, count);
        expect(chanceOf(both, count)).toBeCloseTo(wanted, 14);
      }
      expect(mixtureOf([{ share: 1, distribution: one }])).toBe(one);
    });
    fc.assert(check);
  });
  it("has limits with no more than half the rest on either side, and no tighter ones would do", () => {
    const check = fc.property(fc.array(some, { minLength: 1, maxLength: 6 }), (parts) => {
      const sum = sumOf(parts);
      const below = (count: number): number => {
        let total = 0;
        for (let at = 0; at <= count; at += 1) total += chanceOf(sum, at);
        return total;
      };
      const { low, high } = centralLimits(sum, 0.9);
      expect(below(low)).toBeGreaterThanOrEqual(0.05 - 1e-11);
      expect(below(low - 1)).toBeLessThan(0.05);
      expect(below(high)).toBeGreaterThanOrEqual(0.95 - 1e-11);
      expect(below(high - 1)).toBeLessThan(0.95);
    });
    fc.assert(check);
  });
  it("takes a chance reached but for rounding as reached", () => {
    // Ten tenths sum to a little less than one in double numbers.
    expect(quantileOf(counts(0, ...Array.from({ length: 10 }, () => 0.1)), 0.3)).toBe(2);
    expect(quantileOf(counts(0, ...Array.from({ length: 10 }, () => 0.1)), 0.8)).toBe(7);
  });
  it("trims what does not show, but never everything", () => {
    expect(trimmed(counts(2, 0, 1e-30, 0.5, 0.5, 1e-19))).toEqual(counts(4, 0.5, 0.5));
    expect(trimmed(counts(2, 0, 0)).chances).toHaveLength(1);
  });
  it("has a certain number certain", () => {
    expect(centralLimits(certain(7), 0.99)).toEqual({ low: 7, high: 7 });
    expect(sumOf([])).toEqual(certain(0));
    expect(repeated(certain(3), 4)).toEqual(certain(12));
  });
});

describe("bad input", () => {
  it("names a level and a chance that are none", () => {
    expect(() => centralLimits(certain(1), 1)).toThrow(InputError);
    expect(() => centralLimits(certain(1), 1)).toThrow("level must be above 0 and below 1, got 1");
    expect(() => quantileOf(certain(1), 0)).toThrow("level must be above 0 and below 1, got 0");
  });
});
