import { readFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { civilDate, day, type Day, isoText } from "../../src/core/day.ts";
import { meanOf } from "../../src/core/distribution.ts";
import { gridDistributions, gridNeed } from "../../src/core/grid.ts";
import { type Life, possibleLives } from "../../src/core/life.ts";
import { aheadMonths, type LookAhead, type Unit } from "../../src/core/schedule.ts";

const reference = JSON.parse(
  readFileSync(new URL("../reference/need.json", import.meta.url), "utf8"),
) as {
  readonly versions: string;
  readonly shape: number;
  readonly scale: number;
  /** Months between replacements, age now in steps, how many. */
  readonly parts: readonly (readonly [number, number, number])[];
  readonly planned: readonly number[];
  readonly early: readonly number[];
  readonly fleet: readonly number[];
};

const life: Life = { shape: reference.shape, scale: reference.scale };
const uncertain: Life = { ...life, covariance: { scale: 0.02, shape: 0.05, both: -0.02 } };
const from = day("2026-03-16");
const year: LookAhead = { from, horizon: 12 };

function aged(months: number, steps: number): Unit {
  return { lastDone: (from - Math.ceil(steps * 3.5)) as Day, months };
}

const total = (values: readonly number[]): number => values.reduce((sum, one) => sum + one, 0);

describe("second implementation", () => {
  reference.parts.forEach(([months, age], at) => {
    it(`expects what a chain of ages does: every ${months} months, aged ${age} steps (${reference.versions})`, () => {
      const need = gridNeed([aged(months, age)], year, life);
      expect(total(need.map(({ scheduled }) => scheduled))).toBeCloseTo(
        reference.planned[at] ?? NaN,
        11,
      );
      expect(total(need.map(({ unplanned }) => unplanned))).toBeCloseTo(
        reference.early[at] ?? NaN,
        11,
      );
    });
  });
  it(`gives a fleet the chances that a transform of the chains gives (${reference.versions})`, () => {
    const units = reference.parts.flatMap(([months, age, times]) =>
      Array.from({ length: times }, () => aged(months, age)),
    );
    const [found] = gridDistributions(units, year, life, [[0, 12]]);
    if (!found) throw new Error("one span gives one set of chances");
    reference.fleet.forEach((chance, count) => {
      expect(found.chances[count - found.least] ?? 0).toBeCloseTo(chance, 13);
    });
  });
  it("books every inspection to its calendar month", () => {
    // Parts that last one step and no more are replaced at every inspection.
    const mayfly = { shape: 1000, scale: 0.01 };
    const check = fc.property(
      fc.integer({ min: day("2024-01-01"), max: day("2027-12-31") }),
      fc.integer({ min: 1, max: 15 }),
      (start, horizon) => {
        const ahead = { from: start as Day, horizon };
        const months = aheadMonths(ahead);
        const end = months.at(-1)?.until ?? 0;
        const wanted = new Map<string, number>();
        for (let at = start + 3.5; at <= end; at += 3.5) {
          const month = isoText(Math.floor(at) as Day).slice(0, 7);
          wanted.set(month, (wanted.get(month) ?? 0) + 1);
        }
        const need = gridNeed([{ lastDone: ahead.from, months: 1 }], ahead, mayfly);
        expect(need).toHaveLength(months.length);
        for (const { month, unplanned, scheduled } of need) {
          expect(unplanned).toBe(wanted.get(isoText(month).slice(0, 7)) ?? 0);
          expect(scheduled).toBe(0);
        }
      },
    );
    fc.assert(check);
  });
});

const fleets = fc.array(
  fc.record({
    lastDone: fc.integer({ min: from - 300, max: from + 40 }),
    months: fc.integer({ min: 1, max: 9 }),
  }),
  { minLength: 1, maxLength: 8 },
) as fc.Arbitrary<Unit[]>;

describe("properties", () => {
  it("is the schedule of the inspections where nothing ever wears", () => {
    const check = fc.property(fleets, (units) => {
      const need = gridNeed(units, year, { shape: 1, scale: 1e12 });
      const wanted = units.map(({ lastDone, months }) => {
        const scheduled = Math.floor((months * 30.436875) / 3.5);
        const first = Math.max(1, scheduled - Math.floor((from - lastDone) / 3.5));
        return first > 104 ? 0 : Math.floor((104 - first) / scheduled) + 1;
      });
      expect(total(need.map(({ scheduled }) => scheduled))).toBeCloseTo(total(wanted), 8);
      expect(total(need.map(({ unplanned }) => unplanned))).toBeCloseTo(0, 8);
    });
    fc.assert(check);
  });
  it("has chances with a mass of 1 and the mean that the recursion expects, in every month and in all", () => {
    const spans = [[0, 12] as const, ...Array.from({ length: 13 }, (_, at) => [at, at] as const)];
    for (const wear of [life, uncertain]) {
      const check = fc.property(fleets, (units) => {
        const need = gridNeed(units, year, wear).map(
          ({ scheduled, unplanned }) => scheduled + unplanned,
        );
        const counts = gridDistributions(units, year, wear, spans);
        const wanted = [total(need), ...need];
        counts.forEach((one, at) => {
          expect(total([...one.chances])).toBeCloseTo(1, 11);
          expect(meanOf(one)).toBeCloseTo(wanted[at] ?? NaN, 10);
        });
      });
      fc.assert(check, { numRuns: 30 });
    }
  });
  it("takes an uncertain life as its possible ones by their shares", () => {
    const units = [aged(6, 20), aged(4, 3)];
    const [found] = gridDistributions(units, year, uncertain, [[0, 12]]);
    const wanted = possibleLives(uncertain).map(({ share, life: one }) => {
      const [counts] = gridDistributions(units, year, one, [[0, 12]]);
      return share * (counts?.chances[5 - counts.least] ?? 0);
    });
    expect(found?.chances[5 - found.least]).toBeCloseTo(total(wanted), 14);
  });
  it("needs the same for parts one by one and together", () => {
    const check = fc.property(fleets, (units) => {
      const together = gridNeed(units, year, life);
      const alone = units.map((unit) => gridNeed([unit], year, life));
      together.forEach(({ scheduled, unplanned }, at) => {
        expect(scheduled).toBeCloseTo(total(alone.map((need) => need[at]?.scheduled ?? NaN)), 11);
        expect(unplanned).toBeCloseTo(total(alone.map((need) => need[at]?.unplanned ?? NaN)), 11);
      });
    });
    fc.assert(check, { numRuns: 30 });
  });
  it("replaces an overdue part at the first inspection, once, and a late beginner not before", () => {
    const never = { shape: 1, scale: 1e12 };
    const [late, begins] = [aged(6, 400), { lastDone: (from + 35) as Day, months: 6 }];
    expect(gridNeed([late], year, never)[0]?.scheduled).toBeCloseTo(1, 8);
    const first = gridNeed([begins], year, never).find(({ scheduled }) => scheduled > 0.5);
    // 10 steps until it begins and 52 until it is due: 62 · 3.5 = 217 days.
    expect(first && civilDate(first.month)).toMatchObject({ year: 2026, month: 10 });
  });
  it("loses unplanned replacements as the interval shortens", () => {
    const unplanned = [9, 6, 3, 1].map((months) =>
      total(gridNeed([aged(months, 0)], year, life).map((need) => need.unplanned)),
    );
    expect(unplanned).toEqual([...unplanned].sort((a, b) => b - a));
  });
});

describe("bad input", () => {
  it("names a life and a horizon that are none", () => {
    expect(() => gridNeed([], year, { shape: 0, scale: 9 })).toThrow(
      "shape must be above 0, got 0",
    );
    expect(() => gridDistributions([], { from, horizon: 0 }, life, [])).toThrow(
      "horizon must be a whole number of at least 1, got 0",
    );
    expect(() => gridNeed([{ lastDone: from, months: 0.5 }], year, life)).toThrow(
      "months must be a whole number of at least 1, got 0.5",
    );
  });
});
