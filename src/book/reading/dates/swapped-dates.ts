import { civilDate, type DateSystem, type Day, toSerial } from "../../../core/day.ts";
import { type DateText, swapped } from "../../headings/dates.ts";
import { type CellPlace, mendable } from "../../records/problems.ts";
import type { Problem } from "../../records/records.ts";
import { faultLater } from "../told/told-later.ts";

/** So many texts of one order, each with a day that is no month, show how the column was written. */
const ENOUGH = 3;
const MONTHS = 12;
/** Among so many true dates one may have been typed later, with a day that is no month. */
const AMONG = 5;

/** True dates of a column that a spreadsheet may have read with day and month swapped. */
interface Swapped {
  /** By place among the rows, what was meant if so. */
  readonly meant: ReadonlyMap<number, Day>;
  readonly order: "day" | "month";
  /** A text that shows the order. */
  readonly example: string;
}

/** A text of a date column, as it stands and as it reads. */
interface SeenText {
  readonly written: string;
  readonly text: DateText | null;
}

/**
 * A spreadsheet set to month first that opens "10/08/2026", written day first, makes 8 October of it and leaves
 * "23/09/2026" as text; set to day first it does the reverse. So where the texts of a column all have a day that is no
 * month, in one order, and its true dates have none such, the true dates may be swapped. Null where they are not.
 */
function swappedIn(dates: readonly (Day | null)[], texts: readonly SeenText[]): Swapped | null {
  const dayFirst = texts.filter(({ text }) => showsOrder(text, "dmy"));
  const monthFirst = texts.filter(({ text }) => showsOrder(text, "mdy"));
  const showing = dayFirst.length > 0 ? dayFirst : monthFirst;
  const isMixed = dayFirst.length > 0 && monthFirst.length > 0;
  // A text that could have become a date and did not: nothing turned the texts of this column into dates.
  const open = texts.filter(({ text }) => text?.kind === "numbers").length - showing.length;
  if (isMixed || showing.length < ENOUGH || open * 2 > showing.length) return null;
  const days = dates.filter((date) => date !== null).map((date) => civilDate(date).dayOfMonth);
  const large = days.filter((dayOfMonth) => dayOfMonth > MONTHS).length;
  if (large * AMONG > days.length) return null;
  const meant = new Map<number, Day>();
  dates.forEach((date, at) => {
    const other = date === null ? null : swapped(date);
    if (other !== null && other !== date) meant.set(at, other);
  });
  const [first] = showing;
  if (meant.size === 0 || first === undefined) return null;
  return { meant, order: dayFirst.length > 0 ? "day" : "month", example: first.written };
}

/** Whether a text is a date in this order only, because its day is no month. */
function showsOrder(text: DateText | null, order: "dmy" | "mdy"): boolean {
  if (text?.kind !== "numbers") return false;
  const meant = text[order];
  const other = order === "dmy" ? text.mdy : text.dmy;
  return (
    other === null && text.ymd === null && meant !== null && civilDate(meant).dayOfMonth > MONTHS
  );
}

/** Where a cell stands, and how its workbook counts days. */
interface Cell {
  readonly place: CellPlace;
  readonly dateSystem: DateSystem;
}

/** The true dates of a column whose day and month may be swapped, by place, each told with both readings. */
export function swappedFaults(
  dates: readonly (Day | null)[],
  texts: readonly SeenText[],
  cellAt: (at: number) => Cell,
): ReadonlyMap<number, Problem> {
  const found = swappedIn(dates, texts);
  const told = new Map<number, Problem>();
  for (const [at, meant] of found?.meant ?? []) {
    const date = dates[at] ?? null;
    if (found === null || date === null) continue;
    const { place, dateSystem } = cellAt(at);
    const { order, example } = found;
    const said = ["columnSwapped", date, meant, order, example] as const;
    const problem = faultLater("day and month swapped", place, ...said);
    told.set(at, mendable(problem, toSerial(meant, dateSystem), true));
  }
  return told;
}

/** So many dates that are late as they stand, and not with day and month swapped, are no slips. */
const LATE = 2;

/** The first of several dates of a column that are after the report date, and would not be with day and month swapped. */
export function lateUnlessSwapped(dates: readonly (Day | null)[], reportDate: Day): Day | null {
  const late = dates.filter((date) => {
    const other = date === null || date <= reportDate ? null : swapped(date);
    return other !== null && other <= reportDate;
  });
  return late.length < LATE ? null : (late[0] ?? null);
}

/** A date that may be another day where day and month of its column seem to be swapped, by one that is late. */
export function swapOf(place: CellPlace, date: Day, late: Day | null): Problem | undefined {
  const meant = late === null ? null : swapped(date);
  if (late === null || meant === null || meant === date) return undefined;
  return faultLater("day and month swapped", place, "oftenSwapped", date, meant, late);
}
