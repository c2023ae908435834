import { readFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { civilDate, day, type Day, isoText } from "../../src/core/day.ts";
import { meanOf } from "../../src/core/distribution.ts";
import { gridDistributions, gridNeeds } from "../../src/core/grid.ts";
import { needAhead } from "../../src/core/need.ts";
import { type Life, possibleLives } from "../../src/core/life.ts";
import { aheadMonths, type LookAhead, type Unit } from "../../src/core/schedule.ts";
import { workCalendar } from "../../src/core/workday.ts";

const reference = JSON.parse(
  readFileSync(new URL("../reference/need.json", import.meta.url), "utf8"),
) as {
  readonly versions: string;
  readonly shape: number;
  readonly scale: number;
  /** Months between replacements, days since it was fitted, how many. */
  readonly parts: readonly (readonly [number, number, number])[];
  readonly planned: readonly number[];
  readonly early: readonly number[];
  readonly fleet: readonly number[];
};

const life: Life = { shape: reference.shape, scale: reference.scale };
const uncertain: Life = { ...life, covariance: { scale: 0.02, shape: 0.05, both: -0.02 } };
const from = day("2026-03-16");
const year: LookAhead = { from, horizon: 12 };

function aged(months: number, days: number): Unit {
  return { lastDone: (from - days) as Day, months };
}

const total = (values: readonly number[]): number => values.reduce((sum, one) => sum + one, 0);

describe("second implementation", () => {
  reference.parts.forEach(([months, age], at) => {
    it(`expects what following it day by day does: every ${months} months, fitted ${age} days ago (${reference.versions})`, () => {
      const need = needAhead([aged(months, age)], year, life);
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
  it(`gives a fleet the chances that a transform of its parts gives (${reference.versions})`, () => {
    const units = reference.parts.flatMap(([months, age, times]) =>
      Array.from({ length: times }, () => aged(months, age)),
    );
    const [found] = gridDistributions(units, year, life, [[0, 12]]);
    if (!found) throw new Error("one span gives one set of chances");
    reference.fleet.forEach((chance, count) => {
      expect(found.chances[count - found.least] ?? 0).toBeCloseTo(chance, 12);
    });
  });
  it("books every inspection to its calendar month", () => {
    // Parts that last no day are replaced at every inspection.
    const mayfly = { shape: 1000, scale: 0.01 };
    const check = fc.property(
      fc.integer({ min: day("2024-01-01"), max: day("2027-12-31") }),
      fc.integer({ min: 1, max: 15 }),
      (start, horizon) => {
        const ahead = { from: start as Day, horizon };
        const months = aheadMonths(ahead);
        const end = months.at(-1)?.until ?? 0;
        const wanted = new Map<string, number>();
        for (let at = start + 3.5; Math.floor(at) <= end; at += 3.5) {
          const month = isoText(Math.floor(at) as Day).slice(0, 7);
          wanted.set(month, (wanted.get(month) ?? 0) + 1);
        }
        const need = needAhead([{ lastDone: ahead.from, months: 1 }], ahead, mayfly);
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
  it("is the schedule where nothing ever wears: 120 staggered parts at four months need 360 in a year", () => {
    const units = Array.from({ length: 120 }, (_, at) => ({
      lastDone: (from - at) as Day,
      months: 4,
    }));
    const need = needAhead(units, year, { shape: 1, scale: 1e12 });
    expect(total(need.map(({ scheduled }) => scheduled))).toBeCloseTo(360, 6);
    const check = fc.property(fleets, (parts) => {
      const never = needAhead(parts, year, { shape: 1, scale: 1e12 });
      // Whole months of 28 to 31 days: a schedule that chains them may turn a month's end by a day or two.
      const early = parts.map(({ lastDone, ...rest }) => ({
        ...rest,
        lastDone: (lastDone - (civilDate(lastDone).dayOfMonth > 28 ? 3 : 0)) as Day,
      }));
      const wanted = needAhead(early, year, null);
      const found = needAhead(early, year, { shape: 1, scale: 1e12 });
      found.forEach(({ scheduled, unplanned }, at) => {
        expect(scheduled).toBeCloseTo(wanted[at]?.scheduled ?? NaN, 8);
        expect(unplanned).toBeCloseTo(0, 8);
      });
      expect(total(never.map(({ unplanned }) => unplanned))).toBeCloseTo(0, 8);
    });
    fc.assert(check);
  });
  it("has chances with a mass of 1 and the mean that the recursion expects, in every month and in all", () => {
    const spans = [[0, 12] as const, ...Array.from({ length: 13 }, (_, at) => [at, at] as const)];
    for (const wear of [life, uncertain]) {
      const check = fc.property(fleets, (units) => {
        const need = needAhead(units, year, wear).map(
          ({ scheduled, unplanned }) => scheduled + unplanned,
        );
        const counts = gridDistributions(units, year, wear, spans);
        const wanted = [total(need), ...need];
        counts.forEach((one, at) => {
          expect(total([...one.chances])).toBeCloseTo(1, 11);
          expect(meanOf(one)).toBeCloseTo(wanted[at] ?? NaN, 9);
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
      const together = needAhead(units, year, life);
      const alone = gridNeeds(units, year, life);
      together.forEach(({ scheduled, unplanned }, at) => {
        expect(scheduled).toBeCloseTo(total(alone.map((need) => need[at]?.scheduled ?? NaN)), 11);
        expect(unplanned).toBeCloseTo(total(alone.map((need) => need[at]?.unplanned ?? NaN)), 11);
      });
    });
    fc.assert(check, { numRuns: 30 });
  });
  it("replaces an overdue part at once and once, and a late beginner not before", () => {
    const never = { shape: 1, scale: 1e12 };
    const [late, begins] = [aged(6, 400), { lastDone: (from + 35) as Day, months: 6 }];
    expect(needAhead([late], year, never)[0]?.scheduled).toBeCloseTo(1, 8);
    const first = needAhead([begins], year, never).find(({ scheduled }) => scheduled > 0.5);
    expect(first && civilDate(first.month)).toMatchObject({ year: 2026, month: 10 });
  });
  it("does on the last working day what falls due on a day off, also where that is in the month before", () => {
    const calendar = workCalendar(1, []);
    // Due on Saturday, 1 August 2026.
    const unit = { lastDone: day("2026-02-01"), months: 6 };
    for (const wear of [null, { shape: 1, scale: 1e12 }]) {
      const need = needAhead([unit], { ...year, calendar }, wear);
      expect(need.findIndex(({ scheduled }) => scheduled > 0.5)).toBe(4);
      expect(isoText(need[4]?.month ?? from)).toBe("2026-07-01");
    }
  });
  it("loses unplanned replacements as the interval shortens", () => {
    const unplanned = [9, 6, 3, 1].map((months) =>
      total(needAhead([aged(months, 0)], year, life).map((need) => need.unplanned)),
    );
    expect(unplanned).toEqual([...unplanned].sort((a, b) => b - a));
  });
});

describe("bad input", () => {
  it("names a life and a horizon that are none", () => {
    expect(() => gridNeeds([], year, { shape: 0, scale: 9 })).toThrow(
      "shape must be above 0, got 0",
    );
    expect(() => gridDistributions([], { from, horizon: 0 }, life, [])).toThrow(
      "horizon must be a whole number of at least 1, got 0",
    );
    expect(() => needAhead([{ lastDone: from, months: 0.5 }], year, life)).toThrow(
      "months must be a whole number of at least 1, got 0.5",
    );
  });
});
