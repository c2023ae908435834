import { type Day, isoText } from "../../core/day.ts";
import { placesOf } from "../orders/place.ts";
import { deviceKey } from "../records/device-key.ts";
import { cellText } from "../records/doubts.ts";
import { isRenewal, jobIndex, renewed } from "../records/job-index.ts";
import { eachPosition, unitsEach, wholeOf } from "../records/positions.ts";
import type { ProblemKind } from "../records/problem-kinds.ts";
import { counted, listed } from "../records/problems.ts";
import type { Part } from "../records/records.ts";
import { judgedShelf, notCounted, type Shelved } from "../records/shelf.ts";
import { JOB_LOG } from "../sheets/job-log.ts";
import { SHELF } from "../sheets/shelf.ts";
import type { Year } from "../year/year.ts";
import type { FiscalYear } from "./fiscal.ts";
import { sumOf } from "./money.ts";

/** A replacement or task of the year so far. */
interface Done {
  readonly part: Part;
  readonly date: Day;
  readonly units: number;
  /** At today's price; null while none is known. */
  readonly cost: number | null;
}

/**
 * What a fiscal year that is running has cost so far. Nobody writes down when stock was bought, so all of it is
 * counted that the year began without, had it begun with the spares that are kept, as every budget supposes.
 */
export interface SoFar {
  readonly done: readonly Done[];
  /** Cost of these, of what is on order, and of stock beyond the spares kept, at today's prices. */
  readonly replaced: number;
  readonly onOrder: number;
  readonly stock: number;
  /** What somebody says was spent, which holds instead; null where nobody does. */
  readonly stated: number | null;
  /** All of it; null where it cannot be known. */
  readonly spent: number | null;
  /** Why it cannot, a clause each. */
  readonly unknown: readonly string[];
}

/** What a running year has cost up to the report date. */
export function soFarOf(
  year: Year,
  { from }: FiscalYear,
  { pooled, stated }: { readonly pooled: boolean; readonly stated: number | null },
): SoFar {
  const done = doneSince(year, from);
  const shelf = judgedShelf(year.reading);
  const [replaced, onOrder, stock] = [
    sumOf(done.map(({ cost }) => cost)),
    sumOf(shelf.map(({ part, item }) => costOf(part, Math.floor(item.onOrder ?? 0)))),
    stockBeyond(year, shelf, pooled),
  ];
  const unknown = stated === null ? unknownOf(year, from, shelf) : [];
  const spent = stated ?? sumOf([replaced, onOrder, stock]);
  return {
    ...{ done, replaced, onOrder, stock, stated, unknown },
    spent: unknown.length > 0 ? null : spent,
  };
}

/** What some units cost at today's price; null while none is known. */
function costOf({ supply: { packPrice, pack }, task }: Part, units: number): number | null {
  // A task without a price costs nothing.
  if (packPrice === null) return task || units === 0 ? 0 : null;
  return (packPrice / pack) * units;
}

/** Replacements the logs hold, once a day and part, and those that only the register tells of. */
function doneSince({ reading, horizon, parts }: Year, from: Day): Done[] {
  const { reportDate } = horizon;
  const done = new Map<string, Done>();
  const logged = new Map<string, Day>();
  for (const job of jobIndex(reading.ours).all) {
    if (!isRenewal(job, reportDate) || job.date < from) continue;
    const { date, named } = job;
    const units = unitsEach(wholeOf(named)) * renewed(job);
    const part = wholeOf(named);
    done.set([job.deviceKey, named.name, date].join("\n"), {
      ...{ part, date, units },
      cost: costOf(part, units),
    });
    for (const { name } of eachPosition(named)) {
      const key = `${job.deviceKey}\n${name}`;
      const last = logged.get(key);
      if (last === undefined || last < date) logged.set(key, date);
    }
  }
  for (const { device, name, part, done: day } of parts.flatMap(({ units }) => units)) {
    const key = `${deviceKey(device)}\n${name}`;
    const since = Math.max(from, (logged.get(key) ?? from - 1) + 1);
    if (day === null || day < since || day > reportDate) continue;
    const units = unitsEach(part);
    done.set(`${key}\n${day}`, { part, date: day, units, cost: costOf(part, units) });
  }
  return [...done.values()].sort((one, other) => one.date - other.date);
}

/** What lies on the shelf beyond the spares kept there; nothing is kept where no device is. */
function stockBeyond(year: Year, shelf: readonly Shelved[], pooled: boolean): number {
  const together = pooled || year.reading.ours.settings.spares === "programme";
  const units = new Map<string, { readonly part: Part; units: number }>();
  for (const { part, site, onHand } of shelf) {
    const key = `${part.code}\n${together ? "" : site}`;
    const there = units.get(key) ?? { part, units: 0 };
    there.units += onHand;
    units.set(key, there);
  }
  for (const { part, site, safetyStock } of placesOf(year, pooled)) {
    const there = units.get(`${part.code}\n${site}`);
    if (there !== undefined) there.units = Math.max(0, there.units - safetyStock);
  }
  return sumOf([...units.values()].map((one) => costOf(one.part, one.units)));
}

/** Counts that are there and are not what they must be. */
const UNREAD_COUNTS: readonly ProblemKind[] = [
  "text count",
  "count below zero",
  "count not whole",
  "counted twice",
  "month unclear",
];

/** Why nobody can say what was spent since a day: doubt never makes it less. */
function unknownOf(
  { reading, horizon, parts }: Year,
  from: Day,
  shelf: readonly Shelved[],
): string[] {
  const { doubts } = reading.ours;
  const { all } = jobIndex(reading.ours);
  const cells = doubts.filter(
    ({ kind, sheet }) =>
      kind !== "number in text" &&
      [JOB_LOG.name, SHELF.name].includes(sheet.replace(/ \(\d+\)$/, "")),
  );
  const begins = all.reduce<Day | null>(
    (first, { date }) => (date !== null && (first === null || date < first) ? date : first),
    null,
  );
  const nameless = all.filter(({ job, named, stray, date }) => {
    const isLogged = date === null || (date >= from && date <= horizon.reportDate);
    return job === "replaced" && (named === null || stray !== null || date === null) && isLogged;
  });
  const dateless = parts
    .flatMap(({ units }) => units)
    .filter(({ device, done, part }) => device !== "" && done === null && !part.task);
  // A careful interval keeps more spares, so that less of the stock would count as spent.
  const uncounted = reading.problems.filter(({ kind }) => UNREAD_COUNTS.includes(kind)).length;
  return [
    ...(uncounted === 0 ? [] : [`${counted(uncounted, "count")} that cannot be read`]),
    ...(begins === null ? ["the Job log is empty"] : []),
    ...(begins !== null && begins > from ? [`the Job log begins on ${isoText(begins)}`] : []),
    ...(nameless.length === 0
      ? []
      : [`${counted(nameless.length, "replacement")} in the Job log without a known part or date`]),
    ...(dateless.length === 0
      ? []
      : [`${counted(dateless.length, "part")} in use without a date to be trusted`]),
    ...(cells.length === 0 ? [] : [`cells in doubt: ${listed(cells.map(cellText), 6)}`]),
    ...notCounted(shelf),
  ];
}
