import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { day, type Day } from "../../src/core/day.ts";
import {
  centralLimits,
  type Distribution,
  mapped,
  meanOf,
  quantileOf,
} from "../../src/core/distribution.ts";
import { momentsOfNumber } from "../../src/core/moments.ts";
import { needDistributions, type Wear } from "../../src/core/need.ts";
import { ERROR_POINTS, type OpenUnit } from "../../src/core/open-fleet.ts";
import { openDistributions, openFollowing } from "../../src/core/open-need.ts";

const from = day("2026-07-06");
const year = { from, horizon: 12 };
const all = { spans: [[0, 12]] } as const;
const life = { shape: 2.5, scale: 9 };
const fit = { ...life, covariance: { scale: 0.02, shape: 0.05, both: -0.02 } };

function part(age: number, more: Partial<OpenUnit> = {}): OpenUnit {
  return { lastDone: (from - age) as Day, months: 6, group: "A", last: 12, ways: null, ...more };
}

/** A part of six months that has three or twelve where use is much higher or lower: at both errors' ends. */
function open(age: number, group: string): OpenUnit {
  const pairs = [3, 6, 12].map((months) => ({ months, then: months }));
  const rows = ERROR_POINTS.flatMap((_, common) =>
    ERROR_POINTS.map((_other, own) => {
      const row = new Float64Array(3);
      row[Math.min(2, Math.max(0, 3 - common - own))] = 1;
      return row;
    }),
  );
  return part(age, { group, ways: { pairs, shares: rows } });
}

const first = ([one]: readonly Distribution[]): Distribution => {
  if (one === undefined) throw new Error("one span gives one set of chances");
  return one;
};

describe("second implementation", () => {
  it("is the exact sum where nothing is open, whatever the groups", () => {
    const wears: readonly Wear[] = [null, { failures: 1, months: 60 }, life, fit];
    const check = fc.property(
      fc.array(fc.integer({ min: 0, max: 300 }), { minLength: 1, maxLength: 9 }),
      fc.constantFrom(...wears),
      (ages, wear) => {
        const units = ages.map((age, at) => part(age, { group: `${at % 3}` }));
        const found = first(openDistributions(units, year, wear, all));
        const wanted = first(needDistributions(units, year, wear));
        wanted.chances.forEach((chance, at) => {
          expect(found.chances[wanted.least + at - found.least] ?? 0).toBeCloseTo(chance, 10);
        });
      },
    );
    fc.assert(check, { numRuns: 40 });
  });

  it("mixes what every pair of errors gives: common to all, own to a group", () => {
    // New parts, so that 12, 6 and 3 months are 1, 2 and 4 replacements in twelve months and a day's rest.
    const units = [open(1, "A"), open(1, "A"), open(1, "B")];
    const wanted = new Map<number, number>();
    const number = (common: number, own: number): number =>
      [4, 2, 1][Math.min(2, Math.max(0, 3 - common - own))] ?? 0;
    ERROR_POINTS.forEach((one, common) => {
      ERROR_POINTS.forEach((a, ownA) => {
        ERROR_POINTS.forEach((b, ownB) => {
          const sum = 2 * number(common, ownA) + number(common, ownB);
          wanted.set(sum, (wanted.get(sum) ?? 0) + one.share * a.share * b.share);
        });
      });
    });
    const found = first(openDistributions(units, year, null, all));
    for (let count = 0; count <= 12; count += 1) {
      expect(found.chances[count - found.least] ?? 0).toBeCloseTo(wanted.get(count) ?? 0, 12);
    }
    // Three points of Gauss and Hermite have the mean and the variance of the normal error: Abramowitz and
    // Stegun, table 25.10, from memory.
    const spread = ERROR_POINTS.reduce((sum, { at, share }) => sum + share * at ** 2, 0);
    expect(spread).toBeCloseTo(1, 12);
  });

  it("takes many parts by mean and variance, within two percent in a limit", () => {
    const units = Array.from({ length: 300 }, (_, at) => open(at % 180, `${at % 50}`));
    for (const wear of [null, life]) {
      const many = first(openDistributions(units, year, wear, all));
      const parts = Array.from({ length: 50 }, (_, group) =>
        units.filter((unit) => unit.group === `${group}`).slice(0, 2),
      );
      // 100 of them are still added up one by one; 101 are not.
      const exact = first(openDistributions(parts.flat(), year, wear, all));
      const extra = part(0, { last: -1, group: "0" });
      const normal = first(openDistributions([...parts.flat(), extra], year, wear, all));
      const [one, other] = [momentsOfNumber(exact), momentsOfNumber(normal)];
      expect(other.mean / one.mean).toBeCloseTo(1, 4);
      expect(other.variance / one.variance).toBeCloseTo(1, 2);
      for (const level of [0.8, 0.9, 0.95]) {
        const [a, b] = [centralLimits(exact, level), centralLimits(normal, level)];
        expect(Math.abs(a.low / b.low - 1)).toBeLessThan(0.02);
        expect(Math.abs(a.high / b.high - 1)).toBeLessThan(0.02);
      }
      expect(meanOf(many)).toBeGreaterThan(meanOf(exact));
    }
  });
});

describe("what follows from numbers", () => {
  const packs = (count: Distribution): Distribution => mapped(count, (one) => Math.ceil(one / 4));

  it("is the mean of whole packs at each place, not the packs of the mean", () => {
    // By hand: one part, 4, 2 or 1 replacements with chances 1/6 + 2/3 · 1/6 …; a pack of four is always one.
    const found = openFollowing([open(1, "A")], year, null, {
      ...all,
      follows: packs,
      from: "groups",
    });
    expect(found.means.get("A")?.[0]).toBeCloseTo(1, 12);
    const two = openFollowing([open(1, "A"), open(1, "A")], year, null, {
      ...all,
      follows: packs,
      from: "groups",
    });
    // 8 or 4 or 2 units: two packs where either error is at its upper end or both lie above.
    const high = ERROR_POINTS.reduce(
      (sum, one, common) =>
        sum +
        ERROR_POINTS.reduce(
          (inner, other, own) => inner + (common + own >= 3 ? one.share * other.share : 0),
          0,
        ),
      0,
    );
    expect(two.means.get("A")?.[0]).toBeCloseTo(1 + high, 12);
  });

  it("has the chances of the sum at each common point, and with a rate that is not known", () => {
    const units = ["A", "A", "B", "C"].map((group, at) => open(20 * at, group));
    for (const wear of [null, { failures: 2, months: 100 }, fit] as const) {
      const { points, means } = openFollowing(units, year, wear, {
        ...all,
        follows: packs,
        from: "groups",
      });
      const mean = points.reduce((sum, { share, sums }) => sum + share * meanOf(first(sums)), 0);
      const each = [...means.values()].reduce((sum, [one = 0]) => sum + one, 0);
      expect(mean).toBeCloseTo(each, 9);
      const [low, , high] = points.map(({ sums }) => quantileOf(first(sums), 0.5));
      expect(low).toBeLessThan(high ?? 0);
    }
  });

  it("never needs more packs in one store than at the sites together", () => {
    const units = ["A", "B", "C"].map((group, at) => open(20 * at, group));
    const expected = (of: "groups" | "all"): number => {
      const { means } = openFollowing(units, year, life, { ...all, follows: packs, from: of });
      return [...means.values()].reduce((sum, [one = 0]) => sum + one, 0);
    };
    expect(expected("all")).toBeLessThan(expected("groups"));
  });
});
