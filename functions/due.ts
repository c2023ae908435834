import { day, toDay } from "../src/core/day.ts";
import { checkBy, checkCompliance, dueState, nextDue, rowCheck } from "../src/core/due.ts";
import { workCalendar } from "../src/core/workday.ts";
import { define, defineRow } from "./define.ts";

const weekend = {
  kind: "weekend",
  about:
    "Weekend code as in WORKDAY.INTL: 1 (Saturday and Sunday, the default) to 17, or seven characters 0 and 1 from Monday.",
  optional: true,
  default: 1,
} as const;

const holidays = {
  kind: "date",
  about: "Range of non-working dates; blanks are skipped.",
  takes: "range",
  optional: true,
} as const;

const reportDate = {
  kind: "date",
  about: "The day to judge as of, one cell for the whole workbook.",
} as const;

const checkDates = {
  kind: "date",
  about: "Dates of inspections, in any order; blanks are skipped.",
  takes: "range",
} as const;

const perWeek = {
  kind: "whole",
  about: "Distinct inspection days due in an ISO week, 1 to 7, default 2.",
  least: 1,
  most: 7,
  optional: true,
  default: 2,
} as const;

/** The due date of a part. */
export const NEXTDUE = defineRow({
  id: "NEXTDUE",
  about:
    "Due date: the latest working day on or before lastDone plus months, capped at the month's last day; never on or before lastDone. A date as a serial number.",
  args: {
    lastDone: { kind: "date", about: "Date last replaced or done.", takes: "row" },
    months: {
      kind: "whole",
      about: "Whole months between replacements, 1 to 1200.",
      least: 1,
      most: 1200,
      takes: "row",
    },
    weekend,
    holidays,
  },
  gives: { kind: "date", about: "The due date." },
  see: "ECMA-376 Part 1, functions EDATE and WORKDAY, for adding months and going back.",
  examples: [
    { cells: [day("2026-02-17"), 3], gives: day("2026-05-15") },
    { cells: [day("2026-02-17"), 3, 1, [day("2026-05-15")]], gives: day("2026-05-14") },
    { cells: [day("2024-08-31"), 6], gives: day("2025-02-28") },
    { cells: [[day("2026-01-31"), null], 1], gives: [[day("2026-02-27")], [""]] },
  ],
  run: ({ weekend, holidays }) => {
    const calendar = workCalendar(weekend, holidays);
    return ({ lastDone, months }) => nextDue(lastDone, months, calendar);
  },
});

/** The state of a due date. */
export const DUESTATE = defineRow({
  id: "DUESTATE",
  about:
    "Overdue, Due soon, Not due or Check row. A finding containing residue, corro, crack, harden or damage is Overdue whatever the date; a due date that is blank or text is Check row.",
  args: {
    due: { kind: "date", about: "The due date.", takes: "row", raw: true },
    reportDate,
    noticeDays: {
      kind: "number",
      about: "Days before the due date from which it is due soon, up to 3660, default 14.",
      least: 0,
      most: 3660,
      optional: true,
      default: 14,
    },
    finding: {
      kind: "text",
      about: "What the last inspection found, in words.",
      takes: "row",
      optional: true,
    },
  },
  gives: { kind: "text", about: "Overdue, Due soon, Not due or Check row." },
  see: "Common practice, no published source: damage, corrosion or residue that stays ends use now.",
  examples: [
    { cells: [day("2026-05-15"), day("2026-05-16")], gives: "Overdue" },
    { cells: [day("2026-05-15"), day("2026-05-01")], gives: "Due soon" },
    { cells: [day("2026-08-14"), day("2026-05-01")], gives: "Not due" },
    { cells: [day("2026-08-14"), day("2026-05-01"), 14, "cracked rim"], gives: "Overdue" },
    { cells: ["soon", day("2026-05-01")], gives: "Check row" },
  ],
  run:
    ({ reportDate, noticeDays }) =>
    ({ due, finding }) => {
      const date = typeof due === "number" ? toDay(Math.floor(due), "due") : null;
      // Dates are whole days: a part of a day's notice makes no difference.
      return dueState(date, reportDate, Math.floor(noticeDays), finding);
    },
});

/** When the next inspection is due. */
export const CHECKBY = define({
  id: "CHECKBY",
  about:
    "Latest working day for the next inspection if the current ISO week is still to reach perWeek distinct days; once it has, the same for next week. A day already past gives reportDate.",
  args: { checkDates, reportDate, perWeek, weekend, holidays },
  gives: { kind: "date", about: "The day, not before reportDate." },
  see: "ISO 8601 weeks; two inspections a week are common practice, no published source.",
  examples: [
    { cells: [[day("2026-05-11")], day("2026-05-12")], gives: day("2026-05-15") },
    { cells: [[], day("2026-05-12")], gives: day("2026-05-14") },
    {
      cells: [[day("2026-05-11"), day("2026-05-12")], day("2026-05-12")],
      gives: day("2026-05-21"),
    },
  ],
  run: ({ checkDates, reportDate, perWeek, weekend, holidays }) =>
    checkBy(checkDates, reportDate, perWeek, workCalendar(weekend, holidays)),
});

/** Whether inspections were kept. */
export const CHECKSKEPT = define({
  id: "CHECKSKEPT",
  about:
    "Share (0 to 1) of the whole ISO weeks within from..to with at least perWeek distinct inspection days; #N/A when there is no whole week within them.",
  args: {
    checkDates,
    from: { kind: "date", about: "First day of the period." },
    to: { kind: "date", about: "Last day of the period, included." },
    perWeek,
  },
  gives: { kind: "share", about: "Share of the weeks, 0 to 1." },
  see: "ISO 8601 weeks; two inspections a week are common practice, no published source.",
  examples: [
    {
      cells: [
        [day("2026-05-04"), day("2026-05-07"), day("2026-05-12")],
        day("2026-05-01"),
        day("2026-05-17"),
      ],
      gives: 0.5,
    },
    {
      cells: [[day("2026-05-04")], day("2026-05-05"), day("2026-05-16")],
      gives: { error: "#N/A", message: "needs a whole week from Monday to Sunday" },
    },
  ],
  run: ({ checkDates, from, to, perWeek }) => checkCompliance(checkDates, { from, to }, perWeek),
});

/** What is wrong with a row. */
export const ROWCHECK = defineRow({
  id: "ROWCHECK",
  about:
    "OK, or what is wrong with the row: No date, Date is text, Date out of range, Usage missing, Usage is text, Usage below zero, Limits missing or crossed; the first that applies.",
  args: {
    lastDone: {
      kind: "date",
      about: "Date last replaced or done; out of range after reportDate or 20 years before it.",
      takes: "row",
      raw: true,
      zero: "blank",
    },
    usesPerMonth: {
      kind: "number",
      about: "Uses of the part a month; zero counts as missing.",
      takes: "row",
      raw: true,
      zero: "blank",
    },
    shortest: {
      kind: "number",
      about: "Months under heavy use, at least 1.",
      takes: "row",
      raw: true,
    },
    longest: {
      kind: "number",
      about: "Months under light use, not below shortest.",
      takes: "row",
      raw: true,
    },
    reportDate,
  },
  gives: { kind: "text", about: "OK or one fault, dates before usage." },
  see: "Our own rule.",
  examples: [
    { cells: [day("2026-05-01"), 120, 3, 6, day("2026-05-17")], gives: "OK" },
    { cells: [null, 120, 3, 6, day("2026-05-17")], gives: "No date" },
    { cells: ["1.5.26", 120, 3, 6, day("2026-05-17")], gives: "Date is text" },
    { cells: [day("2026-05-01"), null, 3, 6, day("2026-05-17")], gives: "Usage missing" },
    {
      cells: [day("2026-05-01"), 120, 6, 3, day("2026-05-17")],
      gives: "Limits missing or crossed",
    },
  ],
  run:
    ({ reportDate }) =>
    (row) =>
      rowCheck(row, reportDate),
});
