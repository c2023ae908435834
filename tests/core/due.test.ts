import { UTCDate } from "@date-fns/utc";
import * as dateFns from "date-fns";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type Day, day, isoText, LAST_DAY, weekday } from "../../src/core/day.ts";
import * as core from "../../src/core/due.ts";
import { InputError, NoAnswerError } from "../../src/core/errors.ts";
import { isWorkday, workCalendar } from "../../src/core/workday.ts";
import type { Published } from "./published.ts";

const plain = workCalendar(null, []);

const dues: readonly Published<readonly [string, number], string>[] = [
  {
    source:
      "Quarterly example of hospital accreditation guidance as quoted in 2015 (15 June 2015 is a Monday)",
    given: ["2015-03-15", 3],
    value: "2015-06-15",
  },
  {
    source:
      "End-of-month rule with roll-back, computed in R and Python: 31 August 2024 and 6 months",
    given: ["2024-08-31", 6],
    value: "2025-02-28",
  },
  {
    source:
      "End-of-month rule with roll-back, computed in R and Python: 18 months end on a Saturday",
    given: ["2024-08-31", 18],
    value: "2026-02-27",
  },
];

describe("published", () => {
  for (const { source, given, value } of dues) {
    it(source, () => {
      expect(isoText(core.nextDue(day(given[0]), given[1], plain))).toBe(value);
    });
  }
  it("Common practice, no published source: five findings end a part's life whatever the date", () => {
    const findings = ["residue", "corrosion", "crack", "hardened", "damage"];
    const more = ["Corroded pin", "CRACKED", "residues left", "damaged", "rim has hardened"];
    for (const finding of [...findings, ...more]) expect(core.endsLife(finding)).toBe(true);
    for (const finding of ["clean", "", "other", "hard to say"]) {
      expect(core.endsLife(finding)).toBe(false);
    }
  });
});

const MILLISECONDS = 86_400_000;
const asDate = (date: number): UTCDate => new UTCDate((date - 25569) * MILLISECONDS);
const asDay = (date: Date): Day => (date.getTime() / MILLISECONDS + 25569) as Day;
const start = day("2026-01-01");
const near = fc.integer({ min: start, max: start + 120 }).map((serial) => serial as Day);
const dates = fc.array(near, { maxLength: 60 });

describe("second implementation", () => {
  it("agrees with date-fns on due dates, in 20,000 cases", () => {
    const check = fc.property(near, fc.integer({ min: 1, max: 60 }), dates, (last, months, off) => {
      let due: Date = dateFns.addMonths(asDate(last), months);
      while (dateFns.isWeekend(due) || off.includes(asDay(due))) due = dateFns.subDays(due, 1);
      const wanted = Math.max(asDay(due), last + 1);
      expect(core.nextDue(last, months, workCalendar(1, off))).toBe(wanted);
    });
    fc.assert(check, { numRuns: 20_000 });
  });
  it("agrees with looking at every day left on when to inspect next", () => {
    const perWeek = fc.integer({ min: 1, max: 4 });
    const check = fc.property(dates, near, perWeek, dates, (done, today, wanted, off) => {
      const calendar = workCalendar(1, off);
      const sameWeek = (date: Day): boolean => dateFns.isSameISOWeek(asDate(date), asDate(today));
      const found = new Set(done.filter((date) => sameWeek(date) && date <= today)).size;
      const monday = asDay(dateFns.startOfISOWeek(asDate(today))) + (found >= wanted ? 7 : 0);
      const worked = [6, 5, 4, 3, 2, 1, 0]
        .map((n) => (monday + n) as Day)
        .filter((date) => isWorkday(date, calendar));
      const missing = found >= wanted ? wanted : wanted - found;
      const by = Math.max(worked[missing - 1] ?? monday, today);
      expect(core.checkBy(done, today, wanted, calendar)).toBe(by);
    });
    fc.assert(check, { numRuns: 5_000 });
  });
  it("agrees with date-fns on the share of whole weeks kept", () => {
    const perWeek = fc.integer({ min: 1, max: 4 });
    const check = fc.property(dates, near, near, perWeek, (done, one, other, wanted) => {
      const [from, to] = one <= other ? [one, other] : [other, one];
      let weeks = 0;
      let kept = 0;
      for (let at: number = from; at + 6 <= to; at += 1) {
        if (dateFns.getISODay(asDate(at)) !== 1) continue;
        weeks += 1;
        const days = [0, 1, 2, 3, 4, 5, 6].filter((n) => done.includes((at + n) as Day));
        if (days.length >= wanted) kept += 1;
      }
      if (weeks === 0) {
        expect(() => core.checkCompliance(done, { from, to }, wanted)).toThrow(NoAnswerError);
      } else {
        expect(core.checkCompliance(done, { from, to }, wanted)).toBe(kept / weeks);
      }
    });
    fc.assert(check, { numRuns: 5_000 });
  });
});

describe("properties", () => {
  it("puts the due date after the last date and never after the month's end reckoned from it", () => {
    const check = fc.property(near, fc.integer({ min: 1, max: 60 }), dates, (last, months, off) => {
      const due = core.nextDue(last, months, workCalendar(1, off));
      expect(due).toBeGreaterThan(last);
      expect(due).toBeLessThanOrEqual(last + 31 * months);
    });
    fc.assert(check);
  });
  it("gives the day after, where holidays reach back past the last date", () => {
    const off = Array.from({ length: 60 }, (_, n) => (start + n) as Day);
    expect(core.nextDue((start + 10) as Day, 1, workCalendar(1, off))).toBe(start + 11);
  });
  it("turns from not due to due soon to overdue as days pass, and never back", () => {
    const order = ["Not due", "Due soon", "Overdue"];
    const check = fc.property(near, near, fc.integer({ min: 0, max: 60 }), (due, today, notice) => {
      const now = order.indexOf(core.dueState(due, today, notice, null));
      const next = order.indexOf(core.dueState(due, (today + 1) as Day, notice, "clean"));
      expect(now).toBeGreaterThanOrEqual(0);
      expect(next).toBeGreaterThanOrEqual(now);
    });
    fc.assert(check);
  });
  it("is overdue only after the due date, and due soon on it", () => {
    expect(core.dueState(start, start, 0, null)).toBe("Due soon");
    expect(core.dueState(start, (start + 1) as Day, 0, null)).toBe("Overdue");
    expect(core.dueState(start, (start - 1) as Day, 0, null)).toBe("Not due");
  });
  it("is never silently fine without a date, and overdue at once after a bad finding", () => {
    expect(core.dueState(null, start, 14, "clean")).toBe("Check row");
    expect(core.dueState(null, start, 14, "crack")).toBe("Overdue");
    expect(core.dueState((start + 500) as Day, start, 14, "Corrosion")).toBe("Overdue");
  });
  it("does not take inspections dated after the report date for done", () => {
    const monday = day("2026-05-11");
    const later = Object.freeze([(monday + 1) as Day, (monday + 2) as Day]);
    expect(isoText(core.checkBy(later, monday, 2, plain))).toBe("2026-05-14");
  });
  it("asks for an inspection on the report date when the day is past", () => {
    const sunday = day("2026-05-17");
    expect(weekday(sunday)).toBe(7);
    expect(core.checkBy([], sunday, 2, plain)).toBe(sunday);
  });
});

describe("row checks", () => {
  const good = { lastDone: start, usesPerMonth: 120, shortest: 3, longest: 6 };
  const check = (change: Partial<core.RowCells>): core.RowCheck =>
    core.rowCheck({ ...good, ...change }, (start + 100) as Day);
  it("names each fault", () => {
    expect(check({})).toBe("OK");
    expect(check({ lastDone: null })).toBe("No date");
    expect(check({ lastDone: "" })).toBe("No date");
    expect(check({ lastDone: "1.5.26" })).toBe("Date is text");
    expect(check({ lastDone: start + 101 })).toBe("Date out of range");
    expect(check({ lastDone: start + 99 - core.OLDEST })).toBe("Date out of range");
    expect(check({ lastDone: NaN })).toBe("Date out of range");
    expect(check({ usesPerMonth: null })).toBe("Usage missing");
    expect(check({ usesPerMonth: "" })).toBe("Usage missing");
    expect(check({ usesPerMonth: "12,5" })).toBe("Usage is text");
    expect(check({ usesPerMonth: -1 })).toBe("Usage below zero");
    expect(check({ usesPerMonth: NaN })).toBe("Usage below zero");
    for (const bad of [null, "3", 0, NaN, 7]) {
      expect(check({ shortest: bad })).toBe("Limits missing or crossed");
    }
    for (const bad of [null, "6", 2, NaN]) {
      expect(check({ longest: bad })).toBe("Limits missing or crossed");
    }
  });
  it("takes both ends of the range, and a time of day on the report date", () => {
    expect(check({ lastDone: start + 100 })).toBe("OK");
    expect(check({ lastDone: start + 100.75 })).toBe("OK");
    expect(check({ lastDone: start + 100 - core.OLDEST })).toBe("OK");
    expect(core.OLDEST).toBe(day("2040-05-17") - day("2020-05-17"));
  });
  it("names date faults before usage faults, and these before limits", () => {
    const all = { lastDone: "x", usesPerMonth: "x", shortest: null, longest: null };
    expect(check(all)).toBe("Date is text");
    expect(check({ ...all, lastDone: start })).toBe("Usage is text");
    expect(check({ ...all, lastDone: start, usesPerMonth: 5 })).toBe("Limits missing or crossed");
  });
});

describe("bad input", () => {
  const refused = (call: () => unknown, message: string): void => {
    expect(call).toThrow(InputError);
    expect(call).toThrow(message);
  };
  it("refuses months that are not whole or below 1", () => {
    for (const months of [0, -3, 2.5, NaN, Infinity]) {
      const message = `months must be a whole number of at least 1, got ${months}`;
      refused(() => core.nextDue(start, months, plain), message);
    }
    refused(
      () => core.nextDue(LAST_DAY, 1, plain),
      "date must be a date from 1900-03-01 to 9999-12-31",
    );
  });
  it("refuses days of notice that are not whole or below zero", () => {
    for (const notice of [-1, 0.5, NaN]) {
      const message = `noticeDays must be a whole number of days, zero or more, got ${notice}`;
      refused(() => core.dueState(start, start, notice, null), message);
    }
  });
  it("refuses inspections a week outside 1 to 7", () => {
    for (const perWeek of [0, 8, 1.5, NaN]) {
      const message = `perWeek must be a whole number from 1 to 7, got ${perWeek}`;
      refused(() => core.checkBy([], start, perWeek, plain), message);
      refused(() => core.checkCompliance([], { from: start, to: LAST_DAY }, perWeek), message);
    }
  });
  it("refuses a period that runs backwards, and has no answer without a whole week", () => {
    refused(
      () => core.checkCompliance([], { from: start, to: (start - 1) as Day }, 2),
      'to must be on or after from (2026-01-01), got "2025-12-31"',
    );
    const short = (): number =>
      core.checkCompliance([], { from: day("2026-05-05"), to: day("2026-05-16") }, 2);
    expect(short).toThrow(NoAnswerError);
    expect(short).toThrow("needs a whole week from Monday to Sunday");
  });
  it("refuses to look past the end of the calendar", () => {
    refused(
      () => core.checkBy([], LAST_DAY, 2, plain),
      'reportDate must be some weeks before 9999-12-31, got "9999-12-31"',
    );
  });
});
