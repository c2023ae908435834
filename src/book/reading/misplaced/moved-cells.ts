import { isOwnDue } from "../../records/own-limits.ts";
import { isLastDone } from "../../records/positions.ts";
import type { Part } from "../../records/records.ts";
import { matcherFor } from "../../headings/match.ts";
import { isBlank, trueDate } from "../../workbook/cells.ts";
import type { Named } from "../devices/devices.ts";
import type { Found } from "../register/register.ts";

/** So many rows are a habit of a column. */
const ENOUGH = 3;
const MOST = 0.75;
const HALF = 0.5;

/** What stands in the columns of a register, for the rows of devices in service. */
function columnsSeen(
  { page, register: { matches, headings } }: Found,
  named: readonly Named[],
  parts: readonly Part[],
) {
  const rows = named.flatMap(({ row, retired }) => (retired ? [] : row));
  const isDate = (row: number, column: number): boolean => trueDate(page, row, column) !== null;
  const isEmpty = (row: number, column: number): boolean =>
    isBlank(page.sheet.values[row]?.[column] ?? null);
  const dated = (column: number): number[] => rows.filter((row) => isDate(row, column));
  const isFull = (column: number): boolean =>
    rows.filter((row) => !isEmpty(row, column)).length >= rows.length * HALF;
  const isHabit = (column: number): boolean => {
    const { length } = dated(column);
    return length >= ENOUGH && length > rows.length * HALF;
  };
  const ofDates = matches.filter(({ field }) => isLastDone(field) || isOwnDue(field));
  const never = ofDates.flatMap(({ column }) => (dated(column).length === 0 ? column : []));
  const lasts = ofDates.flatMap(({ field, column }) =>
    isLastDone(field) && !never.includes(column) ? column : [],
  );
  // The days of first use, where other things stand.
  const since = matcherFor(parts).fields.filter(({ key }) => key === "commissioned");
  headings.forEach((heading, at) => {
    const isOfDay = since.some((one) => matcherFor(parts).covers(heading, one));
    if (isOfDay && isFull(at) && dated(at).length === 0) never.push(at);
  });
  const full = headings.flatMap((heading, at) => (heading !== "" && isFull(at) ? at : []));
  return { rows, isDate, isEmpty, dated, isFull, isHabit, never, lasts, full };
}

/**
 * Rows whose cells were moved to one side under the headings, or headings that were moved over them, each with the
 * first column from which on a date may be another part's: a date stands under a heading of words or beyond the last
 * one, and one is missing under a heading of dates.
 */
export function movedCells(
  found: Found,
  named: readonly Named[],
  parts: readonly Part[],
): ReadonlyMap<number, number> {
  const { headings, matches } = found.register;
  const seen = columnsSeen(found, named, parts);
  const { rows, isDate, isEmpty, dated, isHabit, never, lasts, full } = seen;
  const moved = new Map<number, number>();
  const put = (row: number, from: number): void => {
    moved.set(row, Math.min(from, moved.get(row) ?? from));
  };
  const words = [...wordColumns(found, parts), headings.length];
  for (const column of words) {
    const strange = dated(column);
    const holes = strange.map((row) =>
      Math.min(
        ...(isHabit(column) ? never : []),
        ...lasts.filter((one) => !isDate(row, one)),
        ...full.filter((one) => isEmpty(row, one)),
      ),
    );
    const isMoved = holes.every(Number.isFinite);
    const isAll =
      column < headings.length && isHabit(column) && strange.length >= rows.length * MOST;
    strange.forEach((row, at) => {
      if (isMoved || isAll) put(row, isMoved ? Math.min(column, holes[at] ?? 0) : 0);
    });
  }
  // Nothing over the dates, and a heading of dates over nothing.
  const last = Math.max(-1, ...never);
  const strayed = headings.some(
    (heading, at) =>
      heading !== "" && at < last && isHabit(at) && matches.every(({ column }) => column !== at),
  );
  const bare = headings.findIndex(
    (heading, at) => heading === "" && at < last && (isHabit(at) || (strayed && seen.isFull(at))),
  );
  if (bare >= 0) for (const row of rows) put(row, bare);
  return moved;
}

/** Columns under a heading of what is no date. */
function wordColumns({ register: { matches, headings } }: Found, parts: readonly Part[]): number[] {
  const matcher = matcherFor(parts);
  const worded = matcher.fields.filter(({ holds }) => holds !== "date");
  const dated = new Set(
    matches.flatMap(({ field, column }) => (worded.some(({ key }) => key === field) ? [] : column)),
  );
  return headings.flatMap((heading, column) =>
    heading !== "" && !dated.has(column) && worded.some((one) => matcher.covers(heading, one))
      ? column
      : [],
  );
}
