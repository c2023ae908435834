import { addMonths, type Day, monthStart } from "../../../core/day.ts";
import { textOf } from "../../workbook/cells.ts";
import { jobIndex } from "../../records/job-index.ts";
import { readDates } from "../dates/date-columns.ts";
import type { Fleet, Named } from "./devices.ts";
import type { RETIREMENT_DOUBTS } from "../../records/problem-kinds.ts";
import { allLastColumns } from "../../records/positions.ts";
import type { CellPlace } from "../../records/problems.ts";
import type { Count, Ours } from "../../records/records.ts";
import { hasLeftBy } from "../../records/retired-words.ts";
import type { Found } from "../register/register.ts";
import { cellKey } from "../../workbook/snapshot.ts";
import { saysServing } from "../../records/serving-words.ts";

/** Months within which a job, a date or a count says that a device without a day of retirement is in use. */
const LATELY = 2;

interface Book {
  readonly found: Found;
  readonly fleet: Fleet;
  readonly ours: Ours;
  readonly countsOf: (key: string) => readonly Count[];
}

type RetirementDoubt = (typeof RETIREMENT_DOUBTS)[number];

/** What contradicts a retirement, with its days or words. */
export type Contradiction =
  | readonly ["struck day" | "struck status" | "unread day" | "swapped day"]
  | readonly ["day to come" | "used lately", day: Day]
  | readonly ["serving", since: Day, status: string]
  | readonly ["before first use" | "used since", since: Day, other: Day];

/** A retirement that the book contradicts; in-use-told.ts has the words. */
export interface RetirementNote {
  readonly kind: RetirementDoubt;
  readonly place: CellPlace;
  readonly device: string;
  readonly why: Contradiction;
  readonly isUndated: boolean;
}

/** Retirements that the book contradicts: by row, and to be told. */
interface Doubted {
  readonly byRow: ReadonlyMap<number, RetirementDoubt>;
  readonly notes: readonly RetirementNote[];
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
  const notes = fleet.named.flatMap((device, at): RetirementNote[] => {
    if (!device.retired && !isStruckOn(book, at)) return [];
    const unclear = unclearIn(book, device, at);
    const why = unclear ?? usedIn(book, device, { at, lastDone });
    if (why === null) return [];
    const kind = unclear === null ? "retired but in use" : "retirement in doubt";
    byRow.set(device.row, kind);
    const place = { sheet: page.sheet.name, row: device.row, column, heading };
    const isUndated = unclear === null && (fleet.retiredOn?.dates[at] ?? null) === null;
    return [{ kind, place, device: device.id, why, isUndated }];
  });
  return { byRow, notes };
}

/** What in its own row contradicts a device's retirement. */
function unclearIn({ found, fleet, ours }: Book, device: Named, at: number): Contradiction | null {
  const { reportDate } = ours.settings;
  const since = fleet.retiredOn?.dates[at] ?? null;
  if (isStruckOn({ fleet }, at)) return ["struck day"];
  if (hasStruckStatus(found, device)) return ["struck status"];
  const unread = unreadOn({ fleet }, at);
  if (unread !== null || since === null) return unread;
  if (!hasLeftBy(since, reportDate)) {
    return ["day to come", since];
  }
  const status = found.columns.get("status");
  const word =
    status === undefined ? null : (found.page.sheet.values[device.row]?.[status] ?? null);
  if (saysServing(word)) {
    return ["serving", since, textOf(word)];
  }
  return device.commissioned !== null && device.commissioned > since
    ? ["before first use", since, device.commissioned]
    : null;
}

function unreadOn({ fleet: { retiredOn } }: Pick<Book, "fleet">, at: number): Contradiction | null {
  if (retiredOn?.faults.has(at) === true) {
    return ["unread day"];
  }
  return retiredOn?.swapped.has(at) === true ? ["swapped day"] : null;
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

/** How a retired device is in use after all. */
function usedIn(
  { fleet, ours, countsOf }: Book,
  { key }: Named,
  beside: Beside,
): Contradiction | null {
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
    return last > since ? ["used since", since, last] : null;
  }
  return last >= addMonths(monthStart(reportDate), -LATELY) ? ["used lately", last] : null;
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
