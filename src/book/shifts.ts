import { DATE_SYSTEM_SHIFT, type Day, isDay, isoText } from "../core/day.ts";
import { fault, type Place } from "./problems.ts";
import type { Problem } from "./records.ts";

/** The least number of dates that show that a whole column is shifted. */
const ENOUGH = 5;
const MOST = 0.8;
/** A newest date older than this is not believed for parts that last months. */
const STALE_DAYS = 1096;
/** The newest date, put right, lies within about a year of the report date. */
const FRESH_DAYS = 400;

/** Whether two days differ by exactly the shift between the date systems. */
export function isShifted(one: Day, other: Day): boolean {
  return Math.abs(one - other) === DATE_SYSTEM_SHIFT;
}

/** A column's dates beside the days the same devices were commissioned. */
interface Dated {
  readonly date: Day;
  readonly commissioned: Day | null;
}

/**
 * Days to add to a whole column of last-done dates that came from a workbook of the other date system:
 * the dates are implausible as they stand and all of them plausible when shifted. Null when they are not.
 */
export function columnShift(dates: readonly Dated[], reportDate: Day): number | null {
  if (dates.length < ENOUGH) return null;
  const newest = dates.reduce((latest, { date }) => Math.max(latest, date), 0);
  const late = dates.filter(({ date }) => date > reportDate).length;
  if (late >= dates.length * MOST && allPlausible(dates, -DATE_SYSTEM_SHIFT, reportDate)) {
    return -DATE_SYSTEM_SHIFT;
  }
  const early = dates.filter(
    ({ date, commissioned }) => commissioned !== null && date < commissioned,
  ).length;
  const moved = newest + DATE_SYSTEM_SHIFT;
  const stale =
    newest < reportDate - STALE_DAYS && moved <= reportDate && moved > reportDate - FRESH_DAYS;
  if (
    (early >= dates.length * MOST || stale) &&
    allPlausible(dates, DATE_SYSTEM_SHIFT, reportDate)
  ) {
    return DATE_SYSTEM_SHIFT;
  }
  return null;
}

function allPlausible(dates: readonly Dated[], shift: number, reportDate: Day): boolean {
  return dates.every(({ date, commissioned }) => {
    const moved = date + shift;
    return isDay(moved) && moved <= reportDate && (commissioned === null || moved >= commissioned);
  });
}

/** The shift told: once for a whole sheet or column, or for one cell that the Work log contradicts. */
export function shiftProblem(place: Place, example: Day, shift: number): Problem {
  const right = example + shift;
  const meant = isDay(right) ? isoText(right) : "another date";
  const cause =
    place.row === null
      ? `The dates are 1,462 days off, as after copying from a workbook of the other date system: ${isoText(example)} should be ${meant}. They are not used.`
      : `${isoText(example)} is 1,462 days off the Work log's ${meant}, as after copying from a workbook of the other date system.`;
  const sign = shift > 0 ? "Add 1,462 days to" : "Take 1,462 days from";
  const fix = place.row === null ? `${sign} every date of it.` : `Type ${meant} as a date.`;
  return fault("1,462-day shift", place, cause, fix);
}
