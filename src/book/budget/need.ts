import { addMonths, type Day } from "../../core/day.ts";
import { certain, type Distribution, mapped } from "../../core/distribution.ts";
import type { Following } from "../../core/open-need.ts";
import { wholePacks } from "../../core/order.ts";
import { boughtBeyondUse, orderTime } from "../orders/ledger.ts";
import { type OrderLine, roundMoney } from "../orders/lines.ts";
import type { OrderPlace } from "../orders/place.ts";
import { unitsEach } from "../records/positions.ts";
import type { Part } from "../records/records.ts";
import { followingOf, type PartYear } from "../year/need.ts";
import type { Year } from "../year/year.ts";
import type { FiscalYear, Quarter } from "./fiscal.ts";
import { type Priced, quarterPrice } from "./price.ts";

/** What one place needs of a part in a quarter, and what is bought for it. */
export interface QuarterNeed {
  readonly quarter: Quarter;
  /** Units expected to be used. */
  readonly units: number;
  /** Packs expected to be bought: the mean of whole numbers. */
  readonly packs: number;
  /** Price of a pack in the quarter, and its cost; null while no price is known. */
  readonly price: number | null;
  readonly cost: number | null;
}

/** A part at a place over the fiscal year. */
export interface PlaceBudget {
  readonly part: Part;
  /** Site code; "" is one store for all. */
  readonly site: string;
  readonly units: number;
  /** Units on the shelf when the year begins, and when it ends. */
  readonly startStock: number;
  readonly endStock: number;
  /** Units bought since what was bought expires, or what is on order comes after they are needed. */
  readonly boughtAgain: number;
  readonly packs: number;
  readonly cost: number | null;
  readonly quarters: readonly QuarterNeed[];
}

/** What the packs of a part cost, at each point of the error in usage that all parts share. */
export interface PartCost {
  /** Price of a pack over the year, in cents: before and after a rise weighed by what is bought. */
  readonly cents: number;
  readonly points: readonly { readonly share: number; readonly packs: Distribution }[];
}

/** Where spares are kept, what is there, and what the ledger of the orders buys; nothing where all days have one price. */
export interface Kept {
  readonly pooled: boolean;
  readonly stocks: readonly OrderPlace[];
  readonly bought: readonly OrderLine[];
}

/** The places of a budget, and the chances of their costs. */
export interface Budgeted {
  readonly places: readonly PlaceBudget[];
  readonly costs: readonly PartCost[];
}

/**
 * Every part at every ordering place. Packs are whole at each place and over the year so far: what is bought up
 * to a quarter follows from each number that may be needed by then, so that the mean is that of whole packs.
 */
export function placeBudgets(year: Year, fiscal: FiscalYear, kept: Kept): Budgeted {
  const { pooled } = kept;
  const stocks = new Map(kept.stocks.map((one) => [keyOf(one.part, one.site), one]));
  const bought = byPlace(kept.bought);
  const places: PlaceBudget[] = [];
  const costs: PartCost[] = [];
  for (const found of year.parts) {
    const { part } = found;
    // A task without a price costs nothing; one whose price cannot be read is missing from the sums.
    const isPriced = part.supply.packPrice !== null || part.doubts.includes("packPrice");
    if (part.task && !isPriced) continue;
    const together = (pooled || year.reading.ours.settings.spares === "programme") && !part.task;
    const sites = together ? [{ site: "", months: found.needs, units: 0 }] : found.sites;
    const needs = sites.map((site): PlaceNeed => {
      const key = keyOf(part, site.site);
      const stock = stocks.get(key);
      const end = stock?.safetyStock ?? 0;
      const { units: more, again } =
        stock === undefined ? NOTHING_MORE : moreThanUsed(stock, year, fiscal);
      const priced = { part, site, place: stock, bought: bought.get(key) ?? [] };
      return { ...priced, more, start: end + again - (more.at(-1) ?? end), end, again };
    });
    const packed = packsOf(found, needs, { year, fiscal, together });
    const own = needs.map((need) =>
      placeBudget(need, packed.means.get(need.site.site) ?? [], year, fiscal),
    );
    places.push(...own);
    const points = packed.points.map(({ share, sums }) => ({
      share,
      packs: sums.at(-1) ?? certain(0),
    }));
    costs.push({ cents: meanPrice(own), points });
  }
  return { places, costs };
}

interface Buying {
  readonly year: Year;
  readonly fiscal: FiscalYear;
  readonly together: boolean;
}

/** Packs bought from the beginning of the year up to the end of each quarter. */
function packsOf(
  found: PartYear,
  needs: readonly PlaceNeed[],
  { year, fiscal, together }: Buying,
): Following {
  const { pack } = found.part.supply;
  const each = unitsEach(found.part);
  const first = fiscal.quarters[0]?.first ?? 0;
  const more = new Map(needs.map((need) => [need.site.site, need.more]));
  return followingOf(found, year.horizon, {
    spans: fiscal.quarters.map(({ last }) => [first, last]),
    from: together ? "all" : "groups",
    follows: (count, site, quarter) =>
      mapped(count, (number) => wholePacks(number * each + (more.get(site)?.[quarter] ?? 0), pack)),
  });
}

/** Price of a pack in cents over a year's quarters, by what is bought in each; 0 while one is not known. */
function meanPrice(places: readonly PlaceBudget[]): number {
  let [packs, cost] = [0, 0];
  for (const { quarters } of places) {
    for (const quarter of quarters) {
      if (quarter.price === null) return 0;
      packs += quarter.packs;
      cost += quarter.packs * quarter.price;
    }
  }
  const [first] = places.flatMap(({ quarters }) => quarters.map(({ price }) => price));
  return Math.round(100 * (packs > 0 ? cost / packs : (first ?? 0)));
}

function byPlace(bought: readonly OrderLine[]): Map<string, OrderLine[]> {
  const lines = new Map<string, OrderLine[]>();
  for (const line of bought) {
    const key = keyOf(line.place.part, line.place.site);
    const known = lines.get(key);
    if (known === undefined) lines.set(key, [line]);
    else known.push(line);
  }
  return lines;
}

function keyOf(part: Part, site: string): string {
  return `${part.code} ${site}`;
}

/** What a place needs, what it buys beyond that by each quarter, and its stock when the year begins and ends. */
interface PlaceNeed extends Priced {
  readonly more: readonly number[];
  readonly start: number;
  readonly end: number;
  /** Units bought since what was bought expires, or a delivery comes too late. */
  readonly again: number;
}

const NOTHING_MORE = { units: [], again: 0 };

function placeBudget(
  need: PlaceNeed,
  packsBy: readonly number[],
  year: Year,
  fiscal: FiscalYear,
): PlaceBudget {
  const { part, site, start, end, again } = need;
  const quarters = fiscal.quarters.map((quarter, at): QuarterNeed => {
    // The mean of a sum of chances is a whole number but for its last digits.
    const packs = tidy((packsBy[at] ?? 0) - (packsBy[at - 1] ?? 0));
    const price = quarterPrice(need, quarter, year);
    return {
      quarter,
      units: usedIn(site, quarter) * unitsEach(part),
      packs,
      price,
      cost: price === null ? null : roundMoney(price * packs),
    };
  });
  const costs = quarters.map(({ cost }) => cost);
  return {
    part,
    site: site.site,
    units: quarters.reduce((sum, { units }) => sum + units, 0),
    startStock: start,
    endStock: end,
    boughtAgain: again,
    packs: tidy(packsBy.at(-1) ?? 0),
    cost: costs.some((cost) => cost === null)
      ? null
      : roundMoney(costs.reduce<number>((sum, cost) => sum + (cost ?? 0), 0)),
    quarters,
  };
}

function tidy(packs: number): number {
  return Math.round(packs * 1e9) / 1e9;
}

/**
 * Units to be bought from the beginning of the year up to the end of each quarter beyond those used in it, by the
 * ledger of the orders. A year that begins now, or is running, has what is there and what comes in it; a later one
 * begins with the spares that are kept, or what is left then where that is more.
 */
function moreThanUsed(
  place: OrderPlace,
  year: Year,
  fiscal: FiscalYear,
): ReturnType<typeof boughtBeyondUse> {
  const [running] = year.months;
  const isNow = running !== undefined && fiscal.from <= running;
  return boughtBeyondUse(place, orderTime(year), {
    after: ((isNow ? year.horizon.reportDate : fiscal.from) - 1) as Day,
    until: fiscal.quarters.map(
      ({ last }) => (addMonths(year.months[last] ?? fiscal.from, 1) - 1) as Day,
    ),
  });
}

function usedIn({ months }: PlaceNeed["site"], { first, last }: Quarter): number {
  return months
    .slice(first, last + 1)
    .reduce((sum, { scheduled, unplanned }) => sum + scheduled + unplanned, 0);
}
