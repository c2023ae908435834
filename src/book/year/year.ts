import { bestInterval, weibullAgeing } from "../../core/age.ts";
import { failedBefore } from "../../core/life.ts";
import type { Day } from "../../core/day.ts";
import type { Reading } from "../records/records.ts";
import { calendarOf } from "../records/work-calendar.ts";
import type { Snapshot } from "../workbook/snapshot.ts";
import { eachOf, finished, type Steps } from "../workbook/steps.ts";
import { costsOf } from "./costs.ts";
import { fleetSteps } from "./fleet.ts";
import { type Horizon, monthsAhead } from "./horizon.ts";
import { type PartYear, partYear } from "./need.ts";
import { useSpread } from "./use-spread.ts";
import { type UseAhead, useSteps } from "./use.ts";
import { wearOf, type WearFound } from "./wear.ts";
import { suppose, type WhatIf } from "./what-if.ts";

/** What is asked of the year ahead. */
export interface YearRequest {
  /** Whole months from the report date. */
  readonly months: number;
  readonly level: number;
  readonly whatIf: WhatIf;
  /** Sessions from births instead of counts, where the Sites sheet has births. */
  readonly births?: boolean;
}

/** A year as it is usually asked for: twelve months, limits that hold in nine cases of ten. */
export const USUAL_YEAR = { months: 12, level: 0.9 };

/** The year ahead of the whole programme. */
export interface Year {
  readonly horizon: Horizon;
  /** First days of the calendar months, the first and the last of which are there in part. */
  readonly months: readonly Day[];
  readonly use: UseAhead;
  readonly parts: readonly PartYear[];
  readonly leftOut: readonly string[];
  readonly estimated: readonly string[];
  readonly whatIf: WhatIf;
  /** The reading as the what-if assumes it, and as it is. */
  readonly reading: Reading;
  readonly actual: Reading;
}

/** Works out the year ahead. Throws a BookError for a what-if that cannot be. */
export function yearAhead(snapshot: Snapshot, reading: Reading, request: YearRequest): Year {
  return finished(yearSteps(snapshot, reading, request));
}

/** The same in steps. */
export function* yearSteps(
  snapshot: Snapshot,
  reading: Reading,
  request: YearRequest,
): Steps<Year> {
  const { months, level, whatIf, births = false } = request;
  const supposed = suppose(reading, whatIf);
  const ours = { ...reading.ours, parts: supposed.parts, sites: supposed.sites };
  const changed: Reading = { ...reading, ours };
  // The work of a device that is assumed to leave falls to the others at its site.
  const staying = reading.devices.map((device) =>
    supposed.retired.has(device.key) ? { ...device, retired: true } : device,
  );
  const use = yield* useSteps(
    { ...changed, devices: staying },
    { months, level, volume: whatIf.volume, births },
  );
  const { reportDate } = ours.settings;
  const spread = useSpread(use, months);
  // Holidays of which nobody knows the day move what is due by then, not the months of a year.
  const calendar = { ...calendarOf(ours), unknown: 0 };
  const horizon: Horizon = { reportDate, months, level, spread, calendar };
  const { units, leftOut, estimated } = yield* fleetSteps(snapshot, changed, {
    use,
    whatIf,
    supposed,
  });
  const wanted = new Set(units.map(({ part }) => part));
  const parts = yield* eachOf(wanted, (part) =>
    partYear(
      part,
      units.filter((unit) => unit.part === part),
      whatIf.wear === "none" ? NO_WEAR : wearOf(changed, part),
      horizon,
    ),
  );
  return {
    horizon,
    months: monthsAhead(horizon),
    use,
    parts,
    leftOut,
    estimated,
    whatIf,
    reading: changed,
    actual: reading,
  };
}

const NO_WEAR: WearFound = { lifetimes: [], failures: 0, months: 0, wear: null };

/** Whether a part's limits fit the wear seen: the share worn before each end, with limits. */
export interface Fit {
  readonly months: number;
  readonly share: number;
  readonly low: number;
  readonly high: number;
}

/** The interval of least cost, never longer than Parts allows. */
export interface Advice {
  readonly months: number;
  readonly cost: number;
  readonly atShortest: number;
  readonly atLongest: number;
}

/** Share worn before the shortest and the longest interval; null without a fitted life. */
export function fitsOf({ part, wear }: PartYear): readonly Fit[] | null {
  const life = wear.wear;
  if (life === null || !("shape" in life)) return null;
  return [...new Set([part.shortest, part.longest])].flatMap((months) =>
    months === null ? [] : [{ months, ...failedBefore(months, life, 0.95) }],
  );
}

/** What the interval of least cost would be; null without a fitted life or the costs of both kinds. */
export function adviceOf({ part, wear }: PartYear): Advice | null {
  const life = wear.wear;
  const costs = costsOf(part);
  const { shortest, longest } = part;
  if (life === null || !("shape" in life) || costs === null) return null;
  if (shortest === null || longest === null) return null;
  const found = bestInterval({ ageing: weibullAgeing(life), costs, shortest, longest });
  return {
    ...found.best,
    atShortest: found.shortest.cost,
    atLongest: found.longest.cost,
  };
}
