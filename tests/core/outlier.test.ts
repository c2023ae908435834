import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { chance, type Chance } from "../../src/book/demo/chance.ts";
import { InputError } from "../../src/core/errors.ts";
import { countLimits, outOfLine } from "../../src/core/outlier.ts";
import { cases } from "../cases.ts";

describe("published", () => {
  // Iglewicz and Hoaglin 1993: M = 0.6745 (x - median) / MAD, out of line beyond 3.5; by hand on Anscombe's scale.
  it("modified z-score on Anscombe's scale, by hand where the deviation is above the floor", () => {
    const counts = [4, 100, 225, 400, 900];
    const scaled = counts.map((count) => 2 * Math.sqrt(count + 0.375));
    const middle = 2 * Math.sqrt(225.375);
    const mad = 2 * Math.sqrt(400.375) - 2 * Math.sqrt(225.375);
    const score = (at: number): number => (0.6745 * ((scaled[at] ?? 0) - middle)) / mad;
    expect(score(4)).toBeCloseTo(2.024, 3);
    const limits = countLimits(counts);
    const edge = (middle + (3.5 * mad) / 0.6745) / 2;
    expect(limits).toEqual({ low: 0, high: Math.floor(edge ** 2 - 0.375), middle: 225 });
  });
  it("Anscombe 1948: on the scale a Poisson count has a spread of about 1, so 3.5 of it are rare", () => {
    // Alike by chance: without a floor the deviation of 0 would put every other count out of line.
    expect(outOfLine([30, 30, 30, 30, 31, 36, 25])).toEqual([
      null,
      null,
      null,
      null,
      null,
      null,
      null,
    ]);
  });
});

describe("a count", () => {
  it.each([
    [
      [98, 74, 116, 92, 90, 95, 3],
      [, , , , , , "low"],
    ],
    [
      [70, 116, 9, 88, 95],
      [, , "low"],
    ],
    [
      [90, 95, 3],
      [, , "low"],
    ],
    [
      [9, 8, 90, 11],
      [, , "high"],
    ],
    [
      [90, 88, 900, 95, 91],
      [, , "high"],
    ],
    [
      [3, 3, 3, 3, 30, 3],
      [, , , , "high"],
    ],
    [[60, 80, 100, 120, 140], []],
    [[4, 0, 2, 7, 1], []],
    [[5, 50], []],
    [[], []],
  ] as const)("of %j", (counts, sides) => {
    expect(outOfLine(counts)).toEqual(counts.map((_, at) => sides[at] ?? null));
  });

  it("is judged by a year on either side: use that grows tenfold over four years is in line", () => {
    const growing = Array.from({ length: 49 }, (_, at) => Math.round(10 * 10 ** (at / 48)));
    expect(outOfLine(growing).every((side) => side === null)).toBe(true);
  });

  it("is out of line where the limits of its own two years say so, however close to them", () => {
    const noise = fc.array(fc.integer({ min: -2, max: 2 }), { minLength: 1, maxLength: 40 });
    fc.assert(
      fc.property(fc.nat(5), noise, fc.integer({ min: -5, max: 15 }), (usual, off, far) => {
        const given = off.map((one, at) => Math.max(0, usual + (at === 0 ? far : one)));
        const sides = given.map((count, at) => {
          const limits = countLimits(given.slice(Math.max(0, at - 12), at + 13));
          if (limits === null || (count >= limits.low && count <= limits.high)) return null;
          return count < limits.low ? "low" : "high";
        });
        expect(outOfLine(given)).toEqual(sides);
      }),
      { numRuns: 1000 },
    );
  });

  it("below zero or no number is refused", () => {
    expect(() => countLimits([1, -1, 2])).toThrow(InputError);
    expect(() => outOfLine([1, NaN, 2])).toThrow(InputError);
  });

  it("in line stays in line nearer the middle, and the limits hold the middle", () => {
    const counts = fc.array(fc.integer({ min: 0, max: 3000 }), { minLength: 3, maxLength: 40 });
    fc.assert(
      fc.property(counts, (given) => {
        const limits = countLimits(given);
        if (limits === null) throw new Error("no limits");
        expect(limits.low).toBeLessThanOrEqual(limits.middle);
        expect(limits.high).toBeGreaterThanOrEqual(Math.floor(limits.middle));
      }),
    );
  });
});

/** A month's count of chance alone, or with a spread of the rate besides: negative binomial. */
function countOf(random: Chance, mean: number, share: number): number {
  if (share === 0) return random.poisson(mean);
  // A gamma of shape 1 / share², as a sum of exponentials.
  const shape = Math.round(1 / share ** 2);
  let sum = 0;
  for (let step = 0; step < shape; step += 1) sum -= Math.log(1 - random.share());
  return random.poisson((mean * sum) / shape);
}

/** Mean, share of spread beyond chance, and swing over the year. */
const USES = [
  ...[5, 30, 90].map((mean) => ({ mean, share: 0, swing: 0 })),
  ...[5, 30, 90].map((mean) => ({ mean, share: 0.3, swing: 0 })),
  ...[30, 90, 300].map((mean) => ({ mean, share: 0.2, swing: 0.3 })),
];

function monthsOf(random: Chance, { mean, share, swing }: (typeof USES)[number], months: number) {
  return Array.from({ length: months }, (_, at) =>
    countOf(random, mean * (1 + swing * Math.sin((at * Math.PI) / 6)), share),
  );
}

describe("measured by simulation", () => {
  const runs = cases("Outliers among simulated counts", 4000, 600);

  it.each(USES)("at most 1 sound count in 200 is taken for doubtful: %j", (use) => {
    for (const months of [3, 6, 12, 24]) {
      const random = chance(7 * months);
      let [doubted, all] = [0, 0];
      for (let run = 0; run * months < runs * 12; run += 1) {
        for (const side of outOfLine(monthsOf(random, use, months))) {
          all += 1;
          if (side !== null) doubted += 1;
        }
      }
      // Three standard errors of a share of 1 in 200 above it.
      expect(doubted / all).toBeLessThan(1 / 200 + 3 * Math.sqrt(1 / 200 / all));
    }
  });

  it.each([
    { mean: 15, share: 0, added: 0.97, lost: 0.7 },
    { mean: 30, share: 0.2, added: 0.97, lost: 0.7 },
    { mean: 90, share: 0.2, added: 0.97, lost: 0.9 },
  ])("most digits added or lost in a year of counts are found: %j", ({ mean, share, ...least }) => {
    const random = chance(11);
    const found = { added: 0, lost: 0 };
    for (let run = 0; run < runs / 2; run += 1) {
      const counts = monthsOf(random, { mean, share, swing: 0 }, 12);
      const at = random.below(12);
      const count = Math.max(1, counts[at] ?? 0);
      const side = (typed: number) =>
        outOfLine([...counts.slice(0, at), typed, ...counts.slice(at + 1)])[at];
      if (side(count * 10) === "high") found.added += 1;
      if (side(Math.floor(count / 10)) === "low") found.lost += 1;
    }
    expect(found.added / (runs / 2)).toBeGreaterThan(least.added);
    expect(found.lost / (runs / 2)).toBeGreaterThan(least.lost);
  });
});
