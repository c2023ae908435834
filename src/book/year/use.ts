import { DAYS_PER_MONTH } from "../../core/counts.ts";
import { addMonths, type Day, monthStart } from "../../core/day.ts";
import { onePerKey } from "../records/device-key.ts";
import type { Reading } from "../records/records.ts";
import { mayHaveLeft } from "../records/retired-words.ts";
import { siteOf } from "../records/site-names.ts";
import { eachOf, type Steps } from "../workbook/steps.ts";
import { usageOf } from "../columns/usage.ts";
import { forecast, siteUse, type Use, type UseMonth, type UseRequest } from "./site-use.ts";
import { siteTotals } from "./total.ts";

/** Usage of the programme, its sites and its devices. */
export interface UseAhead {
  readonly programme: Use;
  readonly sites: readonly Use[];
  /** Uses a month of 30.436875 days to be expected over the time ahead, by device key; absent where nothing can be said. */
  readonly devices: ReadonlyMap<string, number>;
}

/**
 * Usage ahead: forecast site by site, each device taking its recent share of its site, so that devices
 * add up to sites and sites to the programme. A month in which a device in service has no count is no
 * month of its site: it is passed over, or taken as the most it can have been where that gives more.
 */
export function* useSteps(reading: Reading, request: UseRequest): Steps<UseAhead> {
  const hasPeaks = reading.counts.some(({ outOfLine }) => outOfLine === "high");
  const totalsOf = siteTotals(reading, hasPeaks);
  const totals = totalsOf("counted");
  const others = [totalsOf("filled"), totalsOf("with newcomers")];
  if (hasPeaks) others.push(totalsOf("without peaks"));
  yield;
  const from = monthStart(reading.ours.settings.reportDate);
  if (request.births) {
    for (const site of bornAt(reading)) {
      totals.set(site, totals.get(site) ?? new Map<Day, number | null>());
    }
  }
  const sites = yield* eachOf(totals, ([site, months]) =>
    siteUse(
      { site, months, others: others.flatMap((one) => one.get(site) ?? []), from, request },
      reading,
    ),
  );
  return {
    sites,
    programme: sumOfSites(sites, from, request),
    devices: deviceUses(reading, sites, request),
  };
}

/** Sites with births. */
function bornAt({ ours, devices }: Reading): string[] {
  const here = new Set(devices.map(({ site }) => siteOf(ours.sites, site)));
  return ours.sites
    .filter(({ code, births }) => births !== null && here.has(code.trim()))
    .map(({ code }) => code.trim());
}

/** The programme: sums of its sites; limits from its own past, where every site has a count. */
function sumOfSites(sites: readonly Use[], from: Day, request: UseRequest): Use {
  const counted = sites.filter(({ history, ahead }) => history.length + ahead.length > 0);
  const sums = new Map<Day, { uses: number; sites: number }>();
  for (const { history } of counted) {
    for (const { month, uses } of history) {
      const sum = sums.get(month) ?? { uses: 0, sites: 0 };
      sums.set(month, { uses: sum.uses + uses, sites: sum.sites + 1 });
    }
  }
  const began = counted.flatMap(({ history }) => history[0]?.month ?? []);
  const complete = [...sums]
    .filter(([month, { sites: there }]) => there === began.filter((first) => first <= month).length)
    .sort(([one], [other]) => one - other)
    .map(([month, { uses }]) => ({ month, uses, low: null, high: null }));
  const own = forecast(complete, from, request, true);
  const ahead = Array.from({ length: request.months }, (_, at): UseMonth => {
    const uses = counted.reduce((sum, site) => sum + (site.ahead[at]?.uses ?? 0), 0);
    const shape = own[at];
    const width = (limit: number | null | undefined): number | null =>
      shape === undefined || limit === null || limit === undefined
        ? null
        : Math.max(0, uses + limit - shape.uses);
    return {
      month: addMonths(from, at),
      uses,
      low: width(shape?.low),
      high: width(shape?.high),
    };
  });
  return {
    site: "",
    history: complete,
    ahead: counted.some((site) => site.ahead.length > 0) ? ahead : [],
    missing: [...new Set(sites.flatMap(({ missing }) => missing))].sort((a, b) => a - b),
  };
}

/** A device and what its own counts say of it. */
interface Counting {
  readonly key: string;
  readonly site: string;
  readonly own: number | null;
  readonly least: number | null;
}

/** Each device's share of its site by the last counts, times what is expected of the site. */
function deviceUses(
  reading: Reading,
  sites: readonly Use[],
  { volume, births }: UseRequest,
): ReadonlyMap<string, number> {
  const counting = countingOf(reading);
  const wholes = wholesOf(counting);
  const rates = new Map(sites.map((use) => [use.site, rateAhead(use)]));
  const expected = new Map<string, number>();
  for (const { key, site, own } of counting) {
    const whole = wholes.get(site) ?? { uses: 0, devices: 1 };
    const ahead = rates.get(site) ?? null;
    // Where births alone are known the devices of a site share its sessions alike.
    const alike = births && whole.uses === 0 && ahead !== null ? ahead / whole.devices : null;
    const share = ahead === null || whole.uses === 0 ? 1 + volume : ahead / whole.uses;
    const rate = alike ?? (own === null ? null : own * share);
    if (rate !== null) expected.set(key, rate);
  }
  return expected;
}

/**
 * What may have left takes no share of its site's use, and a device that stands twice takes one: else the
 * others would seem to be used less.
 */
function countingOf({ devices, counts, ours }: Reading): Counting[] {
  const usage = usageOf(counts, ours.settings);
  return onePerKey(devices.filter((device) => !mayHaveLeft(device))).map(({ key, site }) => {
    const { uses = null, least = null } = usage.get(key) ?? {};
    return { key, site: siteOf(ours.sites, site), own: uses, least };
  });
}

/** Uses of the devices of each site. What one is only feared to be used must not take from the others' share. */
function wholesOf(
  counting: readonly Counting[],
): ReadonlyMap<string, { readonly uses: number; readonly devices: number }> {
  const wholes = new Map<string, { uses: number; devices: number }>();
  for (const { site, least } of counting) {
    const whole = wholes.get(site) ?? { uses: 0, devices: 0 };
    wholes.set(site, { uses: whole.uses + (least ?? 0), devices: whole.devices + 1 });
  }
  return wholes;
}

/** Uses a month over the whole time ahead, months being of different length. */
function rateAhead({ ahead }: Use): number | null {
  if (ahead.length === 0) return null;
  const days = ahead.reduce((sum, { month }) => sum + addMonths(month, 1) - month, 0);
  return (ahead.reduce((sum, { uses }) => sum + uses, 0) / days) * DAYS_PER_MONTH;
}

/** What is done with months that have no complete count, the second half of a sentence. */
export const PASSED_OVER =
  "those months are skipped, or taken as the most they can have been where that gives more";

/** Each month passed over, with the sites whose counts are not complete, such as "2026-03 (S02)". */
export function missingTexts(
  { programme, sites }: UseAhead,
  text: (month: Day) => string,
): string[] {
  return programme.missing.map((month) => {
    const here = sites.filter(({ missing }) => missing.includes(month));
    return `${text(month)} (${here.map(({ site }) => site || "no site").join(", ")})`;
  });
}
