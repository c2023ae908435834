import { readFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { SURVIVE } from "../../functions/life.ts";
import { InputError } from "../../src/core/errors.ts";
import type { Lifetime } from "../../src/core/life.ts";
import { survive, surviveAt } from "../../src/core/survive.ts";
import type { Published } from "./published.ts";

function log(months: readonly number[], failed: readonly number[]): Lifetime[] {
  return months.map((time, at) => ({ months: time, failed: failed[at] === 1 }));
}

function repeat(months: number, times: number): number[] {
  return Array.from({ length: times }, () => months);
}

interface Curve {
  readonly good: readonly number[];
  readonly error?: readonly number[];
  /** 1.96 standard errors. */
  readonly halfWidth?: readonly number[];
}

const table: readonly Published<readonly Lifetime[], Curve>[] = [
  {
    source:
      "Boston University School of Public Health, BS704 Survival, as in SciPy test_survival.py, text read",
    given: log(
      [24, 3, 11, 19, 24, 13, 14, 2, 18, 17, 24, 21, 12, 1, 10, 23, 6, 5, 9, 17],
      [0, 1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 0, 0, 1, 0, 1, 0, 1, 0, 1],
    ),
    value: {
      good: [0.95, 0.897, 0.844, 0.76, 0.676, 0.507],
      halfWidth: [0.096, 0.135, 0.162, 0.214, 0.246, 0.341],
    },
    decimals: 3,
  },
  {
    source:
      "Miller 1981 p. 49, leukaemia without maintenance, as printed by R survival 3.5.3 summary(survfit), text read",
    given: log([5, 5, 8, 8, 12, 16, 23, 27, 30, 33, 43, 45], [1, 1, 1, 1, 1, 0, 1, 1, 1, 1, 1, 1]),
    value: {
      good: [0.8333, 0.6667, 0.5833, 0.4861, 0.3889, 0.2917, 0.1944, 0.0972, 0],
      error: [0.1076, 0.1361, 0.1423, 0.1481, 0.147, 0.1387, 0.1219, 0.0919],
    },
    decimals: 4,
  },
  {
    source: "NIST/SEMATECH e-Handbook 8.2.1.5, twenty units, from memory",
    given: log(
      [10, 32, 56, 98, 122, 181, ...repeat(50, 4), ...repeat(200, 10)],
      [1, 1, 1, 1, 1, 1],
    ),
    // The last is printed rounded down from 0.642857.
    value: { good: [0.95, 0.9, 0.8357, 0.7714, 0.7071, 0.6428] },
    decimals: 4,
  },
];

describe("published", () => {
  for (const { source, given, value, decimals = 0 } of table) {
    it(`Kaplan-Meier: ${source}`, () => {
      const { steps } = survive(given);
      const failed = steps.filter(({ failures }) => failures > 0);
      // Half a unit of the last digit, and as much again for what was rounded on the way.
      const near = (found: number | null, printed: number): void => {
        expect(Math.abs((found ?? NaN) - printed)).toBeLessThanOrEqual(1.1 * 10 ** -decimals);
      };
      expect(failed).toHaveLength(value.good.length);
      failed.forEach(({ good, error }, at) => {
        near(good, value.good[at] ?? NaN);
        if (value.error?.[at] !== undefined) near(error, value.error[at]);
        if (value.halfWidth) near(1.96 * (error ?? NaN), value.halfWidth[at] ?? NaN);
      });
    });
  }
});

interface Steps {
  readonly months: readonly number[];
  readonly atRisk: readonly number[];
  readonly worn: readonly number[];
  readonly good: readonly number[];
  readonly error: readonly number[];
  readonly low: readonly (number | null)[];
  readonly high: readonly (number | null)[];
}

const reference = JSON.parse(
  readFileSync(new URL("../reference/life.json", import.meta.url), "utf8"),
) as {
  readonly versions: string;
  readonly months: readonly number[];
  readonly worn: readonly number[];
  readonly seenFrom: readonly number[];
  readonly counted: Steps;
  readonly countedLate: Steps;
};

/** The share still good by its definition: one factor for each failure, over all records each time. */
function byDefinition(lifetimes: readonly Lifetime[], months: number): number {
  const times = [...new Set(lifetimes.filter((one) => one.failed).map((one) => one.months))];
  return times
    .filter((time) => time <= months)
    .reduce((good, time) => {
      const atRisk = lifetimes.filter((one) => one.months >= time).length;
      const failures = lifetimes.filter((one) => one.failed && one.months === time).length;
      return good * (1 - failures / atRisk);
    }, 1);
}

const records = fc.array(
  fc.record({ months: fc.integer({ min: 0, max: 12 }), failed: fc.boolean() }),
  { minLength: 1, maxLength: 40 },
);

describe("second implementation", () => {
  const plain = log(reference.months, reference.worn);
  const late = plain.map((one, at) => {
    const entryAge = reference.seenFrom[at] ?? 0;
    return entryAge > 0 ? { ...one, entryAge } : one;
  });
  for (const [name, lifetimes, wanted] of [
    ["all seen from the beginning", plain, reference.counted],
    ["some seen late", late, reference.countedLate],
  ] as const) {
    it(`gives survfit's steps, errors and log-log limits, ${name} (${reference.versions})`, () => {
      const { steps } = survive(lifetimes);
      expect(steps).toHaveLength(wanted.months.length);
      steps.forEach((step, at) => {
        expect([step.months, step.atRisk, step.failures]).toEqual([
          wanted.months[at],
          wanted.atRisk[at],
          wanted.worn[at],
        ]);
        expect(step.good).toBeCloseTo(wanted.good[at] ?? NaN, 12);
        expect(step.error).toBeCloseTo(wanted.error[at] ?? NaN, 12);
        expect(step.limits?.low).toBeCloseTo(wanted.low[at] ?? NaN, 12);
        expect(step.limits?.high).toBeCloseTo(wanted.high[at] ?? NaN, 12);
      });
    });
  }
  it("gives the product of its definition, whatever the log", () => {
    const check = fc.property(records, fc.integer({ min: 0, max: 12 }), (lifetimes, months) => {
      const found = surviveAt(survive(lifetimes), months);
      if (found === null) expect(months).toBeGreaterThan(survive(lifetimes).longest);
      else expect(found.good).toBeCloseTo(byDefinition(lifetimes, months), 12);
    });
    fc.assert(check);
  });
});

describe("properties", () => {
  it("is the plain share where every part wore out, and falls to none", () => {
    const times = [1, 2, 2, 3, 5, 8];
    const survival = survive(log(times, repeat(1, 6)));
    for (const months of [0, 1, 1.5, 2, 3, 4, 5, 8, 9]) {
      const share = times.filter((time) => time > months).length / times.length;
      expect(surviveAt(survival, months)?.good).toBeCloseTo(share, 12);
    }
    expect(surviveAt(survival, 100)).toEqual({ good: 0, limits: null });
  });
  it("never rises, and stays within its limits", () => {
    const check = fc.property(records, (lifetimes) => {
      let before = 1;
      for (const { good, limits, error } of survive(lifetimes).steps) {
        expect(good).toBeLessThanOrEqual(before);
        before = good;
        expect(error === null).toBe(good === 0);
        if (!limits) continue;
        expect(limits.low).toBeLessThanOrEqual(good);
        expect(limits.high).toBeGreaterThanOrEqual(good);
        expect(limits.low).toBeGreaterThanOrEqual(0);
        expect(limits.high).toBeLessThanOrEqual(1);
      }
    });
    fc.assert(check);
  });
  it("counts failures before other ends at the same time", () => {
    expect(survive(log([4, 4, 4, 9], [1, 0, 0, 0])).steps[0]).toMatchObject({
      atRisk: 4,
      good: 0.75,
    });
  });
  it("knows nothing beyond the longest time seen, unless no part was left", () => {
    const survival = survive(log([4, 6], [1, 0]));
    expect(surviveAt(survival, 6)?.good).toBe(0.5);
    expect(surviveAt(survival, 6.01)).toBeNull();
  });
  it("has a median only where half have failed", () => {
    expect(survive(log([4, 6], [1, 0])).median).toBe(4);
    expect(survive(log([4, 6, 7], [1, 0, 0])).median).toBeNull();
    // 3/4 · 2/3 is a half but for rounding.
    expect(survive(log([1, 2, 3, 3], [1, 1, 0, 0])).median).toBe(2);
    expect(survive([]).median).toBeNull();
  });
  it("counts a part that failed on its first day", () => {
    expect(surviveAt(survive(log([0, 5], [1, 0])), 0)?.good).toBe(0.5);
  });
  it("does not count a part before it was seen", () => {
    const late = { months: 9, failed: false, entryAge: 5 };
    const { steps } = survive([...log([4, 6, 9], [1, 1, 0]), late]);
    expect(steps.map(({ atRisk }) => atRisk)).toEqual([3, 3]);
  });
  it("widens its limits with the level", () => {
    const lifetimes = log([2, 4, 5, 6], [1, 1, 0, 0]);
    const [wide, narrow] = [survive(lifetimes, 0.99).steps[0], survive(lifetimes, 0.5).steps[0]];
    expect(wide?.limits?.low).toBeLessThan(narrow?.limits?.low ?? NaN);
    expect(wide?.limits?.high).toBeGreaterThan(narrow?.limits?.high ?? NaN);
  });
});

describe("bad input", () => {
  it("names a time below zero and a level of 1", () => {
    expect(() => survive([{ months: -1, failed: true }])).toThrow(InputError);
    expect(() => survive([{ months: -1, failed: true }])).toThrow(
      "months must be a number of at least 0, got -1",
    );
    expect(() => survive([], 1)).toThrow("level must be above 0 and below 1, got 1");
  });
});

describe("as cells", () => {
  it("answers one row for each cell asked, blank where nothing is known", () => {
    const rows = SURVIVE.call([
      [4, 6],
      [true, false],
      [1, "", 6, 7],
    ]);
    const columns = (rows as unknown[][]).map(([good]) => good);
    expect(columns).toEqual([1, "", 0.5, ""]);
  });
});
