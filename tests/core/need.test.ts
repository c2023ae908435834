import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { REPLACEAHEAD, YEARNEED } from "../../functions/need.ts";
import { countAtMost } from "../../src/core/count-distribution.ts";
import { addMonths, day, type Day } from "../../src/core/day.ts";
import { needAhead, needDistributions, needLimits, type Wear } from "../../src/core/need.ts";
import { InputError } from "../../src/core/errors.ts";
import { meanOf } from "../../src/core/distribution.ts";
import type { Unit } from "../../src/core/schedule.ts";

const from = day("2026-07-06");
const year = { from, horizon: 12 };
const life = { shape: 2.5, scale: 9 };
const fit = { ...life, covariance: { scale: 0.02, shape: 0.05, both: -0.02 } };

/** Parts whose ages lie evenly between new and due. */
function staggered(count: number, months: number): Unit[] {
  const planned = Math.floor((months * 30.436875) / 3.5);
  return Array.from({ length: count }, (_, at) => {
    const age = Math.floor((at * planned) / count);
    return { lastDone: (from - Math.ceil(age * 3.5)) as Day, months };
  });
}

const total = (values: readonly number[]): number => values.reduce((sum, one) => sum + one, 0);

const needed = (units: readonly Unit[], wear: Wear): number =>
  total(needAhead(units, year, wear).map(({ scheduled, unplanned }) => scheduled + unplanned));

describe("published", () => {
  it("Common practice, no source: 34 devices need 68 to 136 sets (every 6 to 3 months) and 45.3 to 68 cushions (every 9 to 6) a year where nothing wears early", () => {
    const never = { shape: 1, scale: 1e12 };
    // Every age alike: as many parts as there are days in the interval, taken for 34.
    const each = (months: number): number => {
      const days = from - addMonths(from, -months);
      const units = Array.from({ length: days }, (_, age) => ({
        lastDone: (from - age) as Day,
        months,
      }));
      return (needed(units, never) * 34) / days;
    };
    expect(each(3) / 136).toBeCloseTo(1, 2);
    expect(each(6) / 68).toBeCloseTo(1, 2);
    expect(each(9) / 45.333333).toBeCloseTo(1, 2);
    expect(needed(staggered(34, 6), null)).toBe(68);
  });
});

describe("second implementation", () => {
  it("needs in the long run one part for every mean time between replacements", () => {
    const good = (step: number): number =>
      Math.exp(-(((step * 3.5) / 30.436875 / life.scale) ** life.shape));
    // Inspections up to the due day, which half a year of days puts behind the 52nd.
    const mean = total(Array.from({ length: 52 }, (_, step) => good(step))) + 0.62 / 3.5;
    const ahead = { from, horizon: 120 };
    const last = needAhead(staggered(1, 6), ahead, life).slice(60, 120);
    const steps = (day("2036-07-01") - day("2031-07-01")) / 3.5;
    const found = total(last.map(({ scheduled, unplanned }) => scheduled + unplanned));
    expect(found / (steps / mean)).toBeCloseTo(1, 2);
    const unplanned = total(last.map((need) => need.unplanned)) / found;
    expect(unplanned).toBeCloseTo(1 - good(52), 2);
  });
  it("spreads a steady rate as a negative binomial over the schedule", () => {
    const wear = { failures: 2, months: 150 };
    const units = staggered(20, 6);
    const [counts] = needDistributions(units, year, wear);
    const scheduled = needed(units, null);
    const mean = (2.5 * 20 * (365 / 30.436875)) / 150;
    if (!counts) throw new Error("one span gives one set of chances");
    expect(counts.least).toBe(scheduled);
    expect(meanOf(counts)).toBeCloseTo(scheduled + mean, 8);
    expect(needed(units, wear)).toBeCloseTo(scheduled + mean, 8);
    let sum = 0;
    counts.chances.forEach((chance, more) => {
      sum += chance;
      const spread = { mean, variance: mean + mean ** 2 / 2.5 };
      expect(sum).toBeCloseTo(countAtMost(more, spread), 10);
    });
  });
});

const fleets = fc.array(
  fc.record({
    lastDone: fc.integer({ min: from - 300, max: from }),
    months: fc.integer({ min: 1, max: 9 }),
  }),
  { minLength: 1, maxLength: 8 },
) as fc.Arbitrary<Unit[]>;
const wears = fc.constantFrom<Wear>(
  null,
  { failures: 0, months: 40 },
  { failures: 2, months: 9 },
  life,
  fit,
);

describe("properties", () => {
  it("expects in the limits what it expects month by month, and holds it within them", () => {
    const check = fc.property(fleets, wears, (units, wear) => {
      const [limits] = needLimits(units, year, wear, { level: 0.8 });
      const { expected = NaN, low = NaN, high = NaN } = limits ?? {};
      expect(expected / needed(units, wear)).toBeCloseTo(1, 8);
      // Numbers are whole: the mean may lie a little beyond where nearly all the chance is on one.
      expect(low).toBeLessThanOrEqual(Math.ceil(expected));
      expect(high).toBeGreaterThanOrEqual(Math.floor(expected));
    });
    fc.assert(check);
  });
  it("widens limits with the level and with what a fit leaves open", () => {
    const units = staggered(150, 6);
    const width = (wear: Wear, level: number): number => {
      const [limits] = needLimits(units, year, wear, { level });
      return (limits?.high ?? NaN) - (limits?.low ?? NaN);
    };
    expect(width(life, 0.99)).toBeGreaterThan(width(life, 0.9));
    expect(width(fit, 0.9)).toBeGreaterThan(1.2 * width(life, 0.9));
    expect(width(null, 0.99)).toBe(0);
  });
  it("counts spans of months for themselves, and quarters add up to the year", () => {
    const units = staggered(12, 4);
    const spans = [
      [0, 2],
      [3, 5],
      [6, 8],
      [9, 12],
    ] as const;
    for (const wear of [null, { failures: 1, months: 30 }, life, fit]) {
      const quarters = needLimits(units, year, wear, { spans }).map(({ expected }) => expected);
      expect(quarters).toHaveLength(4);
      expect(total(quarters)).toBeCloseTo(needed(units, wear), 9);
    }
  });
  it("has the calendar alone where nothing is known of wear", () => {
    const need = needAhead(staggered(12, 4), year, null);
    for (const { scheduled, unplanned } of need) expect([scheduled % 1, unplanned]).toEqual([0, 0]);
    expect(needLimits(staggered(12, 4), year, null, {})).toEqual([
      { expected: 36, low: 36, high: 36 },
    ]);
  });
  it("needs no fewer parts the worse they wear", () => {
    const needs = [1e12, 30, 12, 9, 6, 3].map((scale) =>
      needed(staggered(20, 6), { shape: 2.5, scale }),
    );
    expect(needs).toEqual([...needs].sort((a, b) => a - b));
  });
  it("adds up over different intervals, parts of different kind being counted apart", () => {
    const [some, others] = [staggered(5, 3), staggered(7, 6)];
    const apart = needed(some, life) + needed(others, life);
    expect(needed([...some, ...others], life)).toBeCloseTo(apart, 10);
  });
});

describe("bad input", () => {
  const units = staggered(2, 3);
  const faults: readonly [() => unknown, string][] = [
    [
      () => needAhead(units, { from, horizon: 0 }, null),
      "horizon must be a whole number of at least 1, got 0",
    ],
    [
      () => needDistributions(units, year, null, [[3, 13]]),
      "last month must be a whole number from 3 to 12, got 13",
    ],
    [() => needLimits(units, year, life, { level: 1 }), "level must be above 0 and below 1, got 1"],
    [() => needAhead(units, year, { failures: 1, months: 0 }), "months must be above 0, got 0"],
    [
      () => needAhead(units, year, { failures: 1.5, months: 9 }),
      "failures must be a whole number of at least 0, got 1.5",
    ],
    [() => needAhead(units, year, { shape: 2, scale: -1 }), "scale must be above 0, got -1"],
    [
      () => needAhead([{ lastDone: from, months: 0 }], year, null),
      "months must be a whole number of at least 1, got 0",
    ],
  ];
  for (const [call, message] of faults) {
    it(`says: ${message}`, () => {
      expect(call).toThrow(InputError);
      expect(call).toThrow(message);
    });
  }
});

describe("as cells", () => {
  const last = [day("2026-01-12"), day("2026-02-20"), day("2025-12-01")];
  it("passes over blank rows and takes one interval for all", () => {
    const plain = YEARNEED.call([last, 3, from]);
    expect(YEARNEED.call([[...last, null, ""], [3, 3, 3, "", null], from])).toEqual(plain);
    expect(YEARNEED.call([[...last, null, 0], 3, from])).toEqual(plain);
  });
  it("loses no part: a row filled by half, or none filled at all, is told", () => {
    const value = (message: string): object => ({ error: "#VALUE!", message });
    expect(YEARNEED.call([last, [3, null, 4], from])).toEqual(
      value("months must be given wherever lastDone is, got a blank cell"),
    );
    expect(YEARNEED.call([[last[0], null], [3, 4], from])).toEqual(
      value("lastDone must be a date wherever months is given, got a blank cell"),
    );
    expect(YEARNEED.call([last, [3, 4], from])).toEqual(
      value("months must be one cell or as many cells as lastDone (3), got 2"),
    );
    expect(YEARNEED.call([[null, null], [null, null], from])).toEqual({
      error: "#N/A",
      message: "needs at least one part with a date",
    });
  });
  it("takes shape and scale only together", () => {
    const value = (message: string): object => ({ error: "#VALUE!", message });
    expect(REPLACEAHEAD.call([last, 3, from, 2, 2.5])).toEqual(
      value("scale must be given together with shape, got a blank cell"),
    );
    expect(REPLACEAHEAD.call([last, 3, from, 2, null, 9])).toEqual(
      value("shape must be given together with scale, got a blank cell"),
    );
  });
  it("adds up: planned and early are expected, and the months are the year", () => {
    const rows = REPLACEAHEAD.call([last, [3, 6, 4], from, 12, 2.5, 9]) as number[][];
    for (const [, planned = NaN, early = NaN, expected] of rows)
      expect(planned + early).toBe(expected);
    const [[expected = NaN] = []] = YEARNEED.call([
      last,
      [3, 6, 4],
      from,
      12,
      2.5,
      9,
    ]) as number[][];
    expect(total(rows.map(([, , , one = NaN]) => one))).toBeCloseTo(expected, 10);
  });
  it("gives month starts in the days of a 1904 workbook", () => {
    const shifted = REPLACEAHEAD.call([last.map((date) => date - 1462), 3, from - 1462, 1], 1462);
    const plain = REPLACEAHEAD.call([last, 3, from, 1]) as number[][];
    expect(shifted).toEqual(plain.map(([month = NaN, ...rest]) => [month - 1462, ...rest]));
  });
});
