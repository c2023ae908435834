import { DATE_SYSTEM_SHIFT, type Day, isDay } from "../../../core/day.ts";
import type { CellPlace } from "../../records/problems.ts";
import type { Problem } from "../../records/records.ts";
import { faultLater } from "../told/told-later.ts";

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
  readonly dates: readonly (Day | null)[];
  readonly commissioned: readonly (Day | null)[];
}

/**
 * Days to add to a whole column of last-done dates that came from a workbook of the other date system:
 * the dates are implausible as they stand and all of them plausible when shifted. Null when they are not.
 */
export function columnShift(dated: Dated, reportDate: Day): number | null {
  let count = 0;
  let late = 0;
  let early = 0;
  let newest = 0;
  dated.dates.forEach((date, at) => {
    if (date === null) return;
    count += 1;
    if (date > newest) newest = date;
    if (date > reportDate) late += 1;
    if (date < (dated.commissioned[at] ?? 0)) early += 1;
  });
  if (count < ENOUGH) return null;
  // Dates a few months ahead are planned or mistyped: put four years back they would be long overdue.
  const isFresh = newest - DATE_SYSTEM_SHIFT > reportDate - FRESH_DAYS;
  if (late >= count * MOST && isFresh && allPlausible(dated, -DATE_SYSTEM_SHIFT, reportDate)) {
    return -DATE_SYSTEM_SHIFT;
  }
  const moved = newest + DATE_SYSTEM_SHIFT;
  const stale =
    newest < reportDate - STALE_DAYS && moved <= reportDate && moved > reportDate - FRESH_DAYS;
  const isEarly = early >= count * MOST || stale;
  return isEarly && allPlausible(dated, DATE_SYSTEM_SHIFT, reportDate) ? DATE_SYSTEM_SHIFT : null;
}

function allPlausible({ dates, commissioned }: Dated, shift: number, reportDate: Day): boolean {
  return dates.every((date, at) => {
    if (date === null) return true;
    const moved = date + shift;
    return isDay(moved) && moved <= reportDate && moved >= (commissioned[at] ?? 0);
  });
}

/** The shift told: once for a whole sheet or column, or for one cell that the Job log contradicts. */
export function shiftProblem(place: CellPlace, example: Day, shift: number): Problem {
  return faultLater("1,462-day shift", place, "shifted", place.row === null, example, shift);
}
