import { InputError } from "./errors.ts";

declare const dayBrand: unique symbol;

/**
 * A calendar day as a whole number: the serial number a workbook of the 1900 date system shows
 * for it (1 March 1900 is 61). One count for everything; 1904 workbooks are shifted at the edge.
 */
export type Day = number & { readonly [dayBrand]: true };

/** How a workbook numbers its days. */
export type DateSystem = 1900 | 1904;

/** First serial the 1900 system numbers rightly (1900-03-01); it counts a 29 February 1900 that never was. */
export const FIRST_DAY = 61 as Day;

/** Last day a worksheet can show, 9999-12-31. */
export const LAST_DAY = 2958465 as Day;

/** Days between the same date's serials in a 1900 and a 1904 workbook. Source: Microsoft KB Q214330. */
export const DATE_SYSTEM_SHIFT = 1462;

/** Serial of 1970-01-01, where the civil calendar arithmetic below counts from. */
const UNIX_EPOCH = 25569;

const DAYS_PER_ERA = 146097;
const MONTHS_PER_YEAR = 12;

/** A day taken apart. */
export interface CivilDate {
  readonly year: number;
  readonly month: number;
  readonly dayOfMonth: number;
}

/**
 * Number of days in a month of the Gregorian calendar.
 *
 * @param year Calendar year.
 * @param month Month, 1 to 12.
 * @returns Days, 28 to 31.
 * @example
 * daysInMonth(2024, 2) // => 29
 */
export function daysInMonth(year: number, month: number): number {
  if (month === 2) return year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0) ? 29 : 28;
  return month === 4 || month === 6 || month === 9 || month === 11 ? 30 : 31;
}

/**
 * The day of a calendar date that exists.
 *
 * @param year Calendar year, 1900 to 9999.
 * @param month Month, 1 to 12.
 * @param dayOfMonth Day of the month, 1 to its last.
 * @returns The day.
 * @throws InputError if no such date exists or a worksheet cannot show it.
 * @example
 * civilDay(2024, 2, 29) // => day("2024-02-29")
 */
export function civilDay(year: number, month: number, dayOfMonth: number): Day {
  const found = civilDayOrNull(year, month, dayOfMonth);
  if (found === null) {
    throw new InputError(
      "date",
      "a date from 1900-03-01 to 9999-12-31",
      `${year}-${month}-${dayOfMonth}`,
    );
  }
  return found;
}

/**
 * The day of a calendar date, or null if no such date exists. For readers of people's text.
 *
 * @param year Calendar year.
 * @param month Month.
 * @param dayOfMonth Day of the month.
 * @returns The day, or null.
 * @example
 * civilDayOrNull(2023, 2, 29) // => null
 */
export function civilDayOrNull(year: number, month: number, dayOfMonth: number): Day | null {
  if (!Number.isInteger(year) || !Number.isInteger(month) || !Number.isInteger(dayOfMonth))
    return null;
  if (year < 1900 || year > 9999 || month < 1 || month > MONTHS_PER_YEAR) return null;
  if (dayOfMonth < 1 || dayOfMonth > daysInMonth(year, month)) return null;
  const found = serialOf(year, month, dayOfMonth);
  return found < FIRST_DAY ? null : found;
}

// Days since 1970 by counting years from March, so that the leap day comes last.
function serialOf(year: number, month: number, dayOfMonth: number): Day {
  const marchYear = month <= 2 ? year - 1 : year;
  const era = Math.floor(marchYear / 400);
  const yearOfEra = marchYear - era * 400;
  const dayOfYear = Math.floor((153 * (month + (month > 2 ? -3 : 9)) + 2) / 5) + dayOfMonth - 1;
  const dayOfEra =
    yearOfEra * 365 + Math.floor(yearOfEra / 4) - Math.floor(yearOfEra / 100) + dayOfYear;
  return (era * DAYS_PER_ERA + dayOfEra - 719468 + UNIX_EPOCH) as Day;
}

/**
 * The day written as an ISO 8601 date.
 *
 * @param text A date as yyyy-mm-dd.
 * @returns The day.
 * @throws InputError if the text is not such a date.
 * @example
 * day("1998-07-05") // => 35981
 */
export function day(text: string): Day {
  const match = /^(\d{4})-(\d{2})-(\d{2})$/.exec(text);
  const found = match && civilDayOrNull(Number(match[1]), Number(match[2]), Number(match[3]));
  if (found === null) throw new InputError("date", "a date as yyyy-mm-dd", text);
  return found;
}

/**
 * A number taken as a day: it must be a whole serial that a worksheet can show as a date.
 *
 * @param serial Serial number of the 1900 system, 61 to 2958465.
 * @param argument What the caller calls it, for the message.
 * @returns The day.
 * @throws InputError if it is not such a number.
 * @example
 * toDay(45322) // => day("2024-01-31")
 */
export function toDay(serial: number, argument = "date"): Day {
  if (!isDay(serial)) throw new InputError(argument, "a date (a whole number from 61)", serial);
  return serial;
}

/**
 * Whether a number is a day a worksheet can show.
 *
 * @param serial Any number.
 * @returns True for whole numbers from 61 to 2958465.
 * @example
 * isDay(60) // => false
 */
export function isDay(serial: number): serial is Day {
  return Number.isInteger(serial) && serial >= FIRST_DAY && serial <= LAST_DAY;
}

/**
 * The day behind a serial number as a workbook stores it; a time of day is dropped.
 *
 * @param serial The number in the cell.
 * @param system The workbook's date system.
 * @returns The day, or null if the number is no day from 1900-03-01 to 9999-12-31.
 * @example
 * fromSerial(34519, 1904) // => day("1998-07-05")
 */
export function fromSerial(serial: number, system: DateSystem): Day | null {
  const whole = Math.floor(serial) + (system === 1904 ? DATE_SYSTEM_SHIFT : 0);
  return isDay(whole) ? whole : null;
}

/**
 * The serial number a workbook stores for a day.
 *
 * @param date The day.
 * @param system The workbook's date system.
 * @returns The serial number.
 * @example
 * toSerial(day("1998-07-05"), 1904) // => 34519
 */
export function toSerial(date: Day, system: DateSystem): number {
  return system === 1904 ? date - DATE_SYSTEM_SHIFT : date;
}

/**
 * Year, month and day of the month of a day.
 *
 * @param date The day.
 * @returns The calendar date.
 * @example
 * civilDate(day("2024-02-29")) // => { year: 2024, month: 2, dayOfMonth: 29 }
 */
export function civilDate(date: Day): CivilDate {
  const shifted = date - UNIX_EPOCH + 719468;
  const era = Math.floor(shifted / DAYS_PER_ERA);
  const dayOfEra = shifted - era * DAYS_PER_ERA;
  const yearOfEra = Math.floor(
    (dayOfEra -
      Math.floor(dayOfEra / 1460) +
      Math.floor(dayOfEra / 36524) -
      Math.floor(dayOfEra / 146096)) /
      365,
  );
  const dayOfYear =
    dayOfEra - (365 * yearOfEra + Math.floor(yearOfEra / 4) - Math.floor(yearOfEra / 100));
  const marchMonth = Math.floor((5 * dayOfYear + 2) / 153);
  const month = marchMonth < 10 ? marchMonth + 3 : marchMonth - 9;
  return {
    year: yearOfEra + era * 400 + (month <= 2 ? 1 : 0),
    month,
    dayOfMonth: dayOfYear - Math.floor((153 * marchMonth + 2) / 5) + 1,
  };
}

/**
 * A day as ISO 8601 text.
 *
 * @param date The day.
 * @returns Text as yyyy-mm-dd.
 * @example
 * isoText(day("2024-02-29")) // => "2024-02-29"
 */
export function isoText(date: Day): string {
  const { year, month, dayOfMonth } = civilDate(date);
  return `${year}-${String(month).padStart(2, "0")}-${String(dayOfMonth).padStart(2, "0")}`;
}

/**
 * The same day of the month some months later, or the month's last day where it is shorter.
 *
 * Always add from the anchor: adding one month twice can lose days that adding two keeps.
 *
 * @param date The anchor.
 * @param months Whole months, negative for earlier.
 * @returns The day.
 * @throws InputError if months is not whole or the result leaves the calendar of a worksheet.
 * @see ECMA-376 Part 1, SpreadsheetML function EDATE.
 * @example
 * addMonths(day("2024-01-31"), 1) // => day("2024-02-29")
 */
export function addMonths(date: Day, months: number): Day {
  if (!Number.isInteger(months)) throw new InputError("months", "a whole number", months);
  const { year, month, dayOfMonth } = civilDate(date);
  const count = year * MONTHS_PER_YEAR + month - 1 + months;
  const targetYear = Math.floor(count / MONTHS_PER_YEAR);
  const targetMonth = count - targetYear * MONTHS_PER_YEAR + 1;
  return civilDay(
    targetYear,
    targetMonth,
    Math.min(dayOfMonth, daysInMonth(targetYear, targetMonth)),
  );
}

/**
 * The first day of the day's month.
 *
 * @param date The day.
 * @returns The first of the month.
 * @example
 * monthStart(day("2026-05-17")) // => day("2026-05-01")
 */
export function monthStart(date: Day): Day {
  return (date - civilDate(date).dayOfMonth + 1) as Day;
}

/**
 * Day of the week, Monday first.
 *
 * @param date The day.
 * @returns 1 for Monday to 7 for Sunday (ISO 8601).
 * @example
 * weekday(day("2010-01-03")) // => 7
 */
export function weekday(date: Day): number {
  return ((date + 5) % 7) + 1;
}

/**
 * The Monday of the day's ISO week.
 *
 * @param date The day.
 * @returns The Monday on or before it.
 * @example
 * weekStart(day("2010-01-03")) // => day("2009-12-28")
 */
export function weekStart(date: Day): Day {
  return (date - weekday(date) + 1) as Day;
}

/**
 * ISO week of a day: weeks start on Monday and belong to the year of their Thursday.
 *
 * @param date The day.
 * @returns The ISO year and the week's number, 1 to 53.
 * @see ISO 8601-1:2019, week date.
 * @example
 * isoWeek(day("2021-01-03")) // => { year: 2020, week: 53 }
 */
export function isoWeek(date: Day): { readonly year: number; readonly week: number } {
  const thursday = (weekStart(date) + 3) as Day;
  const { year } = civilDate(thursday);
  const firstThursdayWeek = weekStart(serialOf(year, 1, 4));
  return { year, week: (weekStart(date) - firstThursdayWeek) / 7 + 1 };
}
