import { addMonths, civilDate, type Day, isoText, monthStart } from "../../../core/day.ts";
import { headingText } from "../../headings/months.ts";
import type { Counted } from "./counts.ts";
import type { Named } from "../devices/devices.ts";
import { type CellPlace, fault, listed } from "../../records/problems.ts";
import type { Count, Problem } from "../../records/records.ts";

/** Gaps older than this no longer matter to anything. */
const MOST_MONTHS = 120;

interface Book {
  /** The devices, by key; asked for where there are counts. */
  readonly devices: () => ReadonlyMap<string, Named>;
  readonly counted: Counted;
  readonly headingOf: (count: Count) => string;
  /** First day of the month that has not ended by the report date. */
  readonly ended: Day;
}

/** Months that are missing or late, and counts out of line with the device's own, device by device. */
export function countGaps({ devices, counted, headingOf, ended }: Book): Problem[] {
  const problems: Problem[] = [];
  const newest = newestMonth(counted, null);
  const due = newestMonth(counted, ended);
  if (newest === null) return problems;
  for (const [key, device] of devices()) {
    if (device.retired) continue;
    const own = ownCounts(counted, key);
    const usable = own.every(({ count }) => count !== null)
      ? own
      : own.filter(({ count }) => count !== null);
    problems.push(
      ...doubtful(own, { headingOf, ended }),
      ...missing(device, own, { newest, headingOf }),
    );
    const late =
      due === null ? null : lateCount(device, usable.at(-1) ?? null, { newest: due, own });
    if (late !== null) problems.push(late);
  }
  return problems;
}

/** A device's counts from the earliest month to the latest. */
function ownCounts({ byDevice }: Counted, key: string): readonly Count[] {
  const own = byDevice.get(key) ?? [];
  const ordered = own.every((count, at) => at === 0 || count.month >= (own[at - 1]?.month ?? 0));
  return ordered ? own : [...own].sort((one, other) => one.month - other.month);
}

/** The newest counted month; of those before a day where one is given: of a running month no count is due. */
function newestMonth({ byDevice }: Counted, before: Day | null): Day | null {
  let newest: Day | null = null;
  for (const own of byDevice.values()) {
    for (const { month, count } of own) {
      const isMeant = count !== null && (before === null || month < before);
      if (isMeant && (newest === null || month > newest)) newest = month;
    }
  }
  return newest;
}

/** Counts marked as out of line: probably a digit too many, or one lost. */
function doubtful(
  own: readonly Count[],
  { headingOf, ended }: Pick<Book, "headingOf" | "ended">,
): Problem[] {
  const marked = own.filter((count) => count.outOfLine !== undefined);
  if (marked.length === 0) return [];
  const sound = own.flatMap(({ count, month, outOfLine }) =>
    count === null || outOfLine !== undefined || month >= ended ? [] : [count],
  );
  const usual = `the device's other counts, ${Math.min(...sound)} to ${Math.max(...sound)} a month`;
  return marked.map((entry) => {
    const isLow = entry.outOfLine === "low";
    const cause = `${entry.count ?? 0} is far ${isLow ? "below" : "above"} ${usual}.`;
    const fix = isLow
      ? "Check for a digit lost; the count lengthens no interval."
      : "Check for a digit too many; until then the count shortens intervals.";
    return fault("count out of line", placeOf(entry, headingOf), cause, fix);
  });
}

function placeOf(count: Count, headingOf: (count: Count) => string): CellPlace {
  const { sheet, row, column } = count;
  return { sheet, row, column, heading: headingOf(count) };
}

interface Reach {
  /** The newest month anyone has counted: nothing is missing after it. */
  readonly newest: Day;
  readonly headingOf: (count: Count) => string;
}

/** Blank or absent months between two counted ones. */
function missing(device: Named, own: readonly Count[], { newest, headingOf }: Reach): Problem[] {
  const isStated = ({ month, count, faulty }: Count): boolean =>
    (count !== null || faulty) && month <= newest;
  const stated = own.every(isStated) ? own : own.filter(isStated);
  const first = stated[0];
  const last = stated.at(-1);
  if (first === undefined || last === undefined) return [];
  const months = monthsBetween(first.month, last.month);
  if (stated.length === months + 1) return [];
  const byMonth = new Map(own.map((count) => [count.month, count]));
  const start = fullMonthsFrom(device.commissioned) ?? first.month;
  const problems: Problem[] = [];
  let before = first;
  for (let step = Math.max(1, months - MOST_MONTHS); step < months; step += 1) {
    const month = addMonths(first.month, step);
    const entry = byMonth.get(month);
    if (entry !== undefined && isStated(entry)) before = entry;
    else if (month >= start) {
      const place: CellPlace =
        entry === undefined
          ? { sheet: before.sheet, row: before.row, column: null, heading: "" }
          : placeOf(entry, headingOf);
      const cause = `${device.id} has no count for ${monthText(month)}.`;
      problems.push(
        fault("count missing", place, cause, "Type the count; type 0 only when it was not used."),
      );
    }
  }
  return problems;
}

interface Lateness {
  readonly newest: Day;
  readonly own: readonly Count[];
}

/** One problem for a device whose latest count is behind the newest month anyone has counted. */
function lateCount(device: Named, latest: Count | null, book: Lateness): Problem | null {
  const { newest, own } = book;
  if (latest !== null && latest.month >= newest) return null;
  const start = fullMonthsFrom(device.commissioned);
  const from = latest === null ? (start ?? newest) : addMonths(latest.month, 1);
  const first = start !== null && start > from ? start : from;
  if (first > newest) return null;
  const faulty = new Set(own.filter((count) => count.faulty).map(({ month }) => month));
  const months: string[] = [];
  for (let step = 0; step <= monthsBetween(first, newest); step += 1) {
    const month = addMonths(first, step);
    if (!faulty.has(month)) months.push(monthText(month));
  }
  if (months.length === 0) return null;
  const place = { column: null, heading: "" };
  const where = own.at(-1);
  const cause =
    latest === null && own.length === 0
      ? `${device.id} has no counts at all; other devices have counts up to ${monthText(newest)}.`
      : `${device.id} has no count for ${listed(months)}; other devices have counts up to ${monthText(newest)}.`;
  return fault(
    "late count",
    where === undefined
      ? { ...place, sheet: device.sheet, row: device.row }
      : { ...place, sheet: where.sheet, row: where.row },
    cause,
    "Ask the site for the count; until then it is taken as high, and the shortest interval may apply.",
  );
}

/** The first month the device was in service from its first day to its last. */
function fullMonthsFrom(commissioned: Day | null): Day | null {
  if (commissioned === null) return null;
  const start = monthStart(commissioned);
  return start === commissioned ? start : nextMonth(start);
}

function nextMonth(start: Day): Day | null {
  const { year, month } = civilDate(start);
  return year >= 9999 && month === 12 ? null : addMonths(start, 1);
}

function monthsBetween(first: Day, last: Day): number {
  const from = civilDate(first);
  const to = civilDate(last);
  return (to.year - from.year) * 12 + to.month - from.month;
}

/** "2026-03". */
export function monthText(month: Day): string {
  return isoText(month).slice(0, 7);
}

/** Headings of count columns by sheet, for the places of problems. */
export function headingLookup(
  headings: ReadonlyMap<string, readonly string[]>,
): (count: Count) => string {
  return ({ sheet, column, month }) => headingText(headings.get(sheet)?.[column], month);
}
