import { type Chance, chance } from "../../src/book/demo/chance.ts";
import type { Job, Ours, Part } from "../../src/book/records/records.ts";
import type { Settings } from "../../src/book/records/settings.ts";
import { DAYS_PER_MONTH } from "../../src/core/counts.ts";
import { addMonths, type Day, day, daysInMonth, civilDate, isoText } from "../../src/core/day.ts";
import { partsWith, siteWith, type Small } from "../scenes/programme.ts";
import { bookOf, jobOf, on, oursOf, readSheets, sheetOf, type Typed } from "../scenes/scene.ts";

/**
 * A world in which programmes live, stated apart from the code's formulas: babies are born, devices are
 * used, parts wear out, and people replace them by the rule of the programme, day by day.
 *
 * Sessions of a device in a month are Poisson about its rate. The rate of a site is a level that walks: each
 * month its logarithm moves by a normal step of 0.010 that all sites share and one of 0.015 of its own; a
 * season may swing it by 12 % either way. On each working day a part is replaced that will be due before
 * the next one, by the uses of the last three ended months; a worn one at the next Monday or Thursday.
 */
export interface World {
  readonly devices: number;
  readonly sites: number;
  /** Weibull life of every part: shape 2.5, scale 10 months; otherwise none wears out. */
  readonly wears: boolean;
  /** How births go; those "foretold" rise as well, and the programme is told so before. */
  readonly births: "steady" | "seasonal" | "10 % more" | "10 % more, foretold" | "new site";
  /** Units a replacement of cushions takes, and days that the lead time of both parts spreads. */
  readonly perReplacement: number;
  readonly leadSpread: number;
}

/** A replacement that really happened after the report date. */
export interface Happened {
  readonly on: Day;
  readonly site: string;
  readonly part: string;
  readonly early: boolean;
}

/** What the programme knew on the report date, and what came of it. */
export interface Lived {
  readonly known: Small;
  readonly came: readonly Happened[];
  /** Days until an order of today really comes, one for each part. */
  readonly leads: ReadonlyMap<string, number>;
}

export const SIMULATED_ON = day("2026-07-01");
const PAST = 36;
const AHEAD = 13;
/** Months before the report date from which the Job log is kept. */
const LOGGED = 24;
/** Months before the report date on which the new site opened. */
const OPENED = 5;
const LIFE = { shape: 2.5, scale: 10 };
/** Share by which births rise at once after the report date, where they do. */
export const RISE = 0.1;
const PACK = 4;
const PRICE = 100;
const LEAD = 30;

/** One history and its future. */
export function livedOnce(world: World, seed: number): Lived {
  const random = chance(seed);
  const parts = partsOf(world);
  const start = addMonths(SIMULATED_ON, -PAST);
  const devices = devicesOf(world, random);
  const counts = countsOf(world, devices, random);
  const jobs: Job[] = [];
  const came: Happened[] = [];
  const last = new Map<string, Day>();
  for (const device of devices) {
    for (const part of parts) {
      const events = followed({ device, part, counts: counts.get(device.id) ?? [], world }, random);
      for (const { on: date, early } of events) {
        if (date > SIMULATED_ON) {
          came.push({ on: date, site: device.site, part: part.code, early });
          continue;
        }
        last.set(`${device.id} ${part.code}`, date);
        if (!world.wears || date <= addMonths(SIMULATED_ON, -LOGGED)) continue;
        const finding = early ? "crack" : "";
        jobs.push(jobOf(device.id, part.code, isoText(date), { finding, row: 3 + jobs.length }));
      }
    }
  }
  jobs.sort((one, other) => (one.date ?? 0) - (other.date ?? 0));
  const known = written({ devices, parts, counts, last, start, jobs, world });
  const leads = new Map(parts.map(({ code }) => [code, leadOf(world, random)]));
  return { known, came, leads };
}

interface Device {
  readonly id: string;
  readonly site: string;
  readonly rate: number;
  /** Months of the history before it came. */
  readonly begins: number;
}

function partsOf({ perReplacement, leadSpread }: World): Part[] {
  const supply = { pack: PACK, packPrice: PRICE, leadDays: LEAD, leadSpread };
  return partsWith(supply, { ...supply, perReplacement }).map((part) =>
    part.code === "SET"
      ? { ...part, shortest: 3, longest: 6, useBudget: 600 }
      : { ...part, shortest: 6, longest: 9, lightUse: 80, heavyUse: 200 },
  );
}

function devicesOf({ devices, sites, births }: World, random: Chance): Device[] {
  return Array.from({ length: devices }, (_, at) => {
    const site = at % sites;
    const isNew = births === "new site" && site === sites - 1;
    return {
      id: `D-${at + 1}`,
      site: `S0${site + 1}`,
      rate: 100 + 100 * random.share(),
      begins: isNew ? PAST - OPENED : 0,
    };
  });
}

/** Sessions of each device and month. */
function countsOf(world: World, devices: readonly Device[], random: Chance): Map<string, number[]> {
  const months = PAST + AHEAD;
  const walk = (step: number): number[] => {
    let level = 0;
    return Array.from({ length: months }, () => (level += step * normal(random)));
  };
  const shared = walk(0.01);
  const own = Array.from({ length: world.sites }, () => walk(0.015));
  return new Map(
    devices.map(({ id, site, rate, begins }) => [
      id,
      shared.map((common, at) => {
        if (at < begins) return 0;
        const season = world.births === "seasonal" ? 0.12 * Math.sin((2 * Math.PI * at) / 12) : 0;
        const more = world.births.startsWith("10 % more") && at >= PAST ? 1 + RISE : 1;
        const level = Math.exp(common + (own[Number(site.slice(1)) - 1]?.[at] ?? 0));
        const share = daysOf(at) / DAYS_PER_MONTH;
        return random.poisson(rate * level * (1 + season) * more * share);
      }),
    ]),
  );
}

const MONTHS = Array.from({ length: PAST + AHEAD + 1 }, (_, at) =>
  addMonths(SIMULATED_ON, at - PAST),
);
const DAYS = MONTHS.map((begin) => {
  const { year, month } = civilDate(begin);
  return daysInMonth(year, month);
});

function monthAt(at: number): Day {
  return MONTHS[at] ?? SIMULATED_ON;
}

function daysOf(at: number): number {
  return DAYS[at] ?? NaN;
}

interface Followed {
  readonly device: Device;
  readonly part: Part;
  readonly counts: readonly number[];
  readonly world: World;
}

/** Every replacement of a part of a device, from its beginning to the end of the world. */
function followed(
  { device, part, counts, world }: Followed,
  random: Chance,
): Pick<Happened, "on" | "early">[] {
  const events: Pick<Happened, "on" | "early">[] = [];
  const opened = monthAt(device.begins);
  // Its first part is of any age, so that a fleet does not begin as one.
  let last = (opened - (device.begins > 0 ? 0 : random.below(90))) as Day;
  let fails = failsOn(last, world, random);
  const replace = (date: Day, early: boolean): void => {
    events.push({ on: date, early });
    last = date;
    fails = failsOn(date, world, random);
  };
  for (let at = device.begins; at < PAST + AHEAD; at += 1) {
    const months = intervalBy(part, usesAt(counts, at, device.begins));
    let due = addMonths(last, months);
    for (let date = monthAt(at); date < monthAt(at + 1); date = (date + 1) as Day) {
      const weekday = (date + 5) % 7; // 0 is Monday: day 2 was 1900-01-01, a Monday.
      const free = weekday > 4;
      if (free) continue;
      const next = date + (weekday === 4 ? 3 : 1);
      if (due < next && date > last) replace(date, false);
      else if (fails < date && (weekday === 0 || weekday === 3)) replace(date, true);
      else continue;
      due = addMonths(last, months);
    }
  }
  return events;
}

/** Uses a month by the last three ended months; null before there are three. */
function usesAt(counts: readonly number[], at: number, begins: number): number | null {
  if (at - 3 < begins) return null;
  let [uses, days] = [0, 0];
  for (let back = 1; back <= 3; back += 1) {
    uses += counts[at - back] ?? 0;
    days += daysOf(at - back);
  }
  return (uses / days) * DAYS_PER_MONTH;
}

/** The programme's rule, stated anew: whole months between the two ends, fewer with more use. */
function intervalBy(
  { code, shortest, longest, useBudget, lightUse, heavyUse }: Part,
  uses: number | null,
): number {
  const [short, long] = [shortest ?? 1, longest ?? 1];
  if (uses === null) return short;
  if (code === "SET") return Math.max(short, Math.min(long, Math.floor((useBudget ?? 0) / uses)));
  const [light, heavy] = [lightUse ?? 0, heavyUse ?? 1];
  const share = Math.min(1, Math.max(0, (uses - light) / (heavy - light)));
  return Math.floor(long - (long - short) * share + 1e-9);
}

function failsOn(begun: Day, { wears }: World, random: Chance): number {
  if (!wears) return Infinity;
  return begun + LIFE.scale * DAYS_PER_MONTH * (-Math.log(1 - random.share())) ** (1 / LIFE.shape);
}

interface Writing {
  readonly devices: readonly Device[];
  readonly parts: readonly Part[];
  readonly counts: ReadonlyMap<string, readonly number[]>;
  readonly last: ReadonlyMap<string, Day>;
  readonly start: Day;
  readonly jobs: readonly Job[];
  readonly world: World;
}

/** The programme's book on the report date. */
function written({ devices, parts, counts, last, start, jobs, world }: Writing): Small {
  const months = Array.from({ length: PAST }, (_, at) => addMonths(start, at));
  const dated = (id: string, code: string): Typed => {
    const date = last.get(`${id} ${code}`);
    return date === undefined ? null : on(isoText(date));
  };
  const sheets = [
    sheetOf("Equipment", [
      [
        "Device",
        "Site",
        "Status",
        "Commissioned",
        "Electrode set replaced",
        "Ear cushion replaced",
      ],
      ...devices.map(({ id, site, begins }) => [
        ...[id, site, "In service", on(isoText(monthAt(begins)))],
        ...["SET", "CUSHION"].map((code) => dated(id, code)),
      ]),
    ]),
    sheetOf("Monthly sessions", [
      ["Device", ...months.map((month) => on(isoText(month)))],
      ...devices.map(({ id, begins }) => [
        id,
        ...months.map((_, at): Typed => (at < begins ? null : (counts.get(id)?.[at] ?? null))),
      ]),
    ]),
  ];
  const settings: Partial<Settings> = { reportDate: SIMULATED_ON, fiscalStart: 7 };
  const ours: Ours = oursOf(settings, {
    parts,
    jobs,
    sites: Array.from({ length: world.sites }, (_, at) => siteWith(`S0${at + 1}`)),
  });
  return { snapshot: bookOf(sheets), reading: readSheets(sheets, ours) };
}

/** Days an order takes: gamma about the mean, as spread as Parts says. */
function leadOf({ leadSpread }: World, random: Chance): number {
  const shape = Math.max(1, Math.round((LEAD / leadSpread) ** 2));
  return Math.round((random.gamma(shape) * LEAD) / shape);
}

function normal(random: Chance): number {
  return Math.sqrt(-2 * Math.log(1 - random.share())) * Math.cos(2 * Math.PI * random.share());
}
