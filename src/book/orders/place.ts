import { countQuantile } from "../../core/count-distribution.ts";
import { DAYS_PER_MONTH } from "../../core/counts.ts";
import { addMonths, type Day } from "../../core/day.ts";
import { quantileOf } from "../../core/distribution.ts";
import { leadCover } from "../../core/order.ts";
import type { Part } from "../records/records.ts";
import { unitsEach } from "../records/positions.ts";
import { calendarOf } from "../records/work-calendar.ts";
import { doubtText, judgedShelf, type Receipt, type Shelved } from "../records/shelf.ts";
import { eachOf, finished, type Steps } from "../workbook/steps.ts";
import type { YearUnit } from "../year/fleet.ts";
import type { Horizon } from "../year/horizon.ts";
import { countWithin, plannedWithin } from "../year/near.ts";
import type { Need, PartYear } from "../year/need.ts";
import type { Year } from "../year/year.ts";
import type { Settings } from "../records/settings.ts";
import { scheduledDays } from "../../core/schedule.ts";

/** One part at one place where spares of it are kept. */
export interface OrderPlace {
  readonly part: Part;
  /** Site code; "" is the programme's own store, or devices without a site. */
  readonly site: string;
  /** One store serves all. */
  readonly store: boolean;
  readonly units: readonly YearUnit[];
  /** Units that come due, each with its day, in order; a replacement of several units counts so often. */
  readonly due: readonly Day[];
  /**
   * How many of them are due on the last day of the protection interval, though by the register later: at the service
   * level more use brings no more of them forward by then.
   */
  readonly forward: number;
  /** Units a month that are called for before their due date. */
  readonly unplannedAMonth: number;
  /** Replacements among them by site. */
  readonly callsAMonth: ReadonlyMap<string, number>;
  readonly stock: PlaceStock;
  /** Units that the spare rule keeps in any case. */
  readonly minimumStock: number;
  /** Days that an order takes at most, at the service level. */
  readonly leadCover: number;
  /** Days until a unit ordered at the next look has arrived: these and the days between orders. */
  readonly protectionInterval: number;
  /** Spares to keep: the minimum stock, or more where unplanned calls ask for it at the service level. */
  readonly safetyStock: number;
}

/** What is there and on its way. */
interface PlaceStock {
  readonly onHand: number;
  /** Units that come on a day that is known: all of them, and each delivery with its day, the soonest first. */
  readonly onOrder: number;
  readonly receipts: readonly Receipt[];
  /** Units past their expiry on the report date; not counted as on hand. */
  readonly expired: number;
  /** Units on hand that can be used up to a last day only, the soonest first. */
  readonly lots: readonly { readonly expiry: Day; readonly units: number }[];
  /** Oldest count that on hand rests on; null where there is no count. */
  readonly countedOn: Day | null;
  /** What lies there or was ordered and cannot be counted on, in words. */
  readonly notCounted: readonly string[];
}

/** Every part at every place of the programme. Pooled: one place for all sites. */
export function placesOf(year: Year, pooled: boolean): OrderPlace[] {
  return finished(placeSteps(year, pooled));
}

/** The same in steps. */
export function* placeSteps(year: Year, pooled: boolean): Steps<OrderPlace[]> {
  const { reading } = year;
  const { settings } = reading.ours;
  const together = pooled || settings.spares === "programme";
  const shelf = judgedShelf(reading);
  const wanted = year.parts
    .filter(({ part }) => !part.task)
    .flatMap((found) =>
      [...servedBy(found, together)].map(([site, served]) => {
        const { part } = found;
        const isHere = (row: Shelved): boolean => together || row.site === site;
        const own = shelf.filter((row) => row.part.code === part.code && isHere(row));
        return { found, site, served, shelf: own, together };
      }),
    );
  yield;
  return yield* eachOf(wanted, (one) => placeOf(one, year));
}

interface Served {
  readonly unit: YearUnit;
  readonly needs: readonly Need[];
}

/** The units of a part by the place that serves them. */
function servedBy({ units, unitNeeds }: PartYear, together: boolean): Map<string, Served[]> {
  const served = new Map<string, Served[]>();
  units.forEach((unit, at) => {
    const site = together ? "" : unit.site;
    const one = { unit, needs: unitNeeds[at] ?? [] };
    const there = served.get(site);
    if (there === undefined) served.set(site, [one]);
    else there.push(one);
  });
  return new Map([...served].sort(([one], [other]) => one.localeCompare(other, "en")));
}

interface Wanted {
  readonly found: PartYear;
  readonly site: string;
  readonly served: readonly Served[];
  readonly shelf: readonly Shelved[];
  readonly together: boolean;
}

function placeOf({ found, site, served, shelf, together }: Wanted, year: Year): OrderPlace {
  const { part } = found;
  const { reading, horizon } = year;
  const { settings } = reading.ours;
  const { supply } = part;
  const units = served.map(({ unit }) => unit);
  const each = unitsEach(part);
  // A holiday that cannot be read may be any day: what falls due comes sooner for it, never later.
  const careful = { ...horizon, calendar: calendarOf(reading.ours) };
  const due = units
    .flatMap((unit) => dueDays(unit, careful))
    .sort((one, other) => one - other)
    .flatMap((day) => Array<Day>(each).fill(day));
  const unplannedAMonth =
    unplannedRate(
      served.map(({ needs }) => needs),
      horizon,
    ) * each;
  const minimumStock = minimumStockOf(settings, part, units.length);
  const cover = leadCover(supply.leadDays, supply.leadSpread, settings.serviceLevel);
  const protectionInterval = cover + settings.reviewDays;
  const called = countWithin(units, found, careful, protectionInterval);
  const level = settings.serviceLevel;
  const most = level > 0 ? quantileOf(called, level) : 0;
  const covered = horizon.reportDate + protectionInterval;
  const dueInThem = due.filter((day) => day <= covered).length;
  const planned =
    level > 0 ? quantileOf(plannedWithin(units, careful, protectionInterval), level) : 0;
  const forward = Math.min(Math.max(0, planned * each - dueInThem), due.length - dueInThem);
  // Never fewer than a year's mean of early calls asks for: what falls due may come sooner with more use.
  const mean = ((unplannedAMonth / each) * protectionInterval) / DAYS_PER_MONTH;
  const early = countQuantile(level, { mean }) * each;
  return {
    part,
    site,
    store: together,
    units,
    due: due.map((day, at) => (at < dueInThem + forward ? (Math.min(day, covered) as Day) : day)),
    forward,
    unplannedAMonth,
    callsAMonth: callsBySite(served, horizon),
    stock: stockOf(shelf),
    minimumStock,
    leadCover: cover,
    protectionInterval,
    // A replacement takes all its units at once: whole replacements are counted.
    safetyStock: Math.max(minimumStock, early, most * each - dueInThem),
  };
}

/** A set for each device, or one; what is ordered and kept is the part, whatever its positions. */
function minimumStockOf({ spares }: Settings, part: Part, dates: number): number {
  return spares === "device" ? dates * unitsEach(part) : part.supply.perReplacement;
}

/** Mean unplanned replacements a month over the days ahead. */
function unplannedRate(
  needs: readonly (readonly Need[])[],
  { reportDate, months }: Year["horizon"],
): number {
  let unplanned = 0;
  for (const months of needs) for (const need of months) unplanned += need.unplanned;
  const days = addMonths(reportDate, months) - reportDate;
  return (unplanned / Math.max(1, days)) * DAYS_PER_MONTH;
}

function callsBySite(served: readonly Served[], horizon: Year["horizon"]): Map<string, number> {
  const needs = new Map<string, (readonly Need[])[]>();
  for (const one of served) {
    const there = needs.get(one.unit.site);
    if (there === undefined) needs.set(one.unit.site, [one.needs]);
    else there.push(one.needs);
  }
  return new Map([...needs].map(([site, own]) => [site, unplannedRate(own, horizon)]));
}

/** The days a unit is due if nothing happens before: as in the register, on the last working day. */
function dueDays(unit: YearUnit, { reportDate, months, calendar }: Horizon): Day[] {
  const end = addMonths(reportDate, months);
  const days = scheduledDays(unit, reportDate, end, calendar);
  return days.filter((date) => date <= (unit.until ?? end));
}

function stockOf(shelf: readonly Shelved[]): PlaceStock {
  const sum = (amounts: readonly number[]): number => amounts.reduce((all, one) => all + one, 0);
  const receipts = shelf
    .flatMap(({ receipt }) => receipt ?? [])
    .sort((one, other) => one.on - other.on);
  const counted = shelf.flatMap(({ item }) => item.countedOn ?? []);
  return {
    onHand: sum(shelf.map(({ onHand }) => onHand)),
    lots: shelf
      .flatMap(({ expiry, onHand }) =>
        expiry === null || onHand === 0 ? [] : [{ expiry, units: onHand }],
      )
      .sort((one, other) => one.expiry - other.expiry),
    expired: sum(shelf.map(({ expired }) => expired)),
    onOrder: sum(receipts.map(({ units }) => units)),
    receipts,
    countedOn: counted.reduce<Day | null>(
      (first, one) => (first !== null && first < one ? first : one),
      null,
    ),
    notCounted: shelf.flatMap(({ doubts }) => doubts.map(doubtText)),
  };
}

/** A place in words. */
export function placeText({ site, store }: Pick<OrderPlace, "site" | "store">): string {
  if (site !== "") return site;
  return store ? "the programme's store" : "devices without a site";
}
