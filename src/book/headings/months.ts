import {
  civilDate,
  civilDayOrNull,
  DATE_SYSTEM_SHIFT,
  type Day,
  isDay,
  isoText,
  monthStart,
} from "../../core/day.ts";
import { trueDate, type Page } from "../workbook/cells.ts";
import { bareMonth, statedYear } from "./bare-months.ts";
import { type DateText, readDateText } from "./dates.ts";
import type { DayOrder } from "../languages/language.ts";
import type { HeadingRows } from "./headings.ts";

/** A column whose heading is a month. */
export interface MonthColumn {
  readonly column: number;
  /** The date in the heading as it stands: true dates may be any day of the month. */
  readonly date: Day;
  /** Where its year is from when the heading states none. */
  readonly yearFrom?: string;
  /** Its heading counts periods: P03. */
  readonly isPeriod?: true;
}

/** A month heading as people read it: a true date's heading is only a number in the file. */
export function headingText(text: string | undefined, date: Day): string {
  return text === undefined || /^\d+$/.test(text) ? isoText(date).slice(0, 7) : text;
}

/** The months of a heading, and the headings that look like months and cannot be told. */
export interface MonthsRead {
  readonly months: readonly MonthColumn[];
  readonly unread: readonly { readonly column: number; readonly heading: string }[];
}

/** Bare names such as "May" or "Set" are months only where so many follow each other. */
const ENOUGH_BARE = 3;
/** A column of a quarter's sum may stand between two months. */
const FURTHEST = 2;

/** The columns headed by a month: a true date, or text such as Jan 2026, 2026-01, 01/2026, M1 2026. */
export function monthsIn(page: Page, heading: HeadingRows): readonly MonthColumn[] {
  return monthsRead(page, heading).months;
}

/** The same with what cannot be told. */
export function monthsRead(page: Page, heading: HeadingRows): MonthsRead {
  const cells = page.sheet.values[heading.last] ?? [];
  const found: { column: number; date: Day | null; text: DateText | null }[] = [];
  const others: number[] = [];
  for (let column = 0; column < Math.max(cells.length, heading.texts.length); column += 1) {
    const date = trueDate(page, heading.last, column);
    const text = date === null ? readDateText(heading.texts[column] ?? "", "heading") : null;
    if (date !== null || text !== null) found.push({ column, date, text });
    else others.push(column);
  }
  const order = orderOfFirsts(found.map(({ text }) => text));
  const months: MonthColumn[] = [];
  const unread: { column: number; heading: string }[] = [];
  for (const { column, date, text } of found) {
    const month = date ?? (text === null ? null : monthMeant(text, order));
    if (month !== null) months.push({ column, date: month });
    else unread.push({ column, heading: heading.texts[column] ?? "" });
  }
  const bare = bareMonths(page, heading, others);
  const all = [...months, ...bare.months].sort((one, other) => one.column - other.column);
  const years = new Set(all.map(({ date }) => civilDate(date).year));
  const inOne = years.size === 1 && pastTheYear(all.map(numbered)) !== null ? all : [];
  const put = inOne.map(({ column }) => ({ column, heading: heading.texts[column] ?? "" }));
  return { months: inOne.length > 0 ? [] : all, unread: [...unread, ...bare.unread, ...put] };
}

/** Months by number or bare name, with the year they state or the one stated above them. */
function bareMonths(page: Page, heading: HeadingRows, columns: readonly number[]): MonthsRead {
  const found = columns.flatMap((column) => {
    const said = bareMonth(heading.texts[column] ?? "");
    return said === null ? [] : [{ column, ...said }];
  });
  const inRun = inRuns(found.filter(({ year }) => year === null));
  const kept = found.filter(({ year, column }) => year !== null || inRun.has(column));
  const above = yearAbove(
    page,
    heading,
    kept.filter(({ year }) => year === null),
  );
  const months: MonthColumn[] = [];
  const unread: { column: number; heading: string }[] = [];
  for (const { column, month, year, isPeriod } of kept) {
    const date = civilDayOrNull(year ?? above?.of(column) ?? 0, month, 1);
    const from = year === null && above !== null ? { yearFrom: above.text } : {};
    if (date !== null) months.push({ column, date, ...from, ...(isPeriod ? { isPeriod } : {}) });
    else unread.push({ column, heading: heading.texts[column] ?? "" });
  }
  return { months, unread };
}

/** The year that is stated above months without one: of two that are named together each has its columns. */
function yearAbove(
  page: Page,
  heading: HeadingRows,
  bare: readonly Numbered[],
): { readonly text: string; readonly of: (column: number) => number } | null {
  const stated = bare.length > 0 ? statedYear(page, heading) : null;
  if (stated === null) return null;
  const { year, text } = stated;
  if (!stated.isOfTwo) return { text, of: () => year };
  const second = pastTheYear(bare);
  return second && { text, of: (column) => (second.has(column) ? year + 1 : year) };
}

interface Numbered {
  readonly column: number;
  /** 1 to 12. */
  readonly month: number;
}

function numbered({ column, date }: MonthColumn): Numbered {
  return { column, month: civilDate(date).month };
}

/**
 * The columns of the second year where months follow each other from one year into the next, as October to September;
 * null where one year may hold all of them.
 */
function pastTheYear(found: readonly Numbered[]): ReadonlySet<number> | null {
  if (new Set(found.map(({ month }) => month)).size < found.length) return null;
  const turn = found.findIndex(
    ({ month }, at) => Math.abs(month - (found[at - 1]?.month ?? month)) === 11,
  );
  if (turn < 0) return null;
  const isForwards = found[turn]?.month === 1;
  return new Set(found.filter((_, at) => at >= turn === isForwards).map(({ column }) => column));
}

/** The columns of months that follow each other, forwards or backwards. */
function inRuns(found: readonly Numbered[]): ReadonlySet<number> {
  const kept = new Set<number>();
  for (const step of [1, 11]) {
    let run: number[] = [];
    found.forEach(({ column, month }, at) => {
      const before = found[at - 1];
      const follows =
        before !== undefined &&
        column - before.column <= FURTHEST &&
        (month - before.month + 12) % 12 === step;
      run = follows ? [...run, column] : [column];
      if (run.length >= ENOUGH_BARE) for (const one of run) kept.add(one);
    });
  }
  return kept;
}

/** The order in which every text of numbers is the first of a month, null when neither or both. */
export function orderOfFirsts(texts: readonly (DateText | null)[]): DayOrder | null {
  const numbers = texts.filter((text) => text?.kind === "numbers");
  if (numbers.length === 0) return null;
  const dmy = numbers.every(({ dmy: date }) => isFirst(date));
  const mdy = numbers.every(({ mdy: date }) => isFirst(date));
  if (dmy === mdy) return dmy && numbers.every((text) => text.dmy === text.mdy) ? "dmy" : null;
  return dmy ? "dmy" : "mdy";
}

/** The month a text means: first of the month, or null when that is not certain. */
export function monthMeant(text: DateText, order: DayOrder | null): Day | null {
  if (text.kind === "month") return text.first;
  if (text.kind === "day") return monthStart(text.date);
  const date = order === null ? null : text[order];
  return date === null ? null : monthStart(date);
}

function isFirst(date: Day | null): boolean {
  return date !== null && civilDate(date).dayOfMonth === 1;
}

/** Days between the days that weeks begin with or end on. */
const WEEK = 7;
const ENOUGH_WEEKS = 4;

/** Whether days are those of weeks, one after the other in whatever direction: no month has so many. */
export function areWeeks(days: readonly number[]): boolean {
  const apart = days.slice(1).map((day, at) => Math.abs(day - (days[at] ?? 0)));
  return days.length >= ENOUGH_WEEKS && apart.every((one) => one === WEEK);
}

/** Months behind the report date up to which the newest count of a sheet is believed as it stands. */
const BELIEVED_DAYS = 731;

/**
 * Days by which all these month dates are off when they come from a workbook of the other date system:
 * none is the first of a month and all would be, and the newest is only plausible when shifted.
 * Plausible matters: month ends four years old become month starts when 1,462 days are added.
 */
export function monthShift(dates: readonly Day[], reportDate: Day): number | null {
  const distinct = [...new Set(dates)];
  if (distinct.length < 3 || distinct.some(isFirst)) return null;
  const newest = distinct.reduce((latest, date) => (date > latest ? date : latest));
  if (isNear(newest, reportDate)) return null;
  for (const shift of [DATE_SYSTEM_SHIFT, -DATE_SYSTEM_SHIFT]) {
    const moved = distinct.map((date) => date + shift);
    if (!isNear(newest + shift, reportDate)) continue;
    if (moved.every((date) => isDay(date) && isFirst(date))) return shift;
  }
  return null;
}

function isNear(date: number, reportDate: Day): boolean {
  return date <= reportDate && date > reportDate - BELIEVED_DAYS;
}
