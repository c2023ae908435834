import { civilDate, DATE_SYSTEM_SHIFT, type Day, isDay, monthStart } from "../../core/day.ts";
import { trueDate, type Page } from "../workbook/cells.ts";
import { type DateText, readDateText } from "./dates.ts";
import type { DayOrder } from "../languages/language.ts";
import type { HeadingRows } from "./headings.ts";

/** A column whose heading is a month. */
export interface MonthColumn {
  readonly column: number;
  /** The date in the heading as it stands: true dates may be any day of the month. */
  readonly date: Day;
}

/** The columns headed by a month: a true date, or text such as Jan 2026, 2026-01, 01/2026. */
export function monthsIn(page: Page, heading: HeadingRows): MonthColumn[] {
  const cells = page.sheet.values[heading.last] ?? [];
  const found: { column: number; date: Day | null; text: DateText | null }[] = [];
  for (let column = 0; column < Math.max(cells.length, heading.texts.length); column += 1) {
    const date = trueDate(page, heading.last, column);
    const text = date === null ? readDateText(heading.texts[column] ?? "", "heading") : null;
    if (date !== null || text !== null) found.push({ column, date, text });
  }
  const order = orderOfFirsts(found.map(({ text }) => text));
  return found.flatMap(({ column, date, text }) => {
    const month = date ?? (text === null ? null : monthMeant(text, order));
    return month === null ? [] : [{ column, date: month }];
  });
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
