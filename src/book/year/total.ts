import { addMonths, type Day, monthStart } from "../../core/day.ts";
import { keyOf } from "../workbook/cells.ts";
import type { Device, Reading } from "../records/records.ts";
import { mayHaveLeft } from "../records/retired-words.ts";
import { siteOf } from "../records/site-names.ts";
import type { Settings } from "../records/settings.ts";

/** Months of history shown and used. */
const HISTORY = 60;

/**
 * Sessions of every site and past month; null where a device in service has no usable count, be it that
 * its cell is blank or faulty or that it has no row for a month others of its site have counts for.
 */
export function siteTotals(reading: Reading): Map<string, Map<Day, number | null>> {
  const { devices, ours } = reading;
  const byKey = new Map([...devices].reverse().map((device) => [device.key, device]));
  const counted = new Map<string, Counted[]>();
  for (const [key, months] of countsByDevice(reading)) {
    const device = byKey.get(key);
    if (device === undefined) continue;
    const site = siteOf(ours.sites, device.site);
    const there = counted.get(site);
    if (there === undefined) counted.set(site, [{ device, months }]);
    else there.push({ device, months });
  }
  return new Map([...counted].map(([site, there]) => [site, monthTotals(there)]));
}

interface Counted {
  readonly device: Device;
  readonly months: ReadonlyMap<Day, number | null>;
}

function monthTotals(counted: readonly Counted[]): Map<Day, number | null> {
  const sums = new Map<Day, number | null>();
  for (const { months } of counted) for (const month of months.keys()) sums.set(month, 0);
  const used = new Set<Day>();
  for (const { device, months } of counted) {
    const began = firstMonth(device.commissioned, months);
    for (const [month, sum] of sums) {
      const count = months.get(month) ?? null;
      // Before it came and after it left, a device without a count has none to give.
      if (count === null && (month < began || mayHaveLeft(device))) continue;
      used.add(month);
      sums.set(month, count === null || sum === null ? null : sum + count);
    }
  }
  return new Map([...sums].filter(([month]) => used.has(month)));
}

function countsByDevice({ counts, ours }: Reading): Map<string, Map<Day, number | null>> {
  const end = monthStart(ours.settings.reportDate);
  const first = addMonths(end, -HISTORY);
  const counted = new Map<string, Map<Day, number | null>>();
  for (const { device, month, count, faulty } of counts) {
    if (month >= end || month < first) continue;
    const key = keyOf(device);
    const uses = faulty ? null : usable(count, ours.settings);
    const months = counted.get(key);
    if (months === undefined) counted.set(key, new Map([[month, uses]]));
    else months.set(month, uses);
  }
  return counted;
}

function usable(count: number | null, settings: Settings): number | null {
  return count === 0 && !settings.zeroCounts ? null : count;
}

function firstMonth(commissioned: Day | null, months: ReadonlyMap<Day, number | null>): number {
  const counted = [...months].flatMap(([month, count]) => (count === null ? [] : [month]));
  const first = counted.length === 0 ? Infinity : Math.min(...counted);
  return commissioned === null ? first : Math.max(first, monthStart(commissioned));
}
