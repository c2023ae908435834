import { addMonths, type Day, monthStart } from "../../core/day.ts";
import { mostInLine } from "../columns/usage.ts";
import type { Device, Reading } from "../records/records.ts";
import { mayHaveLeft } from "../records/retired-words.ts";
import { siteOf } from "../records/site-names.ts";
import type { Settings } from "../records/settings.ts";

/** Months of history shown and used. */
const HISTORY = 60;

/** How counts are taken that are out of line above, and those that are missing. */
type View = "counted" | "without peaks" | "filled";

const YEAR = 12;

/**
 * Sessions of every site and past month; null where a device in service has no usable count, be it that
 * its cell is blank or faulty or out of line below, or that it has no row for a month others of its site
 * have counts for. Without peaks a count out of line above is no usable one either; filled, the most it
 * can have been stands for a count that is missing.
 */
export function siteTotals(
  reading: Reading,
  view: View = "counted",
): Map<string, Map<Day, number | null>> {
  const { devices, ours } = reading;
  const byKey = new Map([...devices].reverse().map((device) => [device.key, device]));
  const counted = new Map<string, Counted[]>();
  for (const [key, own] of countsByDevice(reading, view)) {
    const device = byKey.get(key);
    if (device === undefined) continue;
    const site = siteOf(ours.sites, device.site);
    const there = counted.get(site);
    if (there === undefined) counted.set(site, [{ device, ...own }]);
    else there.push({ device, ...own });
  }
  return new Map([...counted].map(([site, there]) => [site, monthTotals(there, view)]));
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

function monthTotals(counted: readonly Counted[], view: View): Map<Day, number | null> {
  const sums = new Map<Day, number | null>();
  for (const { months } of counted) for (const month of months.keys()) sums.set(month, 0);
  const used = new Set<Day>();
  for (const { device, months, zeros, first } of counted) {
    const { commissioned } = device;
    const began = commissioned === null ? first : Math.max(first, monthStart(commissioned));
    for (const [month, sum] of sums) {
      const count = months.get(month) ?? null;
      // Before it came and after it left, a device without a count has none to give.
      if (count === null && (month < began || mayHaveLeft(device))) continue;
      used.add(month);
      const isForgotten = count === null && view === "filled" && !zeros.has(month);
      const uses = isForgotten ? mostAround(months, month) : count;
      sums.set(month, uses === null || sum === null ? null : sum + uses);
    }
  }
  return new Map([...sums].filter(([month]) => used.has(month)));
}

/** The most that a device can have been used in a month, by its counts of a year before and after. */
function mostAround(months: ReadonlyMap<Day, number | null>, month: Day): number | null {
  const [from, to] = [addMonths(month, -YEAR), addMonths(month, YEAR)];
  const around = [...months].flatMap(([other, count]) =>
    count === null || other < from || other > to ? [] : [count],
  );
  return around.length === 0 ? null : mostInLine(around);
}

function countsByDevice({ counts, ours }: Reading, view: View): Map<string, OwnCounts> {
  const end = monthStart(ours.settings.reportDate);
  const earliest = addMonths(end, -HISTORY);
  const counted = new Map<string, OwnCounts>();
  for (const { deviceKey: key, month, count, faulty, outOfLine } of counts) {
    if (month >= end || month < earliest) continue;
    const isOut = outOfLine === "low" || (outOfLine === "high" && view !== "counted");
    const uses = faulty || isOut ? null : usable(count, ours.settings);
    const own = counted.get(key) ?? {
      ...{ months: new Map<Day, number | null>(), zeros: new Set<Day>(), first: Infinity },
    };
    counted.set(key, own);
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
