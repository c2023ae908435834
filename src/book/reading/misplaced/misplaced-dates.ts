import { civilDate, type Day } from "../../../core/day.ts";
import { isWorkday } from "../../../core/workday.ts";
import { jobIndex } from "../../records/job-index.ts";
import { isOwnDue } from "../../records/own-limits.ts";
import { isLastDone } from "../../records/positions.ts";
import type { Ours, Problem } from "../../records/records.ts";
import { calendarOf } from "../../records/work-calendar.ts";
import { identifierAt, keyOf, type Page, trueDate } from "../../workbook/cells.ts";
import { placeIn } from "../register/cell-place.ts";
import type { Named } from "../devices/devices.ts";
import type { Found } from "../register/register.ts";
import { movedCells } from "./moved-cells.ts";
import { movedColumns } from "./moved-columns.ts";
import { NO_DEVICE } from "../rows/rows.ts";
import { faultLater, type Said } from "../told/told-later.ts";

/** Dates by which a fill handle is known: so many, or so many that are all there are. */
const ENOUGH = 5;
const ALL = 4;

/** Rows, from the first to the last, whose dates go on by one and the same step. */
export type Run = readonly [first: number, last: number];

/** The step from a date to the next as a number, 0 where it is none by which dates are filled. */
export type StepOf = (one: Day, other: Day) => number;

/** Rows of dates that go on by one and the same step. */
export function runsIn(dates: readonly (Day | null)[], least: number, stepOf: StepOf): Run[] {
  const runs: Run[] = [];
  let [first, step] = [0, 0];
  for (let at = 1; at <= dates.length; at += 1) {
    const [one, other] = [dates[at - 1] ?? null, dates[at] ?? null];
    const now = one === null || other === null ? 0 : stepOf(one, other);
    if (now === step) continue;
    if (step !== 0 && at - first >= least) runs.push([first, at - 1]);
    [first, step] = [at - 1, now];
  }
  return runs;
}

/** A day, or whole months of which no date is the first: who knows only the month writes that. */
export function dayOrMonths(one: Day, other: Day): number {
  if (Math.abs(other - one) === 1) return other - one;
  const [from, to] = [civilDate(one), civilDate(other)];
  if (from.dayOfMonth !== to.dayOfMonth || to.dayOfMonth === 1) return 0;
  return 100 * ((to.year - from.year) * 12 + to.month - from.month);
}

/**
 * Dates of last replacements that stand where they do by a slip of the hand: filled down over days off, moved up,
 * down or aside, or pasted with the serial number of another device. Nobody knows which was there before.
 */
export function misplacedDates(found: Found, named: readonly Named[], ours: Ours): Problem[] {
  const { page, register } = found;
  const dated = register.matches.filter(({ field }) => isLastDone(field) || isOwnDue(field));
  const columns = dated.map(({ column }) => column);
  const calendar = calendarOf(ours);
  const log = jobIndex(ours);
  // A replacement of the very day says that the date is right.
  const isKnown = (key: string, date: Day | null): boolean =>
    date === null || log.ofDevice(key).some((one) => one.date === date && one.job !== "inspected");
  const tell = (rows: readonly Named[], column: number, said: Said): Problem[] =>
    rows.flatMap(({ row, key, retired }) =>
      retired || isKnown(key, trueDate(page, row, column))
        ? []
        : faultLater("misplaced date", placeIn(found, row, column), ...said),
    );
  const nameless = register.leftOut.filter(({ reason }) => reason === NO_DEVICE);
  const rows = [...register.rows, ...nameless.map(({ row }) => row)].sort(
    (one, other) => one - other,
  );
  const moved = movedColumns(rows.map((row) => page.sheet.values[row] ?? []));
  // What was moved with the devices is still theirs.
  const isDeviceMoved = moved.includes(found.columns.get("device") ?? 0);
  const aside = movedCells(found, named, ours.parts);
  const twins = twinsIn(found, named).filter((pair) =>
    columns.every((column) => new Set(pair.map(({ row }) => trueDate(page, row, column))).size < 2),
  );
  return dated.flatMap(({ field, column, heading }) => {
    const dates = named.map(({ row }) => trueDate(page, row, column));
    const all = dates.filter((date) => date !== null).length;
    const least = all === ALL ? ALL : ENOUGH;
    const runs = isLastDone(field) ? runsIn(dates, least, dayOrMonths) : [];
    return [
      ...(moved.includes(column) !== isDeviceMoved ? tell(named, column, ["moved", heading]) : []),
      ...tell(
        named.filter(({ row }) => column >= (aside.get(row) ?? Infinity)),
        column,
        ["aside", aside.size],
      ),
      ...runs.flatMap(([first, last]) => {
        const run = dates.slice(first, last + 1);
        if (run.every((date) => date !== null && isWorkday(date, calendar))) return [];
        return tell(named.slice(first, last + 1), column, ["filled", heading, run]);
      }),
      ...twins.flatMap((pair) => tell(pair, column, ["pasted", pair.map(({ id }) => id)])),
    ];
  });
}

/** Devices in service with the serial number of another one, two or three together. */
function twinsIn({ page, columns }: Found, named: readonly Named[]): Named[][] {
  const column = columns.get("serial");
  if (column === undefined) return [];
  return [...bySerial(page, column, named).values()].filter(
    (group) => group.length < 4 && new Set(group.map(({ key }) => key)).size > 1,
  );
}

/** The devices in service by their serial numbers. */
export function bySerial(
  page: Page,
  column: number,
  named: readonly Named[],
): ReadonlyMap<string, Named[]> {
  const groups = new Map<string, Named[]>();
  for (const device of named) {
    const serial = keyOf(identifierAt(page, device.row, column));
    if (device.retired || !/\d/u.test(serial)) continue;
    const same = groups.get(serial);
    if (same === undefined) groups.set(serial, [device]);
    else same.push(device);
  }
  return groups;
}
