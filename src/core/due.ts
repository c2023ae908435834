import { addMonths, type Day, isoText, LAST_DAY, weekStart } from "./day.ts";
import { InputError, NoAnswerError } from "./errors.ts";
import { rollBack, workday, type WorkCalendar } from "./workday.ts";

/** What a due date means on the report date. */
export type State = "Overdue" | "Due soon" | "Not due" | "Check row";

/** What is wrong with a row, or OK. */
export type RowCheck =
  | "OK"
  | "No date"
  | "Date is text"
  | "Date out of range"
  | "Usage missing"
  | "Usage is text"
  | "Usage below zero"
  | "Limits missing or crossed";

/** The cells a due date follows from, as they stand; null or "" where blank. */
export interface RowCells {
  readonly lastDone: number | string | null;
  readonly usesPerMonth: number | string | null;
  readonly shortest: number | string | null;
  readonly longest: number | string | null;
}

/** Days from one to another, both counted. */
export interface Period {
  readonly from: Day;
  readonly to: Day;
}

/** Stems of the findings that end a part's life: residue, corrosion, crack, hardened, damage. */
export const LIFE_ENDS: readonly string[] = ["residue", "corro", "crack", "harden", "damage"];

/** Days a last date may lie before the report date, 20 years, before it is taken for a mistake. */
export const OLDEST = 7305;

const WEEK = 7;

/**
 * The latest working day on which a part must be replaced.
 *
 * Counted from the date last done, held to the month's last day, then back to a working day: the
 * date is a limit. Never on or before the date last done.
 *
 * @param lastDone The day the part was last replaced.
 * @param months Whole months between replacements, at least 1.
 * @param calendar The working days.
 * @returns The due day.
 * @throws InputError if months is not such a number or the due day leaves the worksheet's calendar.
 * @example
 * nextDue(day("2024-08-31"), 6, workCalendar(null, [])) // => day("2025-02-28")
 * nextDue(day("2026-02-17"), 3, workCalendar(null, [])) // => day("2026-05-15")
 */
export function nextDue(lastDone: Day, months: number, calendar: WorkCalendar): Day {
  if (!Number.isInteger(months) || months < 1) {
    throw new InputError("months", "a whole number of at least 1", months);
  }
  const due = rollBack(addMonths(lastDone, months), calendar);
  return due > lastDone ? due : ((lastDone + 1) as Day);
}

/**
 * Whether a due date is past, near or far.
 *
 * @param due The due day; null when there is none or it cannot be read.
 * @param reportDate The day looked from.
 * @param noticeDays Days before the due day from which it counts as due soon, whole, zero or more.
 * @param finding What the last inspection found, in words; null for nothing.
 * @returns Overdue for a finding that ends the part's life, whatever the date; Check row without a
 *   date; Overdue after the due day; Due soon from noticeDays before it; else Not due.
 * @throws InputError if noticeDays is not such a number.
 * @example
 * dueState(day("2026-05-15"), day("2026-05-16"), 14, null) // => "Overdue"
 * dueState(day("2026-05-15"), day("2026-05-01"), 14, null) // => "Due soon"
 * dueState(day("2026-05-15"), day("2026-04-30"), 14, "clean") // => "Not due"
 * dueState(day("2026-05-15"), day("2026-04-30"), 14, "Hairline crack") // => "Overdue"
 * dueState(null, day("2026-04-30"), 14, null) // => "Check row"
 */
export function dueState(
  due: Day | null,
  reportDate: Day,
  noticeDays: number,
  finding: string | null,
): State {
  if (!Number.isInteger(noticeDays) || noticeDays < 0) {
    throw new InputError("noticeDays", "a whole number of days, zero or more", noticeDays);
  }
  if (finding !== null && endsLife(finding)) return "Overdue";
  if (due === null) return "Check row";
  if (due < reportDate) return "Overdue";
  return due <= reportDate + noticeDays ? "Due soon" : "Not due";
}

/**
 * Whether a finding means the part is out of use now.
 *
 * @param finding What an inspection found, in words.
 * @returns True if the words hold residue, corro, crack, harden or damage, in any case.
 * @example
 * endsLife("Corroded contact") // => true
 * endsLife("clean") // => false
 */
export function endsLife(finding: string): boolean {
  const words = finding.toLowerCase();
  return LIFE_ENDS.some((stem) => words.includes(stem));
}

/**
 * The latest working day by which the next inspection must be done, so that the running ISO week
 * still reaches its number of distinct inspection days, one a day.
 *
 * With k missing it is the week's k-th last working day; with none missing, the same for the whole of
 * next week. A day already past gives the report date, and a week with too few working days its
 * Monday. Inspections dated after the report date are not taken for done.
 *
 * @param checkDates Days an inspection was done, in any order.
 * @param reportDate The day looked from.
 * @param perWeek Distinct inspection days due in a week, 1 to 7.
 * @param calendar The working days.
 * @returns The day, not before the report date.
 * @throws InputError if perWeek is not such a number.
 * @example
 * checkBy([day("2026-05-11")], day("2026-05-12"), 2, workCalendar(null, [])) // => day("2026-05-15")
 * checkBy([], day("2026-05-12"), 2, workCalendar(null, [])) // => day("2026-05-14")
 */
export function checkBy(
  checkDates: Iterable<Day>,
  reportDate: Day,
  perWeek: number,
  calendar: WorkCalendar,
): Day {
  requirePerWeek(perWeek);
  const monday = weekStart(reportDate);
  const done = new Set<Day>();
  for (const date of checkDates) if (date >= monday && date <= reportDate) done.add(date);
  const missing = perWeek - done.size;
  const nextMonday = monday + WEEK;
  if (nextMonday + WEEK > LAST_DAY) {
    throw new InputError("reportDate", "some weeks before 9999-12-31", isoText(reportDate));
  }
  const [start, wanted] = missing > 0 ? [monday, missing] : [nextMonday, perWeek];
  const latest = workday((start + WEEK) as Day, -wanted, calendar);
  return Math.max(latest, start, reportDate) as Day;
}

/**
 * Share of the complete ISO weeks of a period in which enough inspections were done.
 *
 * @param checkDates Days an inspection was done, in any order; a day twice counts once.
 * @param period First and last day of the period.
 * @param perWeek Distinct inspection days due in a week, 1 to 7.
 * @returns Share of the weeks that lie wholly inside the period, 0 to 1.
 * @throws InputError if the period runs backwards or perWeek is no such number; NoAnswerError if no
 *   whole week lies inside the period.
 * @example
 * checkCompliance([day("2026-05-04"), day("2026-05-07"), day("2026-05-12")], { from: day("2026-05-01"), to: day("2026-05-17") }, 2) // => 0.5
 */
export function checkCompliance(
  checkDates: Iterable<Day>,
  period: Period,
  perWeek: number,
): number {
  requirePerWeek(perWeek);
  const { from, to } = period;
  if (to < from) throw new InputError("to", `on or after from (${isoText(from)})`, isoText(to));
  const first = weekStart((from + WEEK - 1) as Day);
  const end = weekStart((to + 1) as Day);
  const weeks = (end - first) / WEEK;
  if (weeks < 1) throw new NoAnswerError("needs a whole week from Monday to Sunday");
  const inWeek = new Map<Day, number>();
  for (const date of new Set(checkDates)) {
    if (date < first || date >= end) continue;
    const monday = weekStart(date);
    inWeek.set(monday, (inWeek.get(monday) ?? 0) + 1);
  }
  return [...inWeek.values()].filter((days) => days >= perWeek).length / weeks;
}

function requirePerWeek(perWeek: number): void {
  if (!Number.isInteger(perWeek) || perWeek < 1 || perWeek > WEEK) {
    throw new InputError("perWeek", "a whole number from 1 to 7", perWeek);
  }
}

/**
 * What is wrong with the cells a due date follows from: the first fault, dates before usage.
 *
 * @param row The cells.
 * @param reportDate The day looked from.
 * @returns OK or the fault in words.
 * @example
 * rowCheck({ lastDone: 46143, usesPerMonth: 120, shortest: 3, longest: 6 }, day("2026-05-17")) // => "OK"
 * rowCheck({ lastDone: "1.5.26", usesPerMonth: null, shortest: 3, longest: 6 }, day("2026-05-17")) // => "Date is text"
 * rowCheck({ lastDone: 46143, usesPerMonth: null, shortest: 3, longest: 6 }, day("2026-05-17")) // => "Usage missing"
 */
export function rowCheck(row: RowCells, reportDate: Day): RowCheck {
  const { lastDone, usesPerMonth, shortest, longest } = row;
  if (lastDone === null || lastDone === "") return "No date";
  if (typeof lastDone === "string") return "Date is text";
  // Written so that NaN, too, is out of range.
  if (!(Math.floor(lastDone) <= reportDate && lastDone >= reportDate - OLDEST)) {
    return "Date out of range";
  }
  if (usesPerMonth === null || usesPerMonth === "") return "Usage missing";
  if (typeof usesPerMonth === "string") return "Usage is text";
  if (!(usesPerMonth >= 0)) return "Usage below zero";
  const sound =
    typeof shortest === "number" &&
    typeof longest === "number" &&
    shortest >= 1 &&
    longest >= shortest;
  return sound ? "OK" : "Limits missing or crossed";
}
