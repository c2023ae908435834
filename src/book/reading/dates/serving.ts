import type { Day } from "../../../core/day.ts";
import { keyOf, pageNamed } from "../../workbook/cells.ts";
import { eachRegister } from "../../records/registers.ts";
import { readDates } from "./date-columns.ts";
import { BookError } from "../../workbook/errors.ts";
import { jobIndex } from "../../records/job-index.ts";
import { listed } from "../../records/problems.ts";
import type { Device, Reading } from "../../records/records.ts";
import { mayHaveLeft } from "../../records/retired-words.ts";
import { siteOf } from "../../records/site-names.ts";
import type { Snapshot } from "../../workbook/snapshot.ts";

/** A device with the days it is in service. */
export interface Serving {
  readonly device: Device;
  /** Its place among the devices of the reading. */
  readonly at: number;
  readonly site: string;
  /** First day in service; null where it is unknown: taken as in service all along. */
  readonly from: Day | null;
  /** First day out of service; null where none is set, or the one that is set is in doubt. */
  readonly end: Day | null;
  /** The same device stands in a row above: what it did is counted there. */
  readonly repeated: boolean;
}

/** The devices of some sites, and what was left out of them. */
export interface ServingFleet {
  readonly devices: readonly Serving[];
  readonly leftOut: readonly string[];
}

/** Sites as they are shown: a device without one has to stand somewhere. */
export const NO_SITE = "no site";

/**
 * The devices of these sites (all where none is named), each at the site it has now. One that has left
 * on a day that nobody wrote is left out.
 */
export function servingFleet(
  snapshot: Snapshot,
  reading: Reading,
  asked: readonly string[],
): ServingFleet {
  const sites = sitesAsked(reading, asked);
  const retiredOn = retirements(snapshot, reading);
  const seen = new Set<string>();
  const undated: string[] = [];
  const nameOf = siteNames(reading);
  const devices = reading.devices.flatMap((device, at): Serving[] => {
    const { key } = device;
    const site = nameOf(device);
    if (sites !== null && !sites.has(keyOf(site))) return [];
    const end = leavesOn(device, retiredOn.get(device) ?? null, reading);
    if (device.retired && end === null) {
      undated.push(device.id);
      return [];
    }
    const repeated = seen.has(key);
    seen.add(key);
    return [{ device, at, site, from: cameOn(device, reading), end, repeated }];
  });
  const leftOut =
    undated.length === 0 ? [] : [`${listed(undated)}: retired, without a day in the register`];
  return { devices, leftOut };
}

/** Whether a device is in service on a day. */
export function servesOn({ from, end }: Serving, date: Day): boolean {
  return (from === null || from <= date) && (end === null || end > date);
}

/** Site of a device: its code from Sites, else as first written, whatever the case. */
export function siteNames(reading: Reading): (device: Device) => string {
  const names = new Map<string, string>();
  const found = reading.devices.map((device): string => {
    const site = siteOf(reading.ours.sites, device.site) || NO_SITE;
    const name = names.get(keyOf(site)) ?? site;
    names.set(keyOf(site), name);
    return name;
  });
  const byDevice = new Map(reading.devices.map((device, at) => [device, found[at] ?? NO_SITE]));
  return (device) => byDevice.get(device) ?? NO_SITE;
}

/** Keys of the sites asked for, null for all; an unknown one would be a question ignored. */
function sitesAsked(reading: Reading, asked: readonly string[]): ReadonlySet<string> | null {
  if (asked.length === 0) return null;
  const nameOf = siteNames(reading);
  const known = new Map(
    [...reading.ours.sites.map(({ code }) => code.trim()), ...reading.devices.map(nameOf)].map(
      (site) => [keyOf(site), site],
    ),
  );
  return new Set(
    asked.map((text) => {
      const key = keyOf(siteOf(reading.ours.sites, text));
      if (known.has(key)) return key;
      const names = listed([...known.values()].sort(), 10);
      throw new BookError(`the site must be one of the book's (${names}), got "${text}"`);
    }),
  );
}

/** The day a device has left or is to leave; one that is contradicted, or no day at all, is none. */
function leavesOn(device: Device, written: Day | null, { ours }: Reading): Day | null {
  if (written === null || (!device.retired && mayHaveLeft(device))) return null;
  return device.retired || written > ours.settings.reportDate ? written : null;
}

/** The day a device came; none where it was worked with before. */
function cameOn({ commissioned, key, lastDone }: Device, { ours }: Reading): Day | null {
  if (commissioned === null) return null;
  const isBefore = ({ date }: { readonly date: Day | null }): boolean =>
    date !== null && date < commissioned;
  return lastDone.some(isBefore) || jobIndex(ours).ofDevice(key).some(isBefore)
    ? null
    : commissioned;
}

/** The days of retirement as they are written. */
function retirements(snapshot: Snapshot, reading: Reading): ReadonlyMap<Device, Day | null> {
  return new Map(
    eachRegister(reading).flatMap(({ register, devices, ours }) => {
      const match = register.matches.find(({ field }) => field === "retiredOn");
      const page = pageNamed(snapshot, register.sheet);
      if (match === undefined || page === null) return [];
      const { column, heading } = match;
      const stated = ours.settings.dayOrder;
      const { dates } = readDates(page, {
        column,
        heading,
        rows: register.rows,
        stated,
        language: null,
      });
      return devices.map((device, at): [Device, Day | null] => [device, dates[at] ?? null]);
    }),
  );
}
