import { UTCDate } from "@date-fns/utc";
import { addDays, getISODay, isWeekend, subDays } from "date-fns";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type Day, day, FIRST_DAY, isoText, LAST_DAY, weekday } from "../../src/core/day.ts";
import { InputError } from "../../src/core/errors.ts";
import * as core from "../../src/core/workday.ts";
import type { Published } from "./published.ts";

interface Start {
  readonly start: string;
  readonly days: number;
  readonly holidays: readonly string[];
}

const later: readonly Published<Start, string>[] = [
  {
    source: "ECMA-376 SpreadsheetML reference, WORKDAY, example with 0 days",
    given: { start: "2006-01-01", days: 0, holidays: [] },
    value: "2006-01-01",
  },
  {
    source: "ECMA-376 SpreadsheetML reference, WORKDAY, example with 10 days",
    given: { start: "2006-01-01", days: 10, holidays: [] },
    value: "2006-01-13",
  },
  {
    source: "ECMA-376 SpreadsheetML reference, WORKDAY, example with -10 days",
    given: { start: "2006-01-01", days: -10, holidays: [] },
    value: "2005-12-19",
  },
  {
    source: "ECMA-376 SpreadsheetML reference, WORKDAY, example with two holidays",
    given: { start: "2006-01-01", days: 20, holidays: ["2006-01-02", "2006-01-16"] },
    value: "2006-01-31",
  },
];

// 5 U.S.C. 6103 and Executive Order 11582: a Saturday is observed on Friday, a Sunday on Monday.
const observed = [
  ...["2021-01-01", "2021-01-18", "2021-02-15", "2021-05-31", "2021-06-18", "2021-07-05"],
  ...["2021-09-06", "2021-10-11", "2021-11-11", "2021-11-25", "2021-12-24", "2021-12-31"],
  ...["2022-01-17", "2022-02-21", "2022-05-30", "2022-06-20", "2022-07-04", "2022-09-05"],
  ...["2022-10-10", "2022-11-11", "2022-11-24", "2022-12-26"],
].map(day);

const back: readonly Published<string, string>[] = [
  ["a holiday observed on Monday", "2021-07-04", "2021-07-02"],
  ["a holiday observed on Friday of the year before", "2022-01-01", "2021-12-30"],
  ["a Thursday", "2021-11-25", "2021-11-24"],
  ["a Monday after a weekend", "2022-12-26", "2022-12-23"],
  ["a working day", "2022-05-31", "2022-05-31"],
].map(([which, given, value]) => ({
  source: `US federal holidays as observed, rolled with NumPy busday_offset (computed): ${String(which)}`,
  given: String(given),
  value: String(value),
}));

describe("published", () => {
  for (const { source, given, value } of later) {
    it(source, () => {
      const calendar = core.workCalendar(1, given.holidays.map(day));
      expect(isoText(core.workday(day(given.start), given.days, calendar))).toBe(value);
    });
  }
  it("Microsoft Excel 2013 Inside Out, chapter 15: NETWORKDAYS counts both ends", () => {
    const calendar = core.workCalendar(1, []);
    expect(core.workdaysBetween(day("2014-01-15"), day("2014-06-30"), calendar)).toBe(119);
  });
  for (const { source, given, value } of back) {
    it(source, () => {
      expect(isoText(core.rollBack(day(given), core.workCalendar(1, observed)))).toBe(value);
    });
  }
  it("Microsoft's reference of WORKDAY.INTL (from memory): which days each code takes off", () => {
    const codes = [1, 2, 3, 4, 5, 6, 7, 11, 12, 13, 14, 15, 16, 17];
    const names = "67 71 12 23 34 45 56 7 1 2 3 4 5 6".split(" ");
    const monday = day("2026-05-11");
    const off = codes.map((code) => {
      const calendar = core.workCalendar(code, []);
      const days = [0, 1, 2, 3, 4, 5, 6].map((n) => (monday + n) as Day);
      return days.filter((date) => !core.isWorkday(date, calendar)).map(weekday);
    });
    const sorted = (days: readonly (number | string)[]): string => [...days].sort().join("");
    expect(off.map(sorted)).toEqual(names.map((name) => sorted(Array.from(name))));
  });
});

const MILLISECONDS = 86_400_000;
const asDate = (date: number): UTCDate => new UTCDate((date - 25569) * MILLISECONDS);
const asDay = (date: Date): number => date.getTime() / MILLISECONDS + 25569;

const marks = fc
  .array(fc.constantFrom("0", "1"), { minLength: 7, maxLength: 7 })
  .map((week) => week.join(""))
  .filter((week) => week.includes("0"));
const start = day("2026-01-01");
const near = fc.integer({ min: start, max: start + 800 }).map((serial) => serial as Day);
const site = fc.record({ weekend: marks, holidays: fc.array(near, { maxLength: 60 }), date: near });

/** Steps from day to day with date-fns, asking the list of holidays each time. */
function naive(weekend: string, holidays: readonly Day[]): (date: Date) => boolean {
  return (date) => weekend[getISODay(date) - 1] === "0" && !holidays.includes(asDay(date) as Day);
}

describe("second implementation: stepping day by day with date-fns", () => {
  it("agrees on the working day on or before, in 20,000 cases", () => {
    const check = fc.property(site, ({ weekend, holidays, date }) => {
      const works = naive(weekend, holidays);
      let found: Date = asDate(date);
      while (!works(found)) found = subDays(found, 1);
      expect(core.rollBack(date, core.workCalendar(weekend, holidays))).toBe(asDay(found));
    });
    fc.assert(check, { numRuns: 20_000 });
  });
  it("agrees on working days later and earlier", () => {
    const check = fc.property(site, fc.integer({ min: -40, max: 40 }), (given, days) => {
      const { weekend, holidays, date } = given;
      const works = naive(weekend, holidays);
      let found: Date = asDate(date);
      for (let left = Math.abs(days); left > 0;) {
        found = addDays(found, Math.sign(days));
        if (works(found)) left -= 1;
      }
      const calendar = core.workCalendar(weekend, holidays);
      expect(core.workday(date, days, calendar)).toBe(asDay(found));
    });
    fc.assert(check, { numRuns: 2_000 });
  });
  it("agrees on working days between two days, either way round", () => {
    const check = fc.property(site, near, ({ weekend, holidays, date }, other) => {
      const works = naive(weekend, holidays);
      let count = 0;
      for (let at = Math.min(date, other); at <= Math.max(date, other); at += 1) {
        if (works(asDate(at))) count += 1;
      }
      const calendar = core.workCalendar(weekend, holidays);
      const wanted = date <= other ? count : 0 - count;
      expect(core.workdaysBetween(date, other, calendar) + 0).toBe(wanted + 0);
    });
    fc.assert(check, { numRuns: 1_000 });
  });
  it("agrees with date-fns on Saturdays and Sundays", () => {
    const calendar = core.workCalendar(null, []);
    for (let date = start; date < start + 800; date = (date + 1) as Day) {
      expect(core.isWorkday(date, calendar)).toBe(!isWeekend(asDate(date)));
    }
  });
});

describe("properties", () => {
  it("rolls back to a working day, not later, with none between", () => {
    const check = fc.property(site, ({ weekend, holidays, date }) => {
      const calendar = core.workCalendar(weekend, holidays);
      const found = core.rollBack(date, calendar);
      expect(core.isWorkday(found, calendar)).toBe(true);
      expect(found).toBeLessThanOrEqual(date);
      expect(core.workdaysBetween(found, date, calendar)).toBe(1);
      expect(core.workday((date + 1) as Day, -1, calendar)).toBe(found);
    });
    fc.assert(check);
  });
  it("does not mind holidays out of order, twice, or on a weekend", () => {
    const list = Object.freeze(["2026-05-15", "2026-05-14", "2026-05-15", "2026-05-16"].map(day));
    const calendar = core.workCalendar(1, list);
    expect(isoText(core.rollBack(day("2026-05-17"), calendar))).toBe("2026-05-13");
  });
  it("rolls back over twenty years of holidays", () => {
    const list = Array.from({ length: 7300 }, (_, index) => (start + index) as Day);
    const calendar = core.workCalendar("0000000", list);
    expect(core.rollBack((start + 7299) as Day, calendar)).toBe(start - 1);
  });
});

describe("bad input", () => {
  const refused = (call: () => unknown, message: string): void => {
    expect(call).toThrow(InputError);
    expect(call).toThrow(message);
  };
  it("refuses weekends that are none", () => {
    const wanted =
      "weekend must be 1 to 7, 11 to 17, or seven characters 0 and 1 from Monday with at least one 0";
    for (const weekend of [0, 8, 10, 18, 1.5, -1, NaN, Infinity]) {
      refused(() => core.workCalendar(weekend, []), `${wanted}, got ${weekend}`);
    }
    for (const weekend of ["1111111", "000011", "00000110", "0000012", "1"]) {
      refused(() => core.workCalendar(weekend, []), `${wanted}, got "${weekend}"`);
    }
  });
  it("refuses to roll back where every day before is a holiday", () => {
    const list = [FIRST_DAY, FIRST_DAY + 1, FIRST_DAY + 2].map((serial) => serial as Day);
    refused(
      () => core.rollBack((FIRST_DAY + 2) as Day, core.workCalendar("0000000", list)),
      "holidays must be a list that leaves a working day to go back to, got a range",
    );
  });
  it("refuses days that are not whole or lead out of the calendar", () => {
    const calendar = core.workCalendar(1, []);
    refused(() => core.workday(start, 1.5, calendar), "days must be a whole number, got 1.5");
    refused(
      () => core.workday(LAST_DAY, 1, calendar),
      "days must be few enough to stay within 1900-03-01 to 9999-12-31, got 1",
    );
    refused(
      () => core.workday(FIRST_DAY, -1, calendar),
      "days must be few enough to stay within 1900-03-01 to 9999-12-31, got -1",
    );
  });
});
