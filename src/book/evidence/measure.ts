import { type Compliance, complianceRate } from "../../core/compliance.ts";
import { isoText } from "../../core/day.ts";
import { listed } from "../records/problems.ts";
import type { FindingRecord } from "./finding.ts";
import { ALL_SITES, type SiteWeek } from "./inspections.ts";
import type { LotFitted } from "./lots.ts";
import type { Turn } from "./on-time.ts";
import { weekText } from "./period.ts";

/** What was done of what was due, for one site or for all. */
export interface Measure {
  readonly name: string;
  readonly site: string;
  readonly due: number;
  readonly done: number;
  /** Limits of the share; null where nothing was due, or where a share of all there is needs none. */
  readonly kept: Compliance | null;
  /** What is missing, in words. */
  readonly missing: string;
}

/** What the measures are made of. */
export interface Kinds {
  readonly siteWeeks: readonly SiteWeek[];
  readonly turns: readonly Turn[];
  readonly findings: readonly FindingRecord[];
  readonly lots: readonly LotFitted[];
}

/** One thing counted: where, how much was due and done, and its name where something is missing. */
interface Counted {
  readonly site: string;
  readonly due: number;
  readonly done: number;
  readonly name: string;
}

/** All measures: all sites together, then what has gaps, then the rest. */
export function measuresOf({ siteWeeks, turns, findings, lots }: Kinds): Measure[] {
  const all = [
    ...measured(
      "Inspections kept",
      siteWeeks.map(({ site, due, kept, monday }) => ({
        site,
        due,
        done: kept,
        name: weekText(monday),
      })),
      true,
    ),
    ...measured("Replaced on time", turns.filter(({ part }) => !part.task).map(turnCounted), true),
    ...measured("Tasks on time", turns.filter(({ part }) => part.task).map(turnCounted), true),
    ...measured("Findings closed", findings.map(findingCounted), false),
    ...measured("Lots known", lots.map(lotCounted), false),
  ];
  const rank = ({ site, due, done }: Measure): number =>
    site === ALL_SITES ? 0 : done < due ? 1 : 2;
  return all.sort((one, other) => rank(one) - rank(other));
}

function turnCounted({ site, device, part, daysLate, done }: Turn): Counted {
  const how = done === null ? "not done" : `${daysLate} d late`;
  return { site, due: 1, done: daysLate === 0 ? 1 : 0, name: `${device} ${part.code} (${how})` };
}

function findingCounted({ site, device, part, found, closed }: FindingRecord): Counted {
  const what = part === null ? "" : ` ${part.code}`;
  const since = found === null ? "" : ` (${isoText(found)})`;
  return { site, due: 1, done: closed === null ? 0 : 1, name: `${device}${what}${since}` };
}

function lotCounted({ site, device, part, lot }: LotFitted): Counted {
  return { site, due: 1, done: lot === "" ? 0 : 1, name: `${device} ${part.code}` };
}

const NAMED = 6;

/** A measure for each site that has something to count, and for all together. */
function measured(name: string, counted: readonly Counted[], limits: boolean): Measure[] {
  const bySite = new Map<string, Counted[]>();
  for (const one of counted) {
    const here = bySite.get(one.site);
    if (here === undefined) bySite.set(one.site, [one]);
    else here.push(one);
  }
  const of = (site: string, here: readonly Counted[]): Measure => {
    const due = here.reduce((sum, one) => sum + one.due, 0);
    const done = here.reduce((sum, one) => sum + one.done, 0);
    const lacking = here.filter((one) => one.done < one.due).map((one) => one.name);
    const kept = limits && due > 0 ? complianceRate(done, due) : null;
    const missing = site === ALL_SITES ? "" : listed(lacking, NAMED);
    return { name, site, due, done, kept, missing };
  };
  const sites = [...bySite].sort(([one], [other]) => one.localeCompare(other, "en"));
  return [of(ALL_SITES, counted), ...sites.map(([site, here]) => of(site, here))];
}
