import { addMonths, civilDate, type Day, monthStart } from "./day.ts";
import { InputError } from "./errors.ts";
import { nextDue } from "./due.ts";
import type { WorkCalendar } from "./workday.ts";

/** A part in use that is replaced again and again. */
export interface Unit {
  /** The day it was last replaced. */
  readonly lastDone: Day;
  /** Whole months between replacements, at least 1. */
  readonly months: number;
  /** Whole months between the replacements after the next one; as `months` when left out. */
  readonly then?: number;
}

/** The time looked ahead: the days after `from`, up to and including the day `horizon` months on. */
export interface LookAhead {
  readonly from: Day;
  /** Whole months, at least 1. */
  readonly horizon: number;
  /** Working days: what falls due on a day off is done on the last one before. Every day where left out. */
  readonly calendar?: WorkCalendar;
  /** The last day looked at, where it is before the end of the horizon. */
  readonly until?: Day;
}

/** A calendar month of the time ahead; the first and the last are mostly there in part. */
export interface MonthPart {
  /** Its first day. */
  readonly month: Day;
  /** Days of it that are ahead: after the first of these, up to and including the second. */
  readonly after: Day;
  readonly until: Day;
}

/** Replacements expected in a calendar month. */
export interface MonthNeed {
  /** First day of the month. */
  readonly month: Day;
  /** On schedule. */
  readonly scheduled: number;
  /** Failed before the part was due. */
  readonly unplanned: number;
}

/** Months of the time ahead that are counted together, first and last, the month of `from` being 0. */
export type MonthSpan = readonly [number, number];

/**
 * The calendar months of the time ahead, one more than its horizon.
 *
 * @param ahead The time ahead.
 * @returns The months in order.
 * @throws InputError if the horizon is no such number or the calendar of a worksheet ends before it.
 * @example
 * aheadMonths({ from: day("2026-01-15"), horizon: 1 }) // => [{ month: day("2026-01-01"), after: day("2026-01-15"), until: day("2026-01-31") }, { month: day("2026-02-01"), after: day("2026-01-31"), until: day("2026-02-15") }]
 */
export function aheadMonths(ahead: LookAhead): MonthPart[] {
  const { from, horizon } = ahead;
  requireMonths("horizon", horizon);
  const end = addMonths(from, horizon);
  const start = monthStart(from);
  const most = ahead.until ?? end;
  return Array.from({ length: horizon + 1 }, (_, index) => {
    const month = addMonths(start, index);
    const after = index === 0 ? from : ((month - 1) as Day);
    const until = index === horizon ? end : ((addMonths(month, 1) - 1) as Day);
    return { month, after: earlier(after, most), until: earlier(until, most) };
  });
}

/**
 * The day a part is due: whole months on, on the last working day by then where those are known.
 *
 * @param lastDone The day it was fitted.
 * @param months Whole months it is to serve.
 * @param ahead The working days.
 * @returns The day.
 * @example
 * dueOn(day("2026-01-31"), 1, {}) // => day("2026-02-28")
 */
export function dueOn(lastDone: Day, months: number, ahead: Pick<LookAhead, "calendar">): Day {
  const { calendar } = ahead;
  return calendar === undefined ? addMonths(lastDone, months) : nextDue(lastDone, months, calendar);
}

/**
 * The days a part is due if it is replaced on each of them and never before. Due dates are whole
 * intervals from the last replacement, never chained, while the interval stays the same; with a calendar
 * each interval begins on the working day on which the last one was really ended, as a register has it.
 * A part due by `from` is replaced then and starts anew.
 *
 * @param unit The part in use.
 * @param from The day from which it is looked ahead.
 * @param end The last day.
 * @param calendar Working days, on which what is due is done; every day where left out.
 * @returns Days in order, the first not before `from`.
 * @throws InputError if a number of months is no such number.
 * @example
 * scheduledDays({ lastDone: day("2026-01-31"), months: 1 }, day("2026-02-10"), day("2026-03-31")) // => [day("2026-02-28"), day("2026-03-31")]
 */
export function scheduledDays(unit: Unit, from: Day, end: Day, calendar?: WorkCalendar): Day[] {
  const { lastDone, months, then = months } = unit;
  requireMonths("months", months);
  requireMonths("then", then);
  if (calendar !== undefined) return workedDays({ lastDone, months, then }, from, end, calendar);
  const late = dueBy(lastDone, months, from);
  if (!late && !dueBy(lastDone, months, end)) return [];
  const same = !late && then === months;
  const anchor = late ? from : same ? lastDone : addMonths(lastDone, months);
  const days = same ? [] : [anchor];
  for (let on = then; dueBy(anchor, on, end); on += then) days.push(addMonths(anchor, on));
  return days;
}

function workedDays(
  { lastDone, months, then }: Required<Unit>,
  from: Day,
  end: Day,
  calendar: WorkCalendar,
): Day[] {
  // A date after the end may be done on a working day before it.
  const reach = addMonths(end, 1);
  const days: Day[] = [];
  for (
    let [last, interval] = [lastDone, months];
    dueBy(last, interval, reach);
    [last, interval] = [days.at(-1) ?? end, then]
  ) {
    const due = Math.max(from, nextDue(last, interval, calendar)) as Day;
    if (due > end) break;
    days.push(due);
  }
  return days;
}

/**
 * Replacements in each calendar month if every part is replaced on its due date and never before, as
 * `scheduledDays` has them; a part due by `from` counts once in the first month.
 *
 * @param units Parts in use.
 * @param ahead The time ahead.
 * @returns Replacements, one number for each of `aheadMonths`.
 * @throws InputError if a number of months is no such number.
 * @example
 * scheduledNeed([{ lastDone: day("2026-01-31"), months: 1 }], { from: day("2026-02-10"), horizon: 2 }) // => [1, 1, 0]
 */
export function scheduledNeed(units: readonly Unit[], ahead: LookAhead): number[] {
  const { from, horizon } = ahead;
  requireMonths("horizon", horizon);
  const need = Array.from({ length: horizon + 1 }, () => 0);
  const end = addMonths(from, horizon);
  const first = monthNumber(from);
  for (const unit of units) {
    for (const date of scheduledDays(unit, from, end, ahead.calendar)) {
      const index = monthNumber(date) - first;
      need[index] = (need[index] ?? 0) + 1;
    }
  }
  return need;
}

function earlier(one: Day, other: Day): Day {
  return one < other ? one : other;
}

// Whether a day some months on is there by a day; months are told apart first, which is cheap.
function dueBy(anchor: Day, months: number, by: Day): boolean {
  const ahead = monthNumber(by) - monthNumber(anchor) - months;
  return ahead === 0 ? addMonths(anchor, months) <= by : ahead > 0;
}

function monthNumber(date: Day): number {
  const { year, month } = civilDate(date);
  return year * 12 + month;
}

/**
 * Refuses what is no span of the time ahead.
 *
 * @param span First and last month.
 * @param ahead The time ahead.
 * @returns Nothing.
 * @throws InputError if they are crossed or outside.
 * @example
 * requireSpan([0, 2], { from: day("2026-01-15"), horizon: 12 }) // => undefined
 */
export function requireSpan(span: MonthSpan, ahead: LookAhead): void {
  const [first, last] = span;
  if (!(Number.isInteger(first) && first >= 0 && first <= ahead.horizon)) {
    throw new InputError("first month", `a whole number from 0 to ${ahead.horizon}`, first);
  }
  if (!(Number.isInteger(last) && last >= first && last <= ahead.horizon)) {
    throw new InputError("last month", `a whole number from ${first} to ${ahead.horizon}`, last);
  }
}

/**
 * Refuses what is no number of whole months.
 *
 * @param argument What the caller calls it.
 * @param value The number.
 * @returns Nothing.
 * @throws InputError if it is not whole or below 1.
 * @example
 * requireMonths("months", 6) // => undefined
 */
export function requireMonths(argument: string, value: number): void {
  if (!(Number.isInteger(value) && value >= 1)) {
    throw new InputError(argument, "a whole number of at least 1", value);
  }
}
