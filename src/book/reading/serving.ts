import type { Day } from "../../core/day.ts";
import { keyOf, pagesOf } from "../workbook/cells.ts";
import { type DateColumn, readDates } from "./date-columns.ts";
import { BookError } from "../workbook/errors.ts";
import { listed } from "../records/problems.ts";
import type { Device, Reading } from "../records/records.ts";
import { siteOf } from "../records/site-names.ts";
import type { Snapshot } from "../workbook/snapshot.ts";

/** A device with the days it is in service. */
export interface Serving {
  readonly device: Device;
  /** Its place among the devices of the reading. */
  readonly at: number;
  readonly site: string;
  /** First day in service; null where it is unknown: taken as in service all along. */
  readonly from: Day | null;
  /** First day out of service; null where none is set. */
  readonly end: Day | null;
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
 * on an unreadable day is left out; of one that is in the register twice the first row counts.
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
    const key = device.key;
    const site = nameOf(device);
    if (seen.has(key) || (sites !== null && !sites.has(keyOf(site)))) return [];
    seen.add(key);
    const end = retiredOn?.dates[at] ?? null;
    const gone = device.retired && (end === null || end > reading.ours.settings.reportDate);
    if (gone) undated.push(device.id);
    return gone ? [] : [{ device, at, site, from: device.commissioned, end }];
  });
  const leftOut =
    undated.length === 0
      ? []
      : [`${listed(undated)}: retired on a date that cannot be read from the register`];
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

function retirements(snapshot: Snapshot, { register, ours }: Reading): DateColumn | null {
  const match = register.matches.find(({ field }) => field === "retiredOn");
  const page = pagesOf(snapshot).find(({ sheet }) => sheet.name === register.sheet);
  if (match === undefined || page === undefined) return null;
  const { column, heading } = match;
  const stated = ours.settings.dayOrder;
  return readDates(page, { column, heading, rows: register.rows, stated });
}
