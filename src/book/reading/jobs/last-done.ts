import type { Day } from "../../../core/day.ts";
import { OLDEST } from "../../../core/due.ts";
import { mayBeDueDates } from "./due-dates.ts";
import { dateColumn, type Fleet, inUse, type Named } from "../devices/devices.ts";
import type { DateColumn } from "../dates/date-columns.ts";
import { besideOwnLog, ownLogFault } from "./beside-own-log.ts";
import { swapped } from "../../headings/dates.ts";
import { jobIndex, type NamedJob } from "../../records/job-index.ts";
import {
  allLastColumns,
  earliest,
  lastColumns,
  partKey,
  positionsMissing,
  unitsIn,
  wholeOf,
} from "../../records/positions.ts";
import type { CellPlace } from "../../records/problems.ts";
import { remembering } from "../../records/remembering.ts";
import type {
  ColumnMatch,
  Device,
  LastDone,
  Ours,
  Part,
  Problem,
  Reading,
} from "../../records/records.ts";
import { cellKey } from "../../workbook/snapshot.ts";
import { eachOf, ROWS_A_STEP, type Steps } from "../../workbook/steps.ts";
import { partialWork, openDay, workOn } from "./logged-date.ts";
import type { Found } from "../register/register.ts";
import { columnShift, isShifted, shiftProblem } from "../dates/shifts.ts";
import { lateUnlessSwapped, swapOf } from "../dates/swapped-dates.ts";
import { faultLater } from "../told/told-later.ts";

/** OLDEST of the row check, in words. */
export const YEARS_BELIEVED = 20;
const YEARS_OF_A_DEVICE = 50;
const OLDEST_DEVICE = 18263;

interface Book {
  readonly found: Found;
  readonly ours: Ours;
  readonly fleet: Fleet;
}

/** The devices with the dates their parts were last replaced, and what is wrong with those dates; in steps. */
export function* readLastDone(book: Book): Steps<Pick<Reading, "devices" | "problems">> {
  const { found, ours, fleet } = book;
  const log = jobIndex(ours);
  const problems = [...ownDates(book, fleet.commissioned), ...ownDates(book, fleet.retiredOn)];
  const { register } = found;
  const columnOf = remembering((field: string) => dateColumn(found, ours, field));
  const datesIn = (matches: readonly ColumnMatch[]): DateColumn[] =>
    matches.flatMap(({ field }) => columnOf(field) ?? []);
  const units = ours.parts.flatMap((part) => unitsIn(register, part));
  const columns = yield* eachOf(units, (part) => ({
    part,
    dated: datesIn(lastColumns(register, part)),
    all: datesIn(allLastColumns(register, wholeOf(part))),
    missing: positionsMissing(register, part),
  }));
  const usable = yield* eachOf(columns, ({ part, dated, all, missing }) =>
    dated.map((column) => {
      const unusable = shiftOf(book, column) ?? (part.task ? null : dueDatesOf(book, column));
      if (unusable !== null) problems.push(unusable);
      const isOnly = dated.length === 1 && missing === 0;
      const checked = { column, isUnusable: unusable !== null, isOnly, all };
      for (const problem of columnFaults(book, part, checked)) problems.push(problem);
      return unusable === null;
    }),
  );
  const withDates = (device: Named, at: number): Device => {
    const { key } = device;
    const lastDone = columns.map(({ part, dated, missing }, which): LastDone => {
      const [column] = dated;
      if (column === undefined) {
        return { part: partKey(part), column: null, date: log.lastRenewal(key, part) };
      }
      const isUsable = (of: number): boolean => usable[which]?.[of] === true;
      if (dated.length === 1 && missing === 0 && isUsable(0)) {
        const { reportDate } = ours.settings;
        return besideOwnLog(log, { deviceKey: key, part, column, at, reportDate });
      }
      const dates = dated.map((one, of) => (isUsable(of) ? (one.dates[at] ?? null) : null));
      const date = missing > 0 ? null : earliest(dates);
      return { part: partKey(part), column: column.column, date };
    });
    // What is new goes before: behind, an engine gives each copy a shape of its own, which is slow to read.
    return { lastDone, ...device };
  };
  return { devices: yield* eachOf(fleet.named, withDates, ROWS_A_STEP), problems };
}

/** Commissioning and retirement dates: only what makes them unusable. */
function ownDates({ fleet, ours, found }: Book, column: DateColumn | null): Problem[] {
  if (column === null) return [];
  const problems: Problem[] = [];
  const oldest = ours.settings.reportDate - OLDEST_DEVICE;
  fleet.named.forEach(({ row, retired }, at) => {
    if (retired) return;
    const problem = column.faults.get(at) ?? column.swapped.get(at);
    const date = column.dates[at] ?? null;
    if (problem !== undefined) problems.push(problem);
    else if (date !== null && date < oldest) {
      const place = placeOf(found, column, row);
      problems.push(faultLater("date out of range", place, "outOfRange", date, YEARS_OF_A_DEVICE));
    }
  });
  return problems;
}

function placeOf({ page }: Found, { column, heading }: DateColumn, row: number | null): CellPlace {
  return { sheet: page.sheet.name, row, column, heading };
}

function shiftOf({ fleet, ours, found }: Book, column: DateColumn): Problem | null {
  const dates = inUse(fleet, column);
  const commissioned = fleet.commissioned?.dates ?? [];
  const shift = columnShift({ dates, commissioned }, ours.settings.reportDate);
  const example = dates.find((date) => date !== null) ?? null;
  if (shift === null || example === null) return null;
  return shiftProblem(placeOf(found, column, null), example, shift);
}

function dueDatesOf({ fleet, ours, found }: Book, column: DateColumn): Problem | null {
  const place = placeOf(found, column, null);
  return mayBeDueDates(place, inUse(fleet, column), ours.settings.reportDate);
}

interface Checked {
  readonly column: DateColumn;
  /** None of its dates is used, which is told already. */
  readonly isUnusable: boolean;
  /** Its interval is counted from this column alone. */
  readonly isOnly: boolean;
  /** The columns of all positions of the part, this one among them. */
  readonly all: readonly DateColumn[];
}

function columnFaults(
  book: Book,
  part: Part,
  { column, isUnusable, isOnly, all }: Checked,
): Problem[] {
  const { fleet, ours, found } = book;
  const log = jobIndex(ours);
  const problems: Problem[] = [];
  const late = lateUnlessSwapped(inUse(fleet, column), ours.settings.reportDate);
  fleet.named.forEach((device, at) => {
    if (device.retired) return;
    const place = placeOf(found, column, device.row);
    const told = column.faults.get(at);
    const date = column.dates[at] ?? null;
    if (told !== undefined) problems.push(told);
    else if (date === null) {
      const isInOwnLog = isOnly && log.lastIn("own", device.key, part) !== null;
      if (isInOwnLog) return;
      const { formulas } = found.page.sheet;
      problems.push(
        formulas.has(cellKey(device.row, column.column))
          ? faultLater("no date", place, "notCalculated")
          : faultLater("no date", place, "noDate", part, log.lastRenewal(device.key, part)),
      );
    } else if (!isUnusable) {
      const dated = { device, at, date, column, isOnly, all, place, late };
      const problem = contradiction(book, part, dated);
      if (problem !== null) problems.push(problem);
    }
  });
  return problems;
}

interface Dated extends Omit<Checked, "isUnusable"> {
  readonly device: Named;
  readonly at: number;
  readonly date: Day;
  readonly place: CellPlace;
  /** A date of the column that speaks for day and month swapped in all of it. */
  readonly late: Day | null;
}

/** What speaks against a true date of the register. */
function contradiction({ ours }: Book, part: Part, dated: Dated): Problem | null {
  const { device, at, date, column, isOnly, all, place, late } = dated;
  const log = jobIndex(ours);
  const { reportDate } = ours.settings;
  const renewal = log.lastIn("ours", device.key, part);
  const sameDay = (): number => all.filter(({ dates }) => dates[at] === date).length;
  // A piece may be replaced by itself: a job of that day, one for each, says so.
  const isPiece =
    all.length > 1 &&
    (renewal === null || renewal <= date) &&
    workOn(log, { device, part, date }).length > 0 &&
    workOn(log, { device, part: wholeOf(part), date }).length >= sameDay();
  const logged = isPiece ? null : renewal;
  const partial = isPiece ? null : partialWork(log, { device, part, date });
  const oldest = reportDate - OLDEST;
  const problem = dateFault(place, date, { device, logged, partial, reportDate, oldest });
  // A job of the very day says that the date is right.
  const isWorked = workOn(log, { device, part, date }).length > 0;
  const swap = isWorked ? undefined : (column.swapped.get(at) ?? swapOf(place, date, late));
  const told =
    problem ?? swap ?? (renewal === date ? null : openDay(log, { device, part, date }, place));
  if (told !== null || !isOnly) return told;
  return ownLogFault(log, { deviceKey: device.key, part, column, place, date });
}

interface Beside {
  readonly device: Named;
  readonly logged: Day | null;
  /** The part was replaced on the date of the row, but not as a complete set. */
  readonly partial: NamedJob | null;
  readonly reportDate: Day;
  readonly oldest: number;
}

/** The most telling fault of a true date, or null. */
function dateFault(place: CellPlace, date: Day, beside: Beside): Problem | null {
  const { device, logged, partial, reportDate, oldest } = beside;
  if (logged !== null && isShifted(date, logged)) return shiftProblem(place, date, logged - date);
  if (logged !== null && logged !== date && swapped(date) === logged) {
    return faultLater("day and month swapped", place, "isSwapped", date, "the Job log", logged);
  }
  if (date > reportDate) return faultLater("future date", place, "future", date, reportDate);
  if (date < oldest) {
    return faultLater("date out of range", place, "outOfRange", date, YEARS_BELIEVED);
  }
  const { commissioned } = device;
  if (commissioned !== null && date < commissioned) {
    return faultLater("before commissioning", place, "beforeCommissioning", date, commissioned);
  }
  if (partial !== null && logged !== date) {
    return faultLater("date of a partial set", place, "partialSet", date, partial);
  }
  if (logged !== null && logged !== date) {
    return faultLater("date disagrees", place, "disagrees", date, logged);
  }
  return null;
}
