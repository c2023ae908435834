import { civilDay, type Day, isoText, isoWeek, weekStart } from "../../core/day.ts";
import { InputError } from "../../core/errors.ts";
import type { Serving } from "../reading/dates/serving.ts";
import type { JobIndex } from "../records/job-index.ts";
import { BookError } from "../workbook/errors.ts";

/** The days under review, first and last included, and the ISO weeks that lie wholly inside and have ended. */
export interface EvidencePeriod {
  readonly from: Day;
  readonly to: Day;
  /** Mondays, in order. */
  readonly weeks: readonly Day[];
}

/** What the evidence of a period is made of. */
export interface EvidenceBasis {
  readonly devices: readonly Serving[];
  readonly log: JobIndex;
  readonly period: EvidencePeriod;
}

/** Weeks under review when no first day is given. */
const WEEKS_BACK = 13;
/** Most weeks a review may span, five years: each is a row for every site. */
const MOST_WEEKS = 261;
const WEEK = 7;

/** The period meant by two days, each null where it is not given. Throws a BookError for one that cannot be. */
export function evidencePeriod(reportDate: Day, from: Day | null, to: Day | null): EvidencePeriod {
  const last = to ?? reportDate;
  if (last > reportDate) {
    throw new BookError(
      `the period must end on or before the report date ${isoText(reportDate)}, got ${isoText(last)}`,
    );
  }
  // The report date is still running.
  const end = weekStart((Math.min(last, reportDate - 1) + 1) as Day);
  const first = from ?? ((end - WEEKS_BACK * WEEK) as Day);
  if (first > last) {
    throw new BookError(
      `the period must begin on or before ${isoText(last)}, got ${isoText(first)}`,
    );
  }
  const monday = weekStart((first + WEEK - 1) as Day);
  const count = Math.max(0, (end - monday) / WEEK);
  if (count > MOST_WEEKS) {
    throw new BookError(`the period must be at most ${MOST_WEEKS} weeks, got ${count}`);
  }
  const weeks = Array.from({ length: count }, (_, at) => (monday + at * WEEK) as Day);
  return { from: first, to: last, weeks };
}

/** An ISO week in writing: 2026-W28. */
export function weekText(date: Day): string {
  const { year, week } = isoWeek(date);
  return `${year}-W${String(week).padStart(2, "0")}`;
}

/** Monday of a week written as 2026-W28. */
export function weekNamed(text: string): Day {
  const [, year, week] = /^(\d{4})-?W(\d{2})$/i.exec(text.trim()) ?? [];
  const monday = year === undefined || week === undefined ? null : mondayOf(+year, +week);
  if (monday === null) throw new InputError("week", "an ISO week such as 2026-W28", text);
  return monday;
}

function mondayOf(year: number, week: number): Day | null {
  if (year < 1901 || year > 9998) return null;
  const monday = (weekStart(civilDay(year, 1, 4)) + (week - 1) * WEEK) as Day;
  const found = isoWeek(monday);
  return found.year === year && found.week === week ? monday : null;
}

/** The coming week: the one the report date begins, else the next. */
export function comingWeek(reportDate: Day): Day {
  return weekStart((reportDate + WEEK - 1) as Day);
}
