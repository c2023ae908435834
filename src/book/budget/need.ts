import { laterPrice } from "../../core/cost.ts";
import { addMonths, civilDate } from "../../core/day.ts";
import { wholePacks } from "../../core/order.ts";
import { roundMoney } from "../orders/lines.ts";
import { type OrderPlace, placesOf } from "../orders/place.ts";
import { unitsEach } from "../records/positions.ts";
import type { Part } from "../records/records.ts";
import type { PartYear, SiteNeed } from "../year/need.ts";
import type { Year } from "../year/year.ts";
import type { FiscalYear, Quarter } from "./fiscal.ts";

/** What one place needs of a part in a quarter, and what is bought for it. */
export interface QuarterNeed {
  readonly quarter: Quarter;
  /** Units expected to be used. */
  readonly units: number;
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
  readonly packs: number;
  readonly cost: number | null;
  readonly quarters: readonly QuarterNeed[];
}

/** Every part at every ordering place: packs are made whole once a year and place, spread over its quarters. */
export function placeBudgets(year: Year, fiscal: FiscalYear, pooled: boolean): PlaceBudget[] {
  const places = placesOf(year, pooled);
  const stocks = new Map(places.map((place) => [keyOf(place.part, place.site), place]));
  return year.parts.flatMap((found) => {
    const { part } = found;
    // A task without a price costs nothing; one whose price cannot be read is missing from the sums.
    const isPriced = part.supply.packPrice !== null || part.doubts.includes("packPrice");
    if (part.task && !isPriced) return [];
    const together = pooled || year.reading.ours.settings.spares === "programme";
    const sites =
      together && !part.task ? [{ site: "", months: found.months, units: 0 }] : found.sites;
    return sites.map((site) =>
      placeBudget({ part: found, site, stock: stocks.get(keyOf(part, site.site)) }, year, fiscal),
    );
  });
}

function keyOf(part: Part, site: string): string {
  return `${part.code} ${site}`;
}

/** What a place needs, and what it has. */
interface PlaceNeed {
  readonly part: PartYear;
  readonly site: Pick<SiteNeed, "site" | "months">;
  readonly stock: OrderPlace | undefined;
}

function placeBudget(
  { part: { part }, site, stock }: PlaceNeed,
  year: Year,
  fiscal: FiscalYear,
): PlaceBudget {
  const { supply } = part;
  const endStock = stock?.safetyStock ?? 0;
  const startStock = stock === undefined ? 0 : stockAtStart(stock, year, fiscal);
  let units = 0;
  let bought = 0;
  const quarters = fiscal.quarters.map((quarter): QuarterNeed => {
    const used = usedIn(site, quarter) * unitsEach(part);
    units += used;
    const packs = wholePacks(units + endStock - startStock, supply.pack) - bought;
    bought += packs;
    const price = priceIn(part, quarter, year);
    return {
      quarter,
      units: used,
      packs,
      price,
      cost: price === null ? null : roundMoney(price * packs),
    };
  });
  const costs = quarters.map(({ cost }) => cost);
  return {
    part,
    site: site.site,
    units,
    startStock,
    endStock,
    packs: bought,
    cost: costs.some((cost) => cost === null)
      ? null
      : roundMoney(costs.reduce<number>((sum, cost) => sum + (cost ?? 0), 0)),
    quarters,
  };
}

/** A year that begins now begins with what is there and what comes in it; a later one with the spares that are kept. */
function stockAtStart(
  { stock, safetyStock }: OrderPlace,
  { months }: Year,
  fiscal: FiscalYear,
): number {
  const [running] = months;
  if (fiscal.from !== running) return safetyStock;
  const end = addMonths(fiscal.from, 12);
  const coming = stock.receipts.filter(({ on }) => on < end);
  return coming.reduce((sum, { units }) => sum + units, stock.onHand);
}

function usedIn({ months }: PlaceNeed["site"], { first, last }: Quarter): number {
  return months
    .slice(first, last + 1)
    .reduce((sum, { scheduled, unplanned }) => sum + scheduled + unplanned, 0);
}

/** Prices rise on 1 January after the report date's year. */
function priceIn({ supply }: Part, { from }: Quarter, { horizon, reading }: Year): number | null {
  if (supply.packPrice === null) return null;
  const years = Math.max(0, civilDate(from).year - civilDate(horizon.reportDate).year);
  return roundMoney(laterPrice(supply.packPrice, reading.ours.settings.priceRise, years));
}
