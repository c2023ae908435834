import { addMonths, type Day, isoText, monthStart } from "../../core/day.ts";
import { textOf } from "../workbook/cells.ts";
import { jobIndex } from "../records/job-index.ts";
import { readDates } from "./date-columns.ts";
import type { Fleet, Named } from "./devices.ts";
import type { RETIREMENT_DOUBTS } from "../records/problem-kinds.ts";
import { allLastColumns } from "../records/positions.ts";
import { fault } from "../records/problems.ts";
import type { Count, Ours, Problem } from "../records/records.ts";
import { hasLeftBy } from "../records/retired-words.ts";
import type { Found } from "./register.ts";
import { cellKey } from "../workbook/snapshot.ts";
import { saysServing } from "../records/serving-words.ts";

/** Months within which a job, a date or a count says that a device without a day of retirement is in use. */
const LATELY = 2;

interface Book {
  readonly found: Found;
  readonly fleet: Fleet;
  readonly ours: Ours;
  readonly countsOf: (key: string) => readonly Count[];
}

type RetirementDoubt = (typeof RETIREMENT_DOUBTS)[number];

/** Retirements that the book contradicts: by row, and told. */
interface Doubted {
  readonly byRow: ReadonlyMap<number, RetirementDoubt>;
  readonly problems: readonly Problem[];
}

/**
 * Devices that are retired by the register and in use by its dates, the Job log or the counts, or whose
 * status and day of retirement do not go together. No job may forget them until a person has decided.
 */
export function doubtedRetirements(book: Book): Doubted {
  const { found, fleet } = book;
  const { columns, register, page } = found;
  const column = columns.get("retiredOn") ?? columns.get("status") ?? null;
  const heading = column === null ? "" : (register.headings[column] ?? "");
  const lastDone = lastDates(book);
  const byRow = new Map<number, RetirementDoubt>();
  const problems = fleet.named.flatMap((device, at): Problem[] => {
    if (!device.retired && !isStruckOn(book, at)) return [];
    const unclear = unclearIn(book, device, at);
    const used = unclear === null ? usedIn(book, device, { at, lastDone }) : null;
    const cause = unclear ?? used;
    if (cause === null) return [];
    const kind = unclear === null ? "retired but in use" : "retirement in doubt";
    byRow.set(device.row, kind);
    const place = { sheet: page.sheet.name, row: device.row, column, heading };
    const isUndated = unclear === null && (fleet.retiredOn?.dates[at] ?? null) === null;
    return [fault(kind, place, `${device.id} ${cause}`, isUndated ? FIX_UNDATED : FIX)];
  });
  return { byRow, problems };
}

const FIX =
  "Correct the retirement, or what contradicts it; until then the device stays in service.";
const FIX_UNDATED =
  'If it has left since, write the day under "Retired on"; until then the device stays in service.';

/** What in its own row contradicts a device's retirement, in words. */
function unclearIn({ found, fleet, ours }: Book, device: Named, at: number): string | null {
  const { reportDate } = ours.settings;
  const since = fleet.retiredOn?.dates[at] ?? null;
  if (isStruckOn({ fleet }, at)) return "has a day of retirement that is struck through.";
  if (hasStruckStatus(found, device)) return "has a status that is struck through.";
  const unread = unreadOn({ fleet }, at);
  if (unread !== null || since === null) return unread;
  if (!hasLeftBy(since, reportDate)) {
    return `is marked as retired, but its day of retirement is ${isoText(since)}.`;
  }
  const status = found.columns.get("status");
  const word =
    status === undefined ? null : (found.page.sheet.values[device.row]?.[status] ?? null);
  if (saysServing(word)) {
    return `is retired since ${isoText(since)}, but its status is ${textOf(word)}.`;
  }
  return device.commissioned !== null && device.commissioned > since
    ? `is retired since ${isoText(since)}, before it was commissioned on ${isoText(device.commissioned)}.`
    : null;
}

function unreadOn({ fleet: { retiredOn } }: Pick<Book, "fleet">, at: number): string | null {
  if (retiredOn?.faults.has(at) === true) {
    return "is marked as retired, on a day that cannot be read.";
  }
  return retiredOn?.swapped.has(at) === true
    ? "is marked as retired, on a day whose day and month may be swapped."
    : null;
}

function isStruckOn({ fleet }: Pick<Book, "fleet">, at: number): boolean {
  return fleet.retiredOn?.faults.get(at)?.kind === "struck out";
}

function hasStruckStatus({ columns, page: { sheet } }: Found, { row }: Named): boolean {
  const status = columns.get("status");
  return status !== undefined && sheet.struck?.has(cellKey(row, status)) === true;
}

interface Beside {
  readonly at: number;
  readonly lastDone: readonly (readonly (Day | null)[])[];
}

/** How a retired device is in use after all, in words. */
function usedIn({ fleet, ours, countsOf }: Book, { key }: Named, beside: Beside): string | null {
  const { reportDate } = ours.settings;
  const { used, withdrawn } = jobsOf(ours, key);
  const last = Math.max(
    used,
    lastCounted(countsOf(key)),
    // A date to come is a mistake, and no use.
    ...beside.lastDone.map((dates) => dates[beside.at] ?? 0).filter((date) => date <= reportDate),
  ) as Day;
  const since = fleet.retiredOn?.dates[beside.at] ?? withdrawn;
  if (since !== null) {
    return last > since
      ? `is marked as retired since ${isoText(since)}, but was in use on ${isoText(last)}.`
      : null;
  }
  return last >= addMonths(monthStart(reportDate), -LATELY)
    ? `is marked as retired without a day, and was in use on ${isoText(last)}, less than three months ago.`
    : null;
}

/** The last day a device was worked with, and withdrawn: putting it away is no use. */
function jobsOf(
  ours: Ours,
  deviceKey: string,
): { readonly used: number; readonly withdrawn: Day | null } {
  let used = 0;
  let withdrawn: Day | null = null;
  const { reportDate } = ours.settings;
  for (const { date, job, eitherDay } of jobIndex(ours).ofDevice(deviceKey)) {
    // Of two days it may be, the later one says that the device is in use.
    const days = (eitherDay ?? [date]).filter((day) => day !== null && day <= reportDate);
    if (job !== "withdrawn") used = Math.max(used, ...days.map(Number));
    else if (date !== null && days.length > 0 && (withdrawn === null || date > withdrawn))
      withdrawn = date;
  }
  return { used, withdrawn };
}

/** The first day of the latest month with uses; a month is counted from its beginning. */
function lastCounted(counts: readonly Count[]): number {
  return counts.reduce(
    (last, { month, count, doubted }) =>
      (count ?? doubted ?? 0) > 0 ? Math.max(last, month) : last,
    0,
  );
}

/** The register's own dates of its parts, a list a part; none are read where nothing is retired. */
function lastDates({ found, fleet, ours }: Book): (readonly (Day | null)[])[] {
  if (!fleet.named.some(({ retired }) => retired)) return [];
  return ours.parts.flatMap((part) =>
    allLastColumns(found.register, part).map(({ column }) => {
      const { rows } = found.register;
      const where = { column, heading: "", rows, stated: null, language: null };
      return readDates(found.page, where).dates;
    }),
  );
}
