import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type CountOptions, DAYS_PER_MONTH, useRate } from "../../src/core/counts.ts";
import { addMonths, civilDate, type Day, day, daysInMonth } from "../../src/core/day.ts";
import { InputError, NoAnswerError } from "../../src/core/errors.ts";

const january = day("2026-01-01");
const months = (count: number): Day[] =>
  Array.from({ length: count }, (_, index) => addMonths(january, index));

describe("published", () => {
  it("Gregorian calendar: 146,097 days in 4,800 months", () => {
    expect(DAYS_PER_MONTH).toBe(146_097 / 4_800);
  });
  it("UN/ECE Recommendation 20, code MON: 30.4375 days (a Julian year), ours to two decimals", () => {
    expect(DAYS_PER_MONTH).toBeCloseTo(30.4375, 2);
    expect(DAYS_PER_MONTH).not.toBe(30.4375);
  });
  it("Own arithmetic: 59 uses in January and February 2026 together are 30.436875 a month", () => {
    expect(useRate([31, 28], months(2), {})).toBe(DAYS_PER_MONTH);
  });
});

const count = fc.option(fc.integer({ min: 0, max: 500 }));
const list = fc.array(fc.tuple(count, fc.integer({ min: 0, max: 30 })), { maxLength: 40 });
const options = fc.record({ recent: fc.integer({ min: 1, max: 12 }), zeroCounts: fc.boolean() });

/** Walks back month by month, looking the last entry up each time. */
function walked(
  entries: readonly (readonly [number | null, number])[],
  { recent = 3, zeroCounts = false }: CountOptions,
): number | null {
  let uses = 0;
  let days = 0;
  let used = 0;
  for (let index = 30; index >= 0 && used < recent; index -= 1) {
    const usable = entries.filter(
      ([entry, month]) => month === index && entry !== null && (entry > 0 || zeroCounts),
    );
    const last = usable.at(-1)?.[0];
    if (last === undefined || last === null) continue;
    const { year, month } = civilDate(addMonths(january, index));
    uses += last;
    days += daysInMonth(year, month);
    used += 1;
  }
  return used === 0 ? null : uses / (days / DAYS_PER_MONTH);
}

describe("second implementation: walking back month by month", () => {
  it("agrees, with months in any order, twice and without a count", () => {
    const check = fc.property(list, options, (entries, given) => {
      const counts = entries.map(([entry]) => entry);
      const starts = entries.map(([, month]) => addMonths(january, month));
      const wanted = walked(entries, given);
      if (wanted === null) {
        expect(() => useRate(counts, starts, given)).toThrow(NoAnswerError);
      } else {
        expect(useRate(counts, starts, given)).toBeCloseTo(wanted, 9);
      }
    });
    fc.assert(check, { numRuns: 2_000 });
  });
});

describe("properties", () => {
  it("lies between the least and the most uses a day of the months used", () => {
    const some = fc.array(fc.integer({ min: 1, max: 500 }), { minLength: 1, maxLength: 3 });
    const check = fc.property(some, (counts) => {
      const perMonth = counts.map((uses, index) => {
        const { year, month } = civilDate(addMonths(january, index));
        return (uses / daysInMonth(year, month)) * DAYS_PER_MONTH;
      });
      const rate = useRate(Object.freeze(counts), Object.freeze(months(counts.length)), {});
      expect(rate).toBeGreaterThanOrEqual(Math.min(...perMonth) - 1e-9);
      expect(rate).toBeLessThanOrEqual(Math.max(...perMonth) + 1e-9);
    });
    fc.assert(check);
  });
  it("never takes a blank for zero", () => {
    expect(useRate([62, null, null], months(3), {})).toBe(2 * DAYS_PER_MONTH);
    expect(useRate([62, 0, 0], months(3), {})).toBe(2 * DAYS_PER_MONTH);
    expect(useRate([62, 0, 0], months(3), { zeroCounts: true })).toBeCloseTo(20.967625, 12);
    expect(useRate([0], months(1), { zeroCounts: true })).toBe(0);
  });
  it("lets a later figure of the same month replace the earlier, and a blank replace nothing", () => {
    const twice = [january, january, day("2026-01-31")];
    expect(useRate([10, 62, null], twice, {})).toBe(2 * DAYS_PER_MONTH);
  });
});

describe("bad input", () => {
  const refused = (call: () => unknown, message: string): void => {
    expect(call).toThrow(InputError);
    expect(call).toThrow(message);
  };
  it("refuses counts below zero or no numbers", () => {
    for (const bad of [-1, NaN, Infinity]) {
      const message = `counts must be zero or more, got ${bad}`;
      refused(() => useRate([bad], months(1), {}), message);
    }
  });
  it("refuses lists of different length", () => {
    const message = "monthStarts must be as long as counts (2), got 1";
    refused(() => useRate([1, 2], months(1), {}), message);
  });
  it("refuses a number of months that is not whole or below 1", () => {
    for (const recent of [0, 1.5, -1, NaN]) {
      const message = `recent must be a whole number of at least 1, got ${recent}`;
      refused(() => useRate([1], months(1), { recent }), message);
    }
  });
  it("has no answer without a count", () => {
    const none = (): number => useRate([null, 0], months(2), {});
    expect(none).toThrow(NoAnswerError);
    expect(none).toThrow("needs at least one month with a count");
    expect(() => useRate([], [], {})).toThrow("needs at least one month with a count");
  });
});
