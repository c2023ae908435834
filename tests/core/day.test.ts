import { UTCDate } from "@date-fns/utc";
import * as dateFns from "date-fns";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import * as core from "../../src/core/day.ts";
import { type Day, day, isoText } from "../../src/core/day.ts";
import { InputError } from "../../src/core/errors.ts";
import type { Published } from "./published.ts";

const added: readonly Published<readonly [string, number], string>[] = [
  ["TC39 proposal Temporal, docs/plaindate.md, add", "2019-01-31", 1, "2019-02-28"],
  [
    "TC39 proposal Temporal, docs/plaindate.md, add years and months",
    "2006-08-24",
    244,
    "2026-12-24",
  ],
  ["TC39 proposal Temporal, docs/plaindate.md, subtract", "2019-03-31", -1, "2019-02-28"],
  ["python-dateutil, docs/relativedelta.rst, one month", "2003-01-31", 1, "2003-02-28"],
  ["python-dateutil, docs/relativedelta.rst, two months", "2003-01-31", 2, "2003-03-31"],
  ["python-dateutil, docs/relativedelta.rst, a month back", "2003-05-31", -1, "2003-04-30"],
  [
    "python-dateutil, docs/relativedelta.rst, a year from a leap day",
    "2000-02-29",
    12,
    "2001-02-28",
  ],
  ["lubridate, tests/testthat/test-ops-addition.R, one month", "2010-01-31", 1, "2010-02-28"],
  ["lubridate, tests/testthat/test-ops-addition.R, two months", "2010-01-31", 2, "2010-03-31"],
  ["lubridate, tests/testthat/test-ops-addition.R, three months", "2010-01-31", 3, "2010-04-30"],
  ["lubridate, tests/testthat/test-ops-addition.R, leap day", "2012-02-29", 13, "2013-03-29"],
  ["W3C XML Schema Part 2, appendix E.2, month after a day added", "2000-03-31", 1, "2000-04-30"],
  ["W3C XML Schema Part 2, appendix E.2, month before a day added", "2000-03-30", 1, "2000-04-30"],
  [
    "W3C XML Schema Part 2, appendix E, rule of the month's end, August",
    "2023-08-31",
    6,
    "2024-02-29",
  ],
  [
    "W3C XML Schema Part 2, appendix E, rule of the month's end, November",
    "2023-11-30",
    3,
    "2024-02-29",
  ],
  [
    "W3C XML Schema Part 2, appendix E, rule of the month's end, leap day",
    "2024-02-29",
    12,
    "2025-02-28",
  ],
  [
    "A hospital accreditation body's quarterly example as quoted in 2015",
    "2015-03-15",
    3,
    "2015-06-15",
  ],
].map(([source, date, months, value]) => ({
  source: String(source),
  given: [String(date), Number(months)],
  value: String(value),
}));

const edate1904: readonly Published<readonly [string, number]>[] = [
  { source: "ECMA-376 Part 4, EDATE, first example", given: ["2006-01-31", 5], value: 37436 },
  { source: "ECMA-376 Part 4, EDATE, second example", given: ["2004-02-29", 12], value: 36949 },
  { source: "ECMA-376 Part 4, EDATE, third example", given: ["2004-02-28", 12], value: 36949 },
  { source: "ECMA-376 Part 4, EDATE, fourth example", given: ["2004-01-15", -23], value: 35840 },
];

const weeks: readonly Published<string, readonly [number, number, number]>[] = [
  {
    source: "ISO 8601-1:2019 week date (from memory), 2008-12-29",
    given: "2008-12-29",
    value: [2009, 1, 1],
  },
  {
    source: "ISO 8601-1:2019 week date (from memory), 2010-01-03",
    given: "2010-01-03",
    value: [2009, 53, 7],
  },
  {
    source: "ISO 8601 rule, computed in Python, 2021-01-03",
    given: "2021-01-03",
    value: [2020, 53, 7],
  },
  {
    source: "ISO 8601 rule, computed in Python, 2024-12-30",
    given: "2024-12-30",
    value: [2025, 1, 1],
  },
  {
    source: "ISO 8601 rule, computed in Python, 2027-01-01",
    given: "2027-01-01",
    value: [2026, 53, 5],
  },
];

const real: readonly Published<readonly [number, number, number], boolean>[] = [
  { source: "GS1 syntax dictionary tests, yymmdd 210229", given: [2021, 2, 29], value: false },
  { source: "GS1 syntax dictionary tests, yymmdd 240229", given: [2024, 2, 29], value: true },
  { source: "GS1 syntax dictionary tests, yymmdd 200431", given: [2020, 4, 31], value: false },
  { source: "GS1 syntax dictionary tests, yymmdd 201310", given: [2020, 13, 10], value: false },
];

describe("published", () => {
  for (const { source, given, value } of added) {
    it(`adds months: ${source}`, () => {
      expect(isoText(core.addMonths(day(given[0]), given[1]))).toBe(value);
    });
  }
  for (const { source, given, value } of edate1904) {
    it(`counts days in a 1904 workbook: ${source}`, () => {
      expect(core.toSerial(core.addMonths(day(given[0]), given[1]), 1904)).toBe(value);
    });
  }
  for (const { source, given, value } of weeks) {
    it(`gives year, week and weekday: ${source}`, () => {
      const { year, week } = core.isoWeek(day(given));
      expect([year, week, core.weekday(day(given))]).toEqual(value);
    });
  }
  for (const { source, given, value } of real) {
    it(`tells dates that exist: ${source}`, () => {
      expect(core.civilDayOrNull(...given) !== null).toBe(value);
    });
  }
  it("Microsoft Excel 2013 Inside Out, chapter 15, EDATE and EOMONTH in the 1900 system", () => {
    expect(core.addMonths(day("2014-06-12"), 23)).toBe(42502);
    expect(core.monthStart(core.addMonths(day("2014-06-12"), 24)) - 1).toBe(42521);
  });
  it("TC39 proposal Temporal, docs/plaindate.md, until: days between two dates", () => {
    expect(day("2019-01-31") - day("2006-08-24")).toBe(4543);
  });
  it("Microsoft Knowledge Base Q214330: 5 July 1998 in both date systems, 1462 days apart", () => {
    expect(core.toSerial(day("1998-07-05"), 1900)).toBe(35981);
    expect(core.toSerial(day("1998-07-05"), 1904)).toBe(34519);
    expect(core.DATE_SYSTEM_SHIFT).toBe(1462);
  });
  it("21 CFR 801.18: 2 January 2014 is written 2014-01-02", () => {
    expect(isoText(core.civilDay(2014, 1, 2))).toBe("2014-01-02");
  });
  it("W3C XML Schema Part 2, appendix E.2: adding a day and a month depends on their order", () => {
    // The copy at hand prints 2001 for the first, a misprint.
    const start = day("2000-03-30");
    expect(isoText(core.addMonths((start + 1) as Day, 1))).toBe("2000-04-30");
    expect(isoText((core.addMonths(start, 1) + 1) as Day)).toBe("2000-05-01");
  });
  it("End-of-month rule, computed: months are added from the anchor, never chained", () => {
    const start = day("2026-01-31");
    expect(isoText(core.addMonths(core.addMonths(start, 1), 1))).toBe("2026-03-28");
    expect(isoText(core.addMonths(start, 2))).toBe("2026-03-31");
  });
  it("Computed, lubridate and dateutil agree: due dates every six months from 31 August 2024", () => {
    const dues = [6, 12, 18, 24].map((months) =>
      isoText(core.addMonths(day("2024-08-31"), months)),
    );
    expect(dues).toEqual(["2025-02-28", "2025-08-31", "2026-02-28", "2026-08-31"]);
  });
  it("Computed: 132 dates of a year are another date when day and month are swapped", () => {
    let swapped = 0;
    for (let date: number = day("2026-01-01"); date <= day("2026-12-31"); date += 1) {
      const { month, dayOfMonth } = core.civilDate(date as Day);
      const other = core.civilDayOrNull(2026, dayOfMonth, month);
      if (other !== null && other !== date) swapped += 1;
    }
    expect(swapped).toBe(132);
  });
});

const anyDay = fc.integer({ min: core.FIRST_DAY, max: core.LAST_DAY }).map((n) => n as Day);
const MILLISECONDS = 86_400_000;
const asDate = (date: Day): UTCDate => new UTCDate((date - 25569) * MILLISECONDS);
const asDay = (date: Date): number => date.getTime() / MILLISECONDS + 25569;
const often = { numRuns: 20_000 };

describe("second implementation: date-fns on UTC dates", () => {
  it("agrees on year, month, day of the month, weekday and ISO week of 20,000 days", () => {
    const check = fc.property(anyDay, (date) => {
      const other = asDate(date);
      const { year, month, dayOfMonth } = core.civilDate(date);
      const { year: isoYear, week } = core.isoWeek(date);
      expect([year, month, dayOfMonth, core.weekday(date), isoYear, week]).toEqual([
        dateFns.getYear(other),
        dateFns.getMonth(other) + 1,
        dateFns.getDate(other),
        dateFns.getISODay(other),
        dateFns.getISOWeekYear(other),
        dateFns.getISOWeek(other),
      ]);
    });
    fc.assert(check, often);
  });
  it("agrees on months added, in 20,000 cases", () => {
    const inside = fc.integer({ min: day("1910-01-01"), max: day("9980-01-01") });
    const check = fc.property(inside, fc.integer({ min: -100, max: 200 }), (serial, months) => {
      const date = core.toDay(serial);
      expect(core.addMonths(date, months)).toBe(asDay(dateFns.addMonths(asDate(date), months)));
    });
    fc.assert(check, often);
  });
  it("agrees on starts of months and weeks and on ISO text, for 20,000 days", () => {
    const check = fc.property(anyDay, (date) => {
      const other = asDate(date);
      expect(core.monthStart(date)).toBe(asDay(dateFns.startOfMonth(other)));
      expect(core.weekStart(date)).toBe(asDay(dateFns.startOfISOWeek(other)));
      expect(isoText(date)).toBe(other.toISOString().slice(0, 10));
      const { year, month } = core.civilDate(date);
      expect(core.daysInMonth(year, month)).toBe(dateFns.getDaysInMonth(other));
    });
    fc.assert(check, often);
  });
});

describe("properties", () => {
  it("takes a day apart and puts it together again", () => {
    const check = fc.property(anyDay, (date) => {
      const { year, month, dayOfMonth } = core.civilDate(date);
      expect(core.civilDay(year, month, dayOfMonth)).toBe(date);
      expect(day(isoText(date))).toBe(date);
      expect(core.fromSerial(core.toSerial(date, 1904), 1904)).toBe(date);
    });
    fc.assert(check);
  });
  it("moves by 28 to 31 days a month", () => {
    const inside = fc.integer({ min: core.FIRST_DAY, max: core.LAST_DAY - 400 });
    const check = fc.property(inside, fc.integer({ min: 0, max: 11 }), (serial, months) => {
      const date = core.toDay(serial);
      const step = core.addMonths(date, months + 1) - core.addMonths(date, months);
      expect(step).toBeGreaterThanOrEqual(28);
      expect(step).toBeLessThanOrEqual(31);
    });
    fc.assert(check);
  });
});

describe("bad input", () => {
  const refused = (call: () => unknown, message: string): void => {
    expect(call).toThrow(InputError);
    expect(call).toThrow(message);
  };
  it("refuses dates that do not exist or that a worksheet cannot show", () => {
    const wanted = "date must be a date from 1900-03-01 to 9999-12-31, got";
    refused(() => core.civilDay(2023, 2, 29), `${wanted} "2023-2-29"`);
    refused(() => core.civilDay(1900, 2, 28), `${wanted} "1900-2-28"`);
    refused(() => core.civilDay(2023, 1.5, 1), `${wanted} "2023-1.5-1"`);
    refused(() => core.addMonths(day("9999-12-01"), 1), `${wanted} "10000-1-1"`);
  });
  it("refuses text that is no ISO date", () => {
    refused(() => day("1.5.2026"), 'date must be a date as yyyy-mm-dd, got "1.5.2026"');
    refused(() => day(""), "date must be a date as yyyy-mm-dd, got a blank cell");
    refused(() => day("2023-02-29"), 'date must be a date as yyyy-mm-dd, got "2023-02-29"');
  });
  it("refuses numbers that are no day, naming the argument", () => {
    for (const serial of [0, 60, 2958466, 45000.5, NaN, Infinity]) {
      const message = `due must be a date (a whole number from 61), got ${serial}`;
      refused(() => core.toDay(serial, "due"), message);
    }
  });
  it("refuses months that are not whole", () => {
    refused(() => core.addMonths(day("2026-01-31"), 0.5), "months must be a whole number, got 0.5");
  });
  it("reads serial numbers of both systems with care", () => {
    expect(core.fromSerial(45322.75, 1900)).toBe(day("2024-01-31"));
    expect(core.fromSerial(60, 1900)).toBeNull();
    expect(core.fromSerial(-1461, 1904)).toBeNull();
    expect(core.fromSerial(NaN, 1900)).toBeNull();
  });
});
