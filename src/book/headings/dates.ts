import { LANGUAGES } from "../languages/index.ts";
import { folded } from "../languages/words-of.ts";
import { civilDate, civilDayOrNull, type Day, daysInMonth, weekday } from "../../core/day.ts";

/** What a text says about a date, before the order of day and month is known. */
export type DateText =
  | { readonly kind: "day"; readonly date: Day }
  /** Two numbers that may be day and month; null where that order gives no date that exists. */
  | {
      readonly kind: "numbers";
      readonly dmy: Day | null;
      readonly mdy: Day | null;
      /** The day with the year first, as in "26-09-12", where a year of our time stands there; else null. */
      readonly ymd: Day | null;
    }
  /** A month without a day. */
  | { readonly kind: "month"; readonly first: Day; readonly last: Day };

/** Two-digit years: 69 to 99 are 1969 to 1999, 00 to 68 are 2000 to 2068 (POSIX.1, strptime %y). */
const FIRST_OF_CENTURY = 69;

const MONTHS = [
  "january",
  "february",
  "march",
  "april",
  "may",
  "june",
  "july",
  "august",
  "september",
  "october",
  "november",
  "december",
];
const MONTH_NUMBERS: ReadonlyMap<string, number> = new Map([
  ...MONTHS.map((name, at): [string, number] => [name, at + 1]),
  ...MONTHS.map((name, at): [string, number] => [name.slice(0, 3), at + 1]),
  ["sept", 9],
]);
/** Names of months in the other languages. */
const FOREIGN_MONTHS: ReadonlyMap<string, number> = new Map(
  LANGUAGES.flatMap(({ months }) =>
    months.flatMap((names, at) => names.map((name): [string, number] => [folded(name), at + 1])),
  ),
);
/** "5 de marzo de 2026", "5 d'août 2026": what stands between day, month and year. */
const BETWEEN = /\s+(?:de\s+|del\s+|d['’])/g;

const TIME =
  /[t ]\s*\d{1,2}:\d{2}(?::\d{2}(?:\.\d+)?)?\s*(?:[ap]\.?m\.?)?\s*(?:z|[+-]\d{2}:?\d{2})?$/;
/** "12 maja 2026 r.", "12.03.2026 r.": Polish writes that the number is a year. */
const POLISH_YEAR = /(?<=\d{4})\s*r\.?$/;
const WEEKDAY = /^(?:mon|tues?|wed(?:nes)?|thu(?:rs?)?|fri|sat(?:ur)?|sun)(?:day)?\.?,?\s+/;
const YEAR_FIRST = /^(\d{4})([-/.])(\d{1,2})\2(\d{1,2})$/;
const COMPACT = /^(\d{4})(\d{2})(\d{2})$/;
const NUMBERS = /^(\d{1,2})\s*([-/.])\s*(\d{1,2})\s*\2\s*(\d{4}|\d{2})$/;
const DAY_NAMED = /^(\d{1,2})(?:st|nd|rd|th|er|o|a|e)?[-/. ]*(\p{L}+)\.?,?[-/. ']+(\d{4}|\d{2})$/u;
const NAMED_DAY = /^(\p{L}+)\.?[-/. ]+(\d{1,2})(?:st|nd|rd|th)?(?:,\s*|[-/. ]+)(\d{4}|\d{2})$/u;
const YEAR_NAMED = /^(\d{4})[-/. ]+(\p{L}+)\.?[-/. ]+(\d{1,2})$/u;
const NAME_YEAR = /^(\p{L}+)\.?[-/. ',]+(\d{4}|\d{2})$/u;
const YEAR_NAME = /^(\d{4})[-/. ]+(\p{L}+)\.?$/u;
const YEAR_MONTH = /^(\d{4})[-/.](\d{1,2})$/;
const MONTH_YEAR = /^(\d{1,2})[-/.](\d{4})$/;

/**
 * Reads a date written as text, strictly: a date that does not exist, or any form not known, is null.
 * A time of day is dropped as written, never moved to another zone. Dotted numbers are day first.
 */
export function readDateText(written: string, where: Where = "cell"): DateText | null {
  if (written.length < 4 || written.length > 60 || !/\d/.test(written)) return null;
  const whole = folded(written.trim()).replace(TIME, "").replace(POLISH_YEAR, "");
  const text = whole.replace(WEEKDAY, "").replace(BETWEEN, " ");
  const date = numbered(text) ?? named(text) ?? monthOnly(text, where);
  const [said] = WEEKDAY.exec(whole) ?? [];
  return date !== null && said !== undefined && contradicts(date, said) ? null : date;
}

/** Whether a date is on another weekday than is written before it: then day, month or year is mistyped. */
function contradicts(date: DateText, said: string): boolean {
  if (date.kind === "month") return false;
  const days = date.kind === "day" ? [date.date] : [date.dmy, date.mdy, date.ymd];
  const name = said.slice(0, 3);
  return !days.some((day) => day !== null && WEEKDAYS[weekday(day) - 1] === name);
}

const WEEKDAYS = ["mon", "tue", "wed", "thu", "fri", "sat", "sun"];

/** A day and a month without a year: a date that nobody can use, and certainly no other word. */
const NO_YEAR =
  /^(?:\d{1,2}\s*[-/.]\s*\d{1,2}\.?|\d{1,2}(?:st|nd|rd|th)?[-/. ]*\p{L}+\.?|\p{L}+\.?[-/. ]+\d{1,2}(?:st|nd|rd|th)?)$/u;

/** Whether a text says a day and a month and no year, as in "7/3", "28.09." and "15 Jun". */
export function isYearless(written: string): boolean {
  const text = folded(written.trim());
  if (!NO_YEAR.test(text)) return false;
  const [name] = /\p{L}+/u.exec(text.replace(/(?<=\d)(?:st|nd|rd|th)/, "")) ?? [];
  const [first = 0, second = 1] = (text.match(/\d+/g) ?? []).map(Number);
  if (name !== undefined) return MONTH_NUMBERS.has(name) && first >= 1 && first <= 31;
  const [low, high] = [Math.min(first, second), Math.max(first, second)];
  return low >= 1 && low <= 12 && high <= 31;
}

function numbered(text: string): DateText | null {
  const yearFirst = YEAR_FIRST.exec(text);
  if (yearFirst) return known(Number(yearFirst[1]), Number(yearFirst[3]), Number(yearFirst[4]));
  const compact = COMPACT.exec(text);
  if (compact) return known(Number(compact[1]), Number(compact[2]), Number(compact[3]));
  const numbers = NUMBERS.exec(text);
  if (!numbers) return null;
  const year = fullYear(numbers[4] ?? "");
  const dmy = civilDayOrNull(year, Number(numbers[3]), Number(numbers[1]));
  const mdy =
    numbers[2] === "." ? null : civilDayOrNull(year, Number(numbers[1]), Number(numbers[3]));
  const ymd = yearFirstOf(numbers);
  return dmy === null && mdy === null && ymd === null ? null : { kind: "numbers", dmy, mdy, ymd };
}

/** Days of a month that may as well be the year of a date of our time. */
const YEARS_LIKE_DAYS = { from: 20, to: 31 };

function yearFirstOf([, first = "", mark, second = "", last = ""]: RegExpExecArray): Day | null {
  const year = Number(first);
  const mayBe = year >= YEARS_LIKE_DAYS.from && year <= YEARS_LIKE_DAYS.to;
  if (!mayBe || last.length !== 2 || mark !== "-") return null;
  return civilDayOrNull(fullYear(first), Number(second), Number(last));
}

function named(text: string): DateText | null {
  const dayFirst = DAY_NAMED.exec(text);
  if (dayFirst) return namedDay(dayFirst[3], dayFirst[2], dayFirst[1]);
  const nameFirst = NAMED_DAY.exec(text);
  if (nameFirst) return namedDay(nameFirst[3], nameFirst[1], nameFirst[2]);
  const yearFirst = YEAR_NAMED.exec(text);
  return yearFirst ? namedDay(yearFirst[1], yearFirst[2], yearFirst[3]) : null;
}

function namedDay(year = "", name = "", dayOfMonth = ""): DateText | null {
  const month = monthNamed(name);
  return month === undefined ? null : known(fullYear(year), month, Number(dayOfMonth));
}

/** A heading may say "Set 26" for September 2026 in Italian; in a cell that is the 26th electrode set. */
type Where = "cell" | "heading";

/** The number of a month by its folded name, in any of the languages. */
export function monthNamed(name: string): number | undefined {
  return MONTH_NUMBERS.get(name) ?? FOREIGN_MONTHS.get(name);
}

function monthOnly(text: string, where: Where): DateText | null {
  const nameYear = NAME_YEAR.exec(text);
  if (nameYear) {
    const [, name = "", year = ""] = nameYear;
    const isSure = where === "heading" || year.length === 4;
    return wholeMonth(year, isSure ? monthNamed(name) : MONTH_NUMBERS.get(name));
  }
  const yearName = YEAR_NAME.exec(text);
  if (yearName) return wholeMonth(yearName[1], monthNamed(yearName[2] ?? ""));
  const yearMonth = YEAR_MONTH.exec(text);
  if (yearMonth) return wholeMonth(yearMonth[1], Number(yearMonth[2]));
  const monthYear = MONTH_YEAR.exec(text);
  return monthYear ? wholeMonth(monthYear[2], Number(monthYear[1])) : null;
}

function wholeMonth(writtenYear = "", month = 0): DateText | null {
  const year = fullYear(writtenYear);
  const first = civilDayOrNull(year, month, 1);
  const last = first === null ? null : civilDayOrNull(year, month, daysInMonth(year, month));
  return first === null || last === null ? null : { kind: "month", first, last };
}

function known(year: number, month: number, dayOfMonth: number): DateText | null {
  const date = civilDayOrNull(year, month, dayOfMonth);
  return date === null ? null : { kind: "day", date };
}

function fullYear(text: string): number {
  const year = Number(text);
  if (text.length !== 2) return year;
  return year < FIRST_OF_CENTURY ? 2000 + year : 1900 + year;
}

/** Years between the common calendar and the Buddhist era, as Thailand counts it. */
const BUDDHIST = 543;

/**
 * The day meant if a date's year is one of the Buddhist era, as in 2569 for 2026, or its last two digits, which read
 * as 1969 or 2068; null where the year is none that a part could have been replaced in.
 */
export function fromBuddhistEra(date: Day): Day | null {
  const { year, month, dayOfMonth } = civilDate(date);
  const isShort = (year >= 1969 && year <= 1980) || (year >= 2060 && year <= 2068);
  if (!isShort && (year < 2500 || year > 2643)) return null;
  const era = isShort ? 2500 + (year % 100) : year;
  return civilDayOrNull(era - BUDDHIST, month, dayOfMonth);
}

/** The same date with day and month swapped, or null where that is no date. */
export function swapped(date: Day): Day | null {
  const { year, month, dayOfMonth } = civilDate(date);
  return civilDayOrNull(year, dayOfMonth, month);
}

/** The earliest day that a text may mean; null where it is none. */
export function earliestReading(written: string): Day | null {
  const text = readDateText(written);
  if (text === null) return null;
  if (text.kind !== "numbers") return text.kind === "day" ? text.date : text.first;
  const days = [text.dmy, text.mdy, text.ymd].filter((day) => day !== null);
  return days.length === 0 ? null : (Math.min(...days) as Day);
}
