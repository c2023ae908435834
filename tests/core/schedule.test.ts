import { addMonths as laterBy, differenceInCalendarMonths } from "date-fns";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { day, type Day, isoText } from "../../src/core/day.ts";
import { InputError } from "../../src/core/errors.ts";
import {
  aheadMonths,
  type LookAhead,
  requireSpan,
  scheduledDays,
  scheduledNeed,
  type Unit,
} from "../../src/core/schedule.ts";
import { workCalendar } from "../../src/core/workday.ts";

const need = (lastDone: string, months: number, from: string, horizon: number): number[] =>
  scheduledNeed([{ lastDone: day(lastDone), months }], { from: day(from), horizon });

const sum = (values: readonly number[]): number => values.reduce((total, one) => total + one, 0);

describe("published", () => {
  it("Common practice, no source: a set every 3 to 6 months is 68 to 136 sets a year for 34 devices, a cushion every 6 to 9 months 45 to 68", () => {
    const fleet = (months: number): number => {
      const units = Array.from({ length: 34 }, (_, at) => ({
        lastDone: (day("2026-07-01") - Math.floor((at * months * 30) / 34)) as Day,
        months,
      }));
      return sum(scheduledNeed(units, { from: day("2026-07-01"), horizon: 12 }));
    };
    expect([fleet(3), fleet(6)]).toEqual([136, 68]);
    // 34 · 12 / 9 = 45.3, and a count is whole.
    expect([45, 46]).toContain(fleet(9));
  });
});

const units = fc.array(
  fc.record({
    lastDone: fc.integer({ min: day("2024-01-01"), max: day("2026-12-31") }),
    months: fc.integer({ min: 1, max: 14 }),
  }),
  { maxLength: 6 },
) as fc.Arbitrary<Unit[]>;

const ahead = fc.record({
  from: fc.integer({ min: day("2025-01-01"), max: day("2026-06-30") }),
  horizon: fc.integer({ min: 1, max: 30 }),
}) as fc.Arbitrary<LookAhead>;

/** Midnight of a day where the tests run; date-fns then reckons in that place's calendar. */
function dateOf(date: Day): Date {
  const [year = 0, month = 0, dayOfMonth = 0] = isoText(date).split("-").map(Number);
  return new Date(year, month - 1, dayOfMonth);
}

describe("second implementation", () => {
  it("counts what date-fns counts, one due date after the other", () => {
    const check = fc.property(units, ahead, (parts, { from, horizon }) => {
      const wanted = Array.from({ length: horizon + 1 }, () => 0);
      const [begin, end] = [dateOf(from), laterBy(dateOf(from), horizon)];
      const count = (date: Date): void => {
        const index = differenceInCalendarMonths(date, begin);
        wanted[index] = (wanted[index] ?? 0) + 1;
      };
      for (const { lastDone, months } of parts) {
        let anchor = dateOf(lastDone);
        if (laterBy(anchor, months) <= begin) {
          count(begin);
          anchor = begin;
        }
        for (let times = 1; laterBy(anchor, times * months) <= end; times += 1) {
          count(laterBy(anchor, times * months));
        }
      }
      expect(scheduledNeed(parts, { from, horizon })).toEqual(wanted);
    });
    fc.assert(check, { numRuns: 500 });
  });
});

describe("properties", () => {
  it("leaves no day of the time ahead out and counts none twice", () => {
    const check = fc.property(ahead, (given) => {
      const months = aheadMonths(given);
      expect(months).toHaveLength(given.horizon + 1);
      expect(months[0]?.after).toBe(given.from);
      months.forEach(({ month, after, until }, at) => {
        expect(isoText(month)).toMatch(/-01$/);
        expect(until).toBeGreaterThanOrEqual(after);
        if (until > after) expect(isoText(until).slice(0, 7)).toBe(isoText(month).slice(0, 7));
        if (at > 0) expect(after).toBe(months[at - 1]?.until);
      });
    });
    fc.assert(check);
  });
  it("never chains due dates: the last of the month comes back where it can", () => {
    // Due on 28 February and again on 31 March; chained it would be 28 March.
    expect(need("2026-01-31", 1, "2026-03-29", 1)).toEqual([1, 1]);
  });
  it("begins each interval on the working day on which the last one really ended", () => {
    // By hand: 17 May 2026 is a Sunday, 15 August 2026 a Saturday.
    const unit = { lastDone: day("2026-02-17"), months: 3 };
    const days = scheduledDays(unit, day("2026-04-01"), day("2026-11-30"), workCalendar(null, []));
    expect(days.map(isoText)).toEqual(["2026-05-15", "2026-08-14", "2026-11-13"]);
  });
  it("counts an overdue part once, in the first month, and starts it anew", () => {
    expect(need("2024-05-01", 3, "2026-03-16", 6)).toEqual([1, 0, 0, 1, 0, 0, 1]);
    expect(need("2025-12-16", 3, "2026-03-16", 3)).toEqual([1, 0, 0, 1]);
  });
  it("counts the last day and not the day after", () => {
    expect(sum(need("2026-01-16", 3, "2026-03-16", 1))).toBe(1);
    expect(sum(need("2026-01-17", 3, "2026-03-16", 1))).toBe(0);
  });
  it("has a part that only begins later wait for it", () => {
    expect(need("2026-05-10", 1, "2026-03-16", 3)).toEqual([0, 0, 0, 1]);
  });
  it("needs nothing for no parts", () => {
    expect(scheduledNeed([], { from: day("2026-03-16"), horizon: 2 })).toEqual([0, 0, 0]);
  });
});

describe("bad input", () => {
  const from = day("2026-03-16");
  const unit = { lastDone: from, months: 3 };
  const faults: readonly [() => unknown, string][] = [
    [
      () => scheduledNeed([unit], { from, horizon: 0 }),
      "horizon must be a whole number of at least 1, got 0",
    ],
    [
      () => aheadMonths({ from, horizon: 1.5 }),
      "horizon must be a whole number of at least 1, got 1.5",
    ],
    [
      () => scheduledNeed([{ ...unit, months: 0 }], { from, horizon: 1 }),
      "months must be a whole number of at least 1, got 0",
    ],
    [
      () => scheduledNeed([{ ...unit, months: 2.5 }], { from, horizon: 1 }),
      "months must be a whole number of at least 1, got 2.5",
    ],
    [
      () => {
        requireSpan([-1, 0], { from, horizon: 3 });
      },
      "first month must be a whole number from 0 to 3, got -1",
    ],
    [
      () => {
        requireSpan([2, 1], { from, horizon: 3 });
      },
      "last month must be a whole number from 2 to 3, got 1",
    ],
    [
      () => {
        requireSpan([2, 4], { from, horizon: 3 });
      },
      "last month must be a whole number from 2 to 3, got 4",
    ],
  ];
  for (const [call, message] of faults) {
    it(`says: ${message}`, () => {
      expect(call).toThrow(InputError);
      expect(call).toThrow(message);
    });
  }
});
