import { type Day, weekStart } from "../../core/day.ts";
import type { Part } from "../records/records.ts";
import type { EvidenceBasis } from "./period.ts";
import type { Serving } from "../reading/dates/serving.ts";

/** Inspections of one site in one ISO week, or of all sites. */
export interface SiteWeek {
  readonly site: string;
  readonly monday: Day;
  /** Devices in service the whole week. */
  readonly devices: number;
  readonly due: number;
  readonly kept: number;
  /** Devices that lack an inspection. */
  readonly missing: readonly string[];
}

/** Inspections kept, week by week. */
export interface Inspections {
  /** Every site and week in which a device was in service the whole week. */
  readonly siteWeeks: readonly SiteWeek[];
  /** The same for all sites together. */
  readonly weeks: readonly SiteWeek[];
  /** Weeks of devices that came or left in them, and are left out. */
  readonly partWeeks: number;
}

const WEEK = 7;
/** Name of all sites together. */
export const ALL_SITES = "All";

/** Distinct days of a week on which a part is to be inspected. */
export function timesDue(part: Part): number {
  return Math.max(0, Math.min(WEEK, Math.ceil(part.perWeek)));
}

interface InspectionBasis extends EvidenceBasis {
  readonly parts: readonly Part[];
}

/**
 * What was due and kept: distinct days for each device and part, at most as many a week as are due. A
 * week in which a device was in service only in part is left out for this device.
 */
export function inspectionCompliance({
  devices,
  parts,
  log,
  period,
}: InspectionBasis): Inspections {
  const inspected = parts.filter((part) => timesDue(part) > 0);
  const sums = new Map<string, Sum>();
  let partWeeks = 0;
  for (const serving of devices) {
    const done = inspected.map((part) => daysByWeek(log.of(serving.device.key, part).checks));
    for (const monday of period.weeks) {
      const share = servedShare(serving, monday);
      if (share === "part") partWeeks += 1;
      if (share !== "whole") continue;
      const sum = sumOf(sums, serving.site, monday);
      sum.devices += 1;
      const before = sum.due - sum.kept;
      inspected.forEach((part, at) => {
        const due = timesDue(part);
        sum.due += due;
        sum.kept += Math.min(due, done[at]?.get(monday) ?? 0);
      });
      if (sum.due - sum.kept > before) sum.missing.push(serving.device.id);
    }
  }
  const siteWeeks = [...sums.values()].sort(
    (one, other) => one.site.localeCompare(other.site, "en") || one.monday - other.monday,
  );
  return { siteWeeks, weeks: period.weeks.map((monday) => together(siteWeeks, monday)), partWeeks };
}

interface Sum extends SiteWeek {
  devices: number;
  due: number;
  kept: number;
  readonly missing: string[];
}

function sumOf(sums: Map<string, Sum>, site: string, monday: Day): Sum {
  const key = `${monday} ${site}`;
  const sum = sums.get(key) ?? { site, monday, devices: 0, due: 0, kept: 0, missing: [] };
  sums.set(key, sum);
  return sum;
}

function together(siteWeeks: readonly SiteWeek[], monday: Day): SiteWeek {
  const here = siteWeeks.filter((one) => one.monday === monday);
  const sum = (of: (one: SiteWeek) => number): number =>
    here.reduce((all, one) => all + of(one), 0);
  return {
    site: ALL_SITES,
    monday,
    devices: sum(({ devices }) => devices),
    due: sum(({ due }) => due),
    kept: sum(({ kept }) => kept),
    missing: here.flatMap(({ missing }) => missing),
  };
}

/** How much of a week a device was in service. */
function servedShare({ from, end }: Serving, monday: Day): "whole" | "part" | "none" {
  const begins = from === null ? monday : Math.max(from, monday);
  const ends = Math.min(end ?? Infinity, monday + WEEK);
  if (begins >= ends) return "none";
  return ends - begins === WEEK ? "whole" : "part";
}

function daysByWeek(days: ReadonlySet<Day>): ReadonlyMap<Day, number> {
  const weeks = new Map<Day, number>();
  for (const date of days) {
    const monday = weekStart(date);
    weeks.set(monday, (weeks.get(monday) ?? 0) + 1);
  }
  return weeks;
}
