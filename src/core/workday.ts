import { countUpTo } from "./bisection.ts";
import { type Day, FIRST_DAY, isDay, weekday } from "./day.ts";
import { InputError } from "./errors.ts";

/**
 * Which days are worked. Working days are numbered from 1 on, so that every question below is a
 * number looked up: no stepping from day to day, however many holidays there are.
 */
export interface WorkCalendar {
  /** Working weekdays among the first n days of a week that starts on Monday, for n from 0 to 7. */
  readonly workedBefore: readonly number[];
  /** The weekday (0 for Monday) of the n-th working weekday of a week, n from 0. */
  readonly worked: readonly number[];
  /** Holidays that fall on a working weekday, in order, none twice. */
  readonly holidays: readonly Day[];
  /** Working days before each of them, since the first Monday. */
  readonly before: readonly number[];
  /** Holidays of which the day is not known: going back passes one more working day for each. */
  readonly unknown: number;
}

/** Serial number of the Monday the numbering starts at; it is before the first day there is. */
const FIRST_MONDAY = 2;

const WEEK = 7;

/**
 * The working days of a site: a weekend and a list of holidays.
 *
 * @param weekend Weekend as WORKDAY.INTL takes it: 1 (Saturday and Sunday) to 7 (Friday and
 *   Saturday), 11 (Sunday) to 17 (Saturday), or seven characters from Monday, 1 for a day off;
 *   null for 1.
 * @param holidays Days off besides the weekend, in any order.
 * @param unknown Further holidays of which nobody knows the day, whole, zero or more; wherever they fall,
 *   going back for each of them one working day more is never too late.
 * @returns The calendar.
 * @throws InputError if weekend is none of these, or leaves no day to work, or unknown is no such number.
 * @see ECMA-376 Part 1, SpreadsheetML function WORKDAY; Microsoft's reference for WORKDAY.INTL.
 * @example
 * isWorkday(day("2026-01-02"), workCalendar(7, [])) // => false
 * isWorkday(day("2026-01-02"), workCalendar("0000011", [])) // => true
 */
export function workCalendar(
  weekend: number | string | null,
  holidays: Iterable<Day>,
  unknown = 0,
): WorkCalendar {
  if (!Number.isInteger(unknown) || unknown < 0) {
    throw new InputError("unknown", "a whole number of holidays, zero or more", unknown);
  }
  const off = daysOff(weekend ?? 1);
  const workedBefore = [0];
  const worked: number[] = [];
  off.forEach((free, index) => {
    if (!free) worked.push(index);
    workedBefore.push(worked.length);
  });
  const kept = [...new Set(holidays)]
    .filter((date) => off[weekday(date) - 1] === false)
    .sort((a, b) => a - b);
  const before = kept.map((date, at) => weekdayRank(date, { worked, workedBefore }) - 1 - at);
  return { workedBefore, worked, holidays: kept, before, unknown };
}

// For each day of the week from Monday, whether it is off.
function daysOff(weekend: number | string): readonly boolean[] {
  if (typeof weekend === "string") {
    if (/^[01]{7}$/.test(weekend) && weekend.includes("0")) {
      return Array.from(weekend, (mark) => mark === "1");
    }
  } else if (Number.isInteger(weekend)) {
    // Code 1 starts on Saturday and each further code a day later; 11 is Sunday alone.
    if (weekend >= 1 && weekend <= 7) return weekOff((weekend + 4) % WEEK, (weekend + 5) % WEEK);
    if (weekend >= 11 && weekend <= 17) return weekOff((weekend - 5) % WEEK);
  }
  const requirement =
    "1 to 7, 11 to 17, or seven characters 0 and 1 from Monday with at least one 0";
  throw new InputError("weekend", requirement, weekend);
}

function weekOff(...indexes: readonly number[]): readonly boolean[] {
  return [0, 1, 2, 3, 4, 5, 6].map((index) => indexes.includes(index));
}

/**
 * Whether a day is worked.
 *
 * @param date The day.
 * @param calendar The working days.
 * @returns True for a working day.
 * @example
 * isWorkday(day("2026-01-02"), workCalendar(null, [])) // => true
 * isWorkday(day("2026-01-01"), workCalendar(null, [day("2026-01-01")])) // => false
 */
export function isWorkday(date: Day, calendar: WorkCalendar): boolean {
  return rank(date, calendar) > rank(date - 1, calendar);
}

/**
 * The latest working day on or before a day.
 *
 * @param date The day.
 * @param calendar The working days.
 * @returns The day itself if it is worked, else the last working day before it.
 * @throws InputError if there is none since 1900-03-01.
 * @example
 * rollBack(day("2026-05-17"), workCalendar(null, [])) // => day("2026-05-15")
 * rollBack(day("2026-05-15"), workCalendar(null, [day("2026-05-15")])) // => day("2026-05-14")
 * rollBack(day("2026-05-15"), workCalendar(null, [], 2)) // => day("2026-05-13")
 */
export function rollBack(date: Day, calendar: WorkCalendar): Day {
  const found = ranked(rank(date, calendar) - calendar.unknown, calendar);
  if (found >= FIRST_DAY) return found as Day;
  throw new InputError("holidays", "a list that leaves a working day to go back to", []);
}

/**
 * The working day some working days later or earlier, as WORKDAY.INTL counts.
 *
 * The start itself is not counted, and 0 days give the start even where it is not worked.
 *
 * @param start The day counted from.
 * @param days Working days, whole; negative for earlier.
 * @param calendar The working days.
 * @returns The day.
 * @throws InputError if days is not whole or leads out of the calendar of a worksheet.
 * @see ECMA-376 Part 1, SpreadsheetML function WORKDAY.
 * @example
 * workday(day("2026-05-15"), 1, workCalendar(null, [])) // => day("2026-05-18")
 * workday(day("2026-05-16"), -1, workCalendar(null, [])) // => day("2026-05-15")
 * workday(day("2026-05-16"), 0, workCalendar(null, [])) // => day("2026-05-16")
 */
export function workday(start: Day, days: number, calendar: WorkCalendar): Day {
  if (!Number.isInteger(days)) throw new InputError("days", "a whole number", days);
  if (days === 0) return start;
  const from = days > 0 ? rank(start, calendar) : rank(start - 1, calendar) + 1;
  const found = ranked(from + days - (days < 0 ? calendar.unknown : 0), calendar);
  if (isDay(found)) return found;
  throw new InputError("days", "few enough to stay within 1900-03-01 to 9999-12-31", days);
}

/**
 * Number of working days from one day to another, both counted, as NETWORKDAYS.INTL counts.
 *
 * @param from The one end.
 * @param to The other end; before `from` the count is negative.
 * @param calendar The working days.
 * @returns Working days.
 * @see ECMA-376 Part 1, SpreadsheetML function NETWORKDAYS.
 * @example
 * workdaysBetween(day("2014-01-15"), day("2014-06-30"), workCalendar(null, [])) // => 119
 */
export function workdaysBetween(from: Day, to: Day, calendar: WorkCalendar): number {
  return from <= to
    ? rank(to, calendar) - rank(from - 1, calendar)
    : rank(to - 1, calendar) - rank(from, calendar);
}

// Number of working days from the first Monday up to and including a serial.
function rank(serial: number, calendar: WorkCalendar): number {
  return weekdayRank(serial, calendar) - countUpTo(calendar.holidays, serial);
}

// The same without holidays.
function weekdayRank(
  serial: number,
  { worked, workedBefore }: Pick<WorkCalendar, "worked" | "workedBefore">,
): number {
  const since = serial - FIRST_MONDAY;
  const weeks = Math.floor(since / WEEK);
  return weeks * worked.length + (workedBefore[since - weeks * WEEK + 1] ?? 0);
}

// The serial of the working day with a number: each holiday before it puts it one weekday later.
function ranked(number: number, { worked, before }: WorkCalendar): number {
  const index = number - 1 + countUpTo(before, number - 1);
  const weeks = Math.floor(index / worked.length);
  return FIRST_MONDAY + weeks * WEEK + (worked[index - weeks * worked.length] ?? 0);
}
