import type { Day } from "../../../core/day.ts";
import { countedFrom, mayBeOne } from "../../answers/counted-from.ts";
import { lastDoneTitle } from "../../answers/titles.ts";
import { swapped } from "../../headings/dates.ts";
import type { JobIndex } from "../../records/job-index.ts";
import { partKey } from "../../records/positions.ts";
import type { CellPlace } from "../../records/problems.ts";
import type { LastDone, Part, Problem } from "../../records/records.ts";
import type { DateColumn } from "../dates/date-columns.ts";
import { isShifted, shiftProblem } from "../dates/shifts.ts";
import { faultLater } from "../told/told-later.ts";

/** A part of a device under a date column of the register. */
interface Unit {
  readonly deviceKey: string;
  readonly part: Part;
  readonly column: DateColumn;
}

/** A date of the register, by its place in the column, beside what the programme's own log says. */
export function besideOwnLog(
  log: JobIndex,
  unit: Unit & { readonly at: number; readonly reportDate: Day },
): LastDone {
  const { deviceKey, part, column, at, reportDate } = unit;
  const date = column.dates[at] ?? null;
  const done = { part: partKey(part), column: column.column, date };
  const own = log.lastIn("own", deviceKey, part);
  if (own === null || own === date || column.faults.has(at)) return done;
  if (followsLog(log, unit, date)) return { ...done, date: own, fills: true };
  if (date !== null && date > own && isRenewedOn(log, unit, date)) return done;
  const counted = countedFrom(date, own, reportDate);
  return { ...done, date: typeof counted === "number" ? (counted as Day) : null, logged: own };
}

/** Whether a cell stands in a column of ours and says what the log said before: it is brought up to date. */
function followsLog(log: JobIndex, unit: Unit, date: Day | null): boolean {
  const own = log.lastIn("own", unit.deviceKey, unit.part);
  const isOurs = unit.column.heading.toLowerCase() === lastDoneTitle(unit.part).toLowerCase();
  return isOurs && own !== null && (date === null || (date < own && isRenewedOn(log, unit, date)));
}

function isRenewedOn(log: JobIndex, { deviceKey, part }: Unit, date: Day): boolean {
  return log.of(deviceKey, part).renewals.some((job) => job.date === date);
}

/** What the programme's own log contradicts in a true date of the register; null where nothing. */
export function ownLogFault(
  log: JobIndex,
  unit: Unit & { readonly place: CellPlace; readonly date: Day },
): Problem | null {
  const { deviceKey, part, place, date } = unit;
  const own = log.lastIn("own", deviceKey, part);
  if (own === null || own === date) return null;
  if (isShifted(date, own)) return shiftProblem(place, date, own - date);
  if (followsLog(log, unit, date)) return null;
  const isKnown = isRenewedOn(log, unit, date);
  if (!isKnown && swapped(date) === own) {
    return faultLater("day and month swapped", place, "isSwapped", date, "your own log", own);
  }
  if (!mayBeOne(date, own) || (isKnown && date > own)) return null;
  return faultLater("two dates", place, "twoDates", date, own);
}
