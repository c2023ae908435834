import { addMonths, civilDate, civilDay, day, type Day, daysInMonth } from "../../core/day.ts";
import { outOfLine } from "../../core/outlier.ts";
import { workCalendar } from "../../core/workday.ts";
import { DEFAULT_PARTS } from "../records/parts.ts";
import type { ShelfRow } from "../sheets/shelf.ts";
import { bareSite } from "../sheets/sites.ts";
import { shelfOf } from "./shelf.ts";
import type { Part, Site, Supply } from "../records/records.ts";
import { type Chance, chance } from "./chance.ts";
import { lifeOf, type LoggedJob } from "./life.ts";

/**
 * The invented programme of the demonstration: Velloran Region, eight sites by code, 34 devices in
 * service. Nothing in it is taken from a real programme; both usage thresholds are invented too.
 */
export const REPORT_DATE = day("2026-07-06");
const FIRST_MONTH = day("2024-07-01");
export const MONTHS = 24;

/** Births a year and devices, by site. */
const SITES = [
  { code: "S01", births: 4200, devices: 9, trend: 0, wipes: "alcohol-free" },
  { code: "S02", births: 2900, devices: 7, trend: 0.04, wipes: "alcohol-free" },
  { code: "S03", births: 2100, devices: 5, trend: 0, wipes: "alcohol-free" },
  { code: "S04", births: 1600, devices: 4, trend: 0, wipes: "alcohol" },
  { code: "S05", births: 1150, devices: 3, trend: 0, wipes: "alcohol-free" },
  { code: "S06", births: 780, devices: 3, trend: -0.06, wipes: "alcohol-free" },
  { code: "S07", births: 420, devices: 2, trend: 0, wipes: "alcohol-free" },
  { code: "S08", births: 150, devices: 1, trend: 0, wipes: "alcohol" },
] as const;

/**
 * Births per day by calendar month against the year's mean. Computed from the US daily births
 * 2000-2014 published under CC BY 4.0 (github.com/fivethirtyeight/data, births).
 */
const SEASON = [
  0.9611, 0.9818, 0.98, 0.9713, 0.9844, 1.0108, 1.0328, 1.0498, 1.0572, 1.0048, 0.9807, 0.9843,
] as const;

const COVERAGE = 0.985;
const SESSIONS_PER_BABY = 1.045;
/** Months from the first in which S07 was closed: a true zero, not a blank. */
const CLOSED = { site: "S07", from: 8, to: 9 } as const;
/** Month from the first in which one device moved from S03 to S05. */
const MOVE_MONTH = 13;
/** The loaner served five weeks, in two months. */
const LOAN = { from: 15, to: 16, until: day("2025-11-07") } as const;

/** A device of the demonstration. counts[i] belongs to the i-th month; null before it was there. */
export interface DemoDevice {
  readonly id: string;
  readonly site: string;
  readonly serial: string;
  readonly commissioned: Day;
  readonly retiredOn: Day | null;
  readonly counts: readonly (number | null)[];
  readonly lastDone: Readonly<Record<string, Day>>;
}

/** The whole programme before it becomes a workbook. */
export interface Programme {
  readonly devices: readonly DemoDevice[];
  readonly jobs: readonly LoggedJob[];
  readonly parts: readonly Part[];
  readonly sites: readonly Site[];
  readonly holidays: readonly { readonly date: Day; readonly name: string }[];
  readonly shelf: readonly ShelfRow[];
}

const HOLIDAYS = [
  { date: day("2025-12-25"), name: "Winter holiday" },
  { date: day("2025-12-26"), name: "Winter holiday" },
  { date: day("2026-01-01"), name: "New year" },
  { date: day("2026-05-01"), name: "Spring holiday" },
  { date: day("2026-12-25"), name: "Winter holiday" },
  { date: day("2027-01-01"), name: "New year" },
] as const;

/** Start days at which a month's end can go wrong. */
const AWKWARD_STARTS = [day("2024-02-29"), day("2023-08-31"), day("2024-05-31"), day("2023-12-31")];

/** How the parts are bought; prices, item numbers and lead times are invented. */
const SUPPLIES: Readonly<Record<string, Partial<Supply>>> = {
  SET: {
    pack: 1,
    packPrice: 100,
    earlyCost: 160,
    leadDays: 33,
    leadSpread: 8,
    shelfMonths: 24,
    ourItem: "004711",
    supplierItem: "EL-0100",
    makerItem: "0100-S",
    supplier: "Supplier A",
    quote: "Q-2026-014",
  },
  CUSHION: {
    pack: 5,
    packPrice: 200,
    earlyCost: 90,
    leadDays: 33,
    leadSpread: 8,
    shelfMonths: 36,
    ourItem: "004712",
    supplierItem: "EC-0040",
    makerItem: "0040-C",
    supplier: "Supplier A",
    quote: "Q-2026-014",
  },
};

/** First day of the i-th month. */
export function monthAt(index: number): Day {
  return addMonths(FIRST_MONTH, index);
}

/** The demonstration programme of a seed. */
export function programme(seed: number): Programme {
  const random = chance(seed);
  const parts = DEFAULT_PARTS.map((part) =>
    part.task
      ? part
      : { ...part, lightUse: 20, heavyUse: 60, supply: { ...part.supply, ...SUPPLIES[part.code] } },
  );
  const calendar = workCalendar(
    1,
    HOLIDAYS.map(({ date }) => date),
  );
  const jobs: LoggedJob[] = [];
  const devices = devicesOf(random).map((device) => {
    const life = lifeOf({ device, parts, random, calendar, reportDate: REPORT_DATE });
    jobs.push(...life.jobs);
    return { ...device, lastDone: life.lastDone };
  });
  jobs.sort((one, other) => one.date - other.date || one.device.localeCompare(other.device, "en"));
  return {
    devices,
    jobs,
    parts,
    sites: SITES.map(({ code, wipes, births }) => ({
      ...bareSite(code),
      wipes,
      shipTo: `Stores, ${code}`,
      costCentre: `0${code.slice(1)}40`,
      births,
    })),
    holidays: HOLIDAYS,
    shelf: shelfOf(
      SITES.map(({ code }) => code),
      random,
    ),
  };
}

type Bare = Omit<DemoDevice, "lastDone">;

function devicesOf(random: Chance): Bare[] {
  const devices: Bare[] = [];
  for (const site of SITES) {
    const sessions = Array.from({ length: MONTHS }, (_, index) =>
      siteSessions(site, index, random),
    );
    const weights = Array.from({ length: site.devices }, () => random.gamma(4));
    const total = weights.reduce((sum, weight) => sum + weight, 0);
    for (const weight of weights) {
      const number = devices.length + 1;
      devices.push({
        id: `VR-${String(100 + number)}`,
        site: site.code,
        serial: `80${String(41000 + number * 37)}`,
        commissioned: startOf(number, random),
        retiredOn: null,
        counts: countsOf(
          sessions.map((all) => (all * weight) / total),
          random,
        ),
      });
    }
  }
  return [...moved(devices), loaner(random)];
}

/** Counts about their means. One so far out of line that check asks about it is no part of a clean book. */
function countsOf(means: readonly number[], random: Chance): number[] {
  const counts = means.map((mean) => (mean === 0 ? 0 : random.poisson(mean)));
  const sides = outOfLine(counts);
  return counts.map((count, at) =>
    count === 0 || sides[at] === null ? count : Math.round(means[at] ?? count),
  );
}

function siteSessions(site: (typeof SITES)[number], index: number, random: Chance): number {
  if (site.code === CLOSED.site && index >= CLOSED.from && index <= CLOSED.to) return 0;
  const { year, month } = civilDate(monthAt(index));
  const days = daysInMonth(year, month);
  const trend = 1 + (site.trend * index) / 12;
  const mean = (site.births / 365) * COVERAGE * SESSIONS_PER_BABY * (SEASON[month - 1] ?? 1) * days;
  return random.poisson(mean * trend);
}

function startOf(number: number, random: Chance): Day {
  const awkward = number % 8 === 0 ? AWKWARD_STARTS[number / 8 - 1] : undefined;
  return awkward ?? civilDay(2023, 1 + random.below(12), 1 + random.below(28));
}

/** The last device of S03 now stands at S05: its counts go on, its site is the new one. */
function moved(devices: readonly Bare[]): Bare[] {
  const at = devices.map((device) => device.site).lastIndexOf("S03");
  return devices.map((device, index) => {
    if (index !== at) return device;
    // Half a month's work was done at either site; the counts are the device's own.
    const counts = device.counts.map((count, month) =>
      month > MOVE_MONTH && count !== null ? Math.round(count * 0.9) : count,
    );
    return { ...device, site: "S05", counts };
  });
}

function loaner(random: Chance): Bare {
  return {
    id: "VR-190",
    site: "S01",
    serial: "8049990",
    commissioned: monthAt(LOAN.from),
    retiredOn: LOAN.until,
    counts: Array.from({ length: MONTHS }, (_, index) =>
      index < LOAN.from || index > LOAN.to ? null : 10 + random.below(20),
    ),
  };
}
