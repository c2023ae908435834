import { DAYS_PER_MONTH } from "../../core/counts.ts";
import { addMonths, type Day, monthStart } from "../../core/day.ts";
import { mostInLine } from "../columns/usage.ts";
import type { Device, Reading } from "../records/records.ts";
import { remembering } from "../records/remembering.ts";
import { mayHaveLeft } from "../records/retired-words.ts";
import { siteOf } from "../records/site-names.ts";
import type { Settings } from "../records/settings.ts";

/** Months of history shown and used. */
const HISTORY = 60;

/** Sessions of a site by month; null where nobody knows them. */
type Totals = ReadonlyMap<Day, number | null>;

/** How counts are taken that are out of line above, those that are missing, and those before a device came. */
type View = "counted" | "without peaks" | "filled" | "with newcomers";

const YEAR = 12;

/**
 * Sessions of every site and past month; null where a device in service has no usable count, be it that
 * its cell is blank or faulty or out of line below, or that it has no row for a month others of its site
 * have counts for. Without peaks a count out of line above is no usable one either; filled, the most it
 * can have been stands for a count that is missing. With newcomers, a device that came lately, and not in place of
 * the others, is taken to have been there before: months without it say too little of the months to come.
 */
export function siteTotals(
  reading: Reading,
  hasPeaks: boolean,
): (view: View) => Map<string, Totals> {
  const bySite = remembering((takesPeaks: boolean) =>
    [...countedBySite(reading, takesPeaks)].map(([site, there]) => ({
      ...{ site, there },
      plain: monthTotals(there, "counted"),
    })),
  );
  return (view) => {
    const counted = bySite(!hasPeaks || view === "counted" || view === "with newcomers");
    return new Map(
      counted.map(({ site, there, plain }) => [
        site,
        isPlain(there, plain, view) ? plain : monthTotals(there, view),
      ]),
    );
  };
}

/** Whether a view shows what the counts themselves do: nothing to be filled, nobody new. Of most sites it does. */
function isPlain(counted: readonly Counted[], plain: Totals, view: View): boolean {
  if (view === "filled") return ![...plain.values()].includes(null);
  if (view !== "with newcomers") return true;
  const newest = newestOf(counted);
  return counted.every((one) => newcomerRate(one, counted, newest) === null);
}

/** The counts of the devices of each site. */
function countedBySite(reading: Reading, takesPeaks: boolean): ReadonlyMap<string, Counted[]> {
  const { devices, ours } = reading;
  const byKey = new Map([...devices].reverse().map((device) => [device.key, device]));
  const counted = new Map<string, Counted[]>();
  for (const [key, own] of countsByDevice(reading, takesPeaks)) {
    const device = byKey.get(key);
    if (device === undefined) continue;
    const site = siteOf(ours.sites, device.site);
    const there = counted.get(site);
    if (there === undefined) counted.set(site, [{ device, ...own }]);
    else there.push({ device, ...own });
  }
  return counted;
}

/** The counts of a device, null where none can be used, and the first month for which it has any. */
interface OwnCounts {
  readonly months: Map<Day, number | null>;
  /** Months with a zero that is passed over: nobody forgot them. */
  readonly zeros: Set<Day>;
  first: number;
}

interface Counted extends OwnCounts {
  readonly device: Device;
}

function newestOf(counted: readonly Counted[]): number {
  let newest = -Infinity;
  for (const { months } of counted) {
    for (const month of months.keys()) newest = Math.max(newest, month);
  }
  return newest;
}

function monthTotals(counted: readonly Counted[], view: View): Totals {
  const seen = new Set<Day>();
  for (const { months } of counted) for (const month of months.keys()) seen.add(month);
  const all = [...seen];
  const newest = newestOf(counted);
  const sums = all.map((): number | null => 0);
  const used = all.map(() => false);
  for (const one of counted) {
    const began = beganIn(one);
    const typical = view === "with newcomers" ? newcomerRate(one, counted, newest) : null;
    all.forEach((month, at) => {
      const own = usesIn(one, month, view);
      const taken = typical !== null && month <= began ? typical * daysOf(month) : 0;
      // Before it came and after it left, a device without a count has none to give.
      if (own !== undefined) used[at] = true;
      const uses = taken > 0 ? Math.max(own ?? 0, taken) : own;
      const sum = sums[at] ?? null;
      if (uses !== undefined) sums[at] = uses === null || sum === null ? null : sum + uses;
    });
  }
  return new Map(
    all.flatMap((month, at) => (used[at] === true ? [[month, sums[at] ?? null] as const] : [])),
  );
}

/** Uses of a device in a month: null where nobody knows them, undefined where it was not there. */
function usesIn(one: Counted, month: Day, view: View): number | null | undefined {
  const { device, months, zeros } = one;
  const count = months.get(month) ?? null;
  if (count !== null) return count;
  if (month < beganIn(one) || mayHaveLeft(device)) return undefined;
  return view === "filled" && !zeros.has(month) ? mostAround(months, month) : null;
}

function beganIn({ device: { commissioned }, first }: Counted): number {
  return commissioned === null ? first : Math.max(first, monthStart(commissioned));
}

/** Months in which a device is new to its site's history. */
const NEW_FOR = 24;

/** Whole months that tell what it is used, and what the others were before and after it came. */
const COMPARED = 3;

/**
 * Uses a day of a device in its first whole months, where it came lately to a site that had counts before and the
 * others have not lost half of that; else null.
 */
function newcomerRate(one: Counted, counted: readonly Counted[], newest: number): number | null {
  const began = beganIn(one);
  if (!Number.isFinite(began) || addMonths(began as Day, NEW_FOR) <= newest) return null;
  const after = Array.from({ length: COMPARED }, (_, at) => addMonths(began as Day, at + 1));
  const before = Array.from({ length: COMPARED }, (_, at) =>
    addMonths(began as Day, at - COMPARED),
  );
  const own = dayRate(one, after);
  if (own === null) return null;
  let [was, is, others] = [0, 0, 0];
  for (const other of counted) {
    const [earlier, later] = [dayRate(other, before), dayRate(other, after)];
    if (other === one || earlier === null || later === null) continue;
    was += earlier;
    is += later;
    others += 1;
  }
  return others > 0 && was - is < own / 2 ? own : null;
}

/** Uses a day over some months; null where one of them has no count. */
function dayRate({ months }: Pick<Counted, "months">, wanted: readonly Day[]): number | null {
  let [uses, days] = [0, 0];
  for (const month of wanted) {
    const count = months.get(month) ?? null;
    if (count === null) return null;
    uses += count;
    days += daysOf(month);
  }
  return uses / days;
}

function daysOf(month: Day): number {
  return addMonths(month, 1) - month;
}

/** The most that a device can have been used in a month, by its counts of a year before and after. */
function mostAround(months: ReadonlyMap<Day, number | null>, month: Day): number | null {
  const [from, to] = [addMonths(month, -YEAR), addMonths(month, YEAR)];
  const around = [...months].flatMap(([other, count]) =>
    count === null || other < from || other > to ? [] : [count],
  );
  return around.length === 0 ? null : mostInLine(around);
}

/**
 * Uses a month of a device between two days, by device key: from the counts of all months that ended by the report
 * date and of which the days are part; null where one of them has no usable count, or none has ended.
 */
export function usesBetween(reading: Reading): (key: string, from: Day, to: Day) => number | null {
  const counted = countsByDevice(reading, true);
  const running = monthStart(reading.ours.settings.reportDate);
  return (key, from, to) => {
    const own = counted.get(key);
    if (own === undefined) return null;
    const wanted: Day[] = [];
    let month = monthStart(from);
    for (; month <= to && month < running; month = addMonths(month, 1)) wanted.push(month);
    const rate = wanted.length === 0 ? null : dayRate(own, wanted);
    return rate === null ? null : rate * DAYS_PER_MONTH;
  };
}

/** Where peaks are not taken a count out of line above is no usable one. */
function countsByDevice({ counts, ours }: Reading, takesPeaks: boolean): Map<string, OwnCounts> {
  const end = monthStart(ours.settings.reportDate);
  const earliest = addMonths(end, -HISTORY);
  const counted = new Map<string, OwnCounts>();
  // The counts of a device mostly stand together.
  let [before, own]: [string | null, OwnCounts | undefined] = [null, undefined];
  for (const { deviceKey: key, month, count, faulty, outOfLine } of counts) {
    if (month >= end || month < earliest) continue;
    const isOut = outOfLine === "low" || (outOfLine === "high" && !takesPeaks);
    const uses = faulty || isOut ? null : usable(count, ours.settings);
    if (key !== before) own = counted.get(key);
    before = key;
    if (own === undefined) {
      own = { months: new Map(), zeros: new Set(), first: Infinity };
      counted.set(key, own);
    }
    if (count === 0 && uses === null) own.zeros.add(month);
    own.months.set(month, uses);
    // Where a count was meant the device was there.
    if (uses !== null || faulty || isOut) own.first = Math.min(own.first, month);
  }
  return counted;
}

function usable(count: number | null, settings: Settings): number | null {
  return count === 0 && !settings.zeroCounts ? null : count;
}
