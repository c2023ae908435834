import { addMonths } from "../../core/day.ts";
import { RECENT_MONTHS, type Usage } from "../columns/usage.ts";
import type { Device, Reading } from "../records/records.ts";
import { siteByCode } from "../records/site-names.ts";

/** What an estimate of a device's uses goes by. */
interface Beside {
  readonly reading: Reading;
  /** Sites whose counts give a forecast. */
  readonly counted: ReadonlySet<string>;
  /** Usage by device key, where a site has an estimate. */
  readonly usage: ReadonlyMap<string, Usage>;
}

/** An estimate replaces counts that a site is too new to have, never for counts that are faulty or late. */
export function estimateOf(
  device: Device,
  site: string,
  { reading, counted, usage }: Beside,
): number | null {
  if (counted.has(site) || !mayBeNew(device, reading)) return null;
  return mixed(guessAt(reading, site), usage.get(device.key)?.few ?? null);
}

/** Months in which three counts have come in. */
const COUNTED_AFTER = 6;

/** Where counts are kept, a device that has long been there without any has lost them. */
function mayBeNew({ commissioned }: Device, { counts, ours }: Reading): boolean {
  if (counts.length === 0 || commissioned === null) return true;
  return addMonths(commissioned, COUNTED_AFTER) > ours.settings.reportDate;
}

/** The estimate of a site too new to have counts. */
export function guessAt({ ours }: Reading, site: string): number | null {
  return siteByCode(ours.sites, site)?.expectedUses ?? null;
}

/**
 * An estimate mixed with the first counts, each of three months by one or the other. Few counts may be low by
 * chance, and would lengthen the interval: where they are lower the estimate stands.
 * A count in doubt may be any: there no estimate is believed.
 */
function mixed(guess: number | null, few: Usage["few"]): number | null {
  if (few === "in doubt") return null;
  if (guess === null || few === null) return guess;
  const share = few.months / RECENT_MONTHS;
  return Math.max(guess, share * few.uses + (1 - share) * guess);
}
