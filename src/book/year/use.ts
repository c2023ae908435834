import { DAYS_PER_MONTH } from "../../core/counts.ts";
import { addMonths, type Day, monthStart } from "../../core/day.ts";
import { NoAnswerError } from "../../core/errors.ts";
import { usageAhead } from "../../core/ahead.ts";
import { onePerKey } from "../records/device-key.ts";
import type { Ours, Reading } from "../records/records.ts";
import { mayHaveLeft } from "../records/retired-words.ts";
import { siteOf } from "../records/site-names.ts";
import { eachOf, type Steps } from "../workbook/steps.ts";
import { usageOf } from "../columns/usage.ts";
import { siteTotals } from "./total.ts";

/** Uses in one calendar month. */
export interface UseMonth {
  readonly month: Day;
  readonly uses: number;
  readonly low: number | null;
  readonly high: number | null;
}

/** What a site, or the whole programme, was and will be used. */
interface Use {
  /** Site code; "" is a device without a site. */
  readonly site: string;
  /** Months with a complete count, oldest first. */
  readonly history: readonly UseMonth[];
  /** Months to come; empty where there are too few counts. */
  readonly ahead: readonly UseMonth[];
  /** Months of the last year in which some device's count is missing. */
  readonly missing: readonly Day[];
}

/** Usage of the programme, its sites and its devices. */
export interface UseAhead {
  readonly programme: Use;
  readonly sites: readonly Use[];
  /** Uses a month of 30.436875 days to be expected over the time ahead, by device key; absent where nothing can be said. */
  readonly devices: ReadonlyMap<string, number>;
}

/** How far, and under which assumption of volume. */
export interface UseRequest {
  readonly months: number;
  readonly level: number;
  /** Share by which usage is taken to change, such as 0.1. */
  readonly volume: number;
  /** Take sessions from births where the Sites sheet has them. */
  readonly births: boolean;
}

/**
 * Usage ahead: forecast site by site, each device taking its recent share of its site, so that devices
 * add up to sites and sites to the programme. A month in which a device in service has no count is no
 * month of its site: it is passed over, never taken as smaller.
 */
export function* useSteps(reading: Reading, request: UseRequest): Steps<UseAhead> {
  const totals = siteTotals(reading);
  yield;
  const from = monthStart(reading.ours.settings.reportDate);
  if (request.births) {
    for (const site of bornAt(reading)) {
      totals.set(site, totals.get(site) ?? new Map<Day, number | null>());
    }
  }
  const sites = yield* eachOf(totals, ([site, months]) =>
    siteUse({ site, months, from, request }, reading),
  );
  return {
    sites,
    programme: sumOfSites(sites, from, request),
    devices: deviceUses(reading, sites, request),
  };
}

/** A site's counts so far, and what is asked of them. */
interface SiteHistory {
  readonly site: string;
  readonly months: ReadonlyMap<Day, number | null>;
  readonly from: Day;
  readonly request: UseRequest;
}

function siteUse({ site, months, from, request }: SiteHistory, { ours }: Reading): Use {
  const factor = ours.settings.countsBabies ? ours.settings.rescreenFactor : 1;
  const ordered = [...months].sort(([one], [other]) => one - other);
  const known = ordered.flatMap(([month, count]) =>
    count === null ? [] : [{ month, uses: count * factor, low: null, high: null }],
  );
  return {
    site,
    history: known,
    ahead: byBirths(site, forecast(known, from, request, false), { from, request, ours }),
    missing: missingMonths(months, from),
  };
}

/** Sites with births. */
function bornAt({ ours, devices }: Reading): string[] {
  const here = new Set(devices.map(({ site }) => siteOf(ours.sites, site)));
  return ours.sites
    .filter(({ code, births }) => births !== null && here.has(code.trim()))
    .map(({ code }) => code.trim());
}

/** Sessions from births, spread over the months as the counts suggest, else by their days. */
function byBirths(
  site: string,
  ahead: readonly UseMonth[],
  {
    from,
    request,
    ours,
  }: { readonly from: Day; readonly request: UseRequest; readonly ours: Ours },
): readonly UseMonth[] {
  const births = ours.sites.find(({ code }) => code.trim() === site)?.births ?? null;
  if (!request.births || births === null) return ahead;
  const { coverage, rescreenFactor } = ours.settings;
  const whole = births * coverage * rescreenFactor * (1 + request.volume) * (request.months / 12);
  const shape = Array.from({ length: request.months }, (_, at) => {
    const month = addMonths(from, at);
    return { month, weight: ahead[at]?.uses ?? addMonths(month, 1) - month };
  });
  const weights = shape.reduce((sum, { weight }) => sum + weight, 0);
  return shape.map(({ month, weight }) => ({
    month,
    uses: weights === 0 ? 0 : (whole * weight) / weights,
    low: null,
    high: null,
  }));
}

/** Ended months of the last year without a complete count, up to the one before the report date. */
function missingMonths(months: ReadonlyMap<Day, number | null>, from: Day): Day[] {
  if (months.size === 0) return [];
  const first = Math.min(...months.keys());
  return Array.from({ length: 12 }, (_, back) => addMonths(from, back - 12)).filter(
    (month) => month >= first && (months.get(month) ?? null) === null,
  );
}

/** Months to come from the running one on; none where there are fewer than three counts. */
function forecast(
  known: readonly UseMonth[],
  from: Day,
  { months, level, volume }: UseRequest,
  limits: boolean,
): UseMonth[] {
  const last = known.at(-1)?.month;
  if (last === undefined) return [];
  let gap = 0;
  for (let month = addMonths(last, 1); month < from; month = addMonths(month, 1)) gap += 1;
  try {
    const ahead = usageAhead(
      known.map(({ uses }) => uses),
      known.map(({ month }) => month),
      { months: gap + months, level, zeroCounts: true, limits },
    );
    const more = 1 + volume;
    return ahead.slice(gap).map(({ month, expected, low, high }) => ({
      month,
      uses: expected * more,
      low: low === null ? null : low * more,
      high: high === null ? null : high * more,
    }));
  } catch (error) {
    if (error instanceof NoAnswerError) return [];
    throw error;
  }
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

/** Each device's share of its site by the last counts, times what is expected of the site. */
function deviceUses(
  { devices, counts, ours }: Reading,
  sites: readonly Use[],
  { volume, births }: UseRequest,
): ReadonlyMap<string, number> {
  const usage = usageOf(counts, ours.settings);
  // What may have left takes no share of its site's use, and a device that stands twice takes one: else
  // the others would seem to be used less.
  const inService = onePerKey(devices.filter((device) => !mayHaveLeft(device))).map(
    ({ key, site }) => ({
      key,
      site: siteOf(ours.sites, site),
      own: usage.get(key)?.uses ?? null,
    }),
  );
  const wholes = new Map<string, { uses: number; devices: number }>();
  for (const { site, own } of inService) {
    const whole = wholes.get(site) ?? { uses: 0, devices: 0 };
    wholes.set(site, { uses: whole.uses + (own ?? 0), devices: whole.devices + 1 });
  }
  const rates = new Map(sites.map((use) => [use.site, rateAhead(use)]));
  const expected = new Map<string, number>();
  for (const { key, site, own } of inService) {
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

/** Uses a month over the whole time ahead, months being of different length. */
function rateAhead({ ahead }: Use): number | null {
  if (ahead.length === 0) return null;
  const days = ahead.reduce((sum, { month }) => sum + addMonths(month, 1) - month, 0);
  return (ahead.reduce((sum, { uses }) => sum + uses, 0) / days) * DAYS_PER_MONTH;
}

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
