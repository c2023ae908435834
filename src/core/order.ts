import { gammaQuantile } from "./chance.ts";
import { type Day, toDay } from "./day.ts";
import { InputError, requireNotBelowZero } from "./errors.ts";
import { requireServiceLevel } from "./stock.ts";
import { rollBack, type WorkCalendar } from "./workday.ts";

/** Decimals of an inexact sum that do not make one pack more. */
const NEARLY = 1e-9;

/** What is needed and what is there or coming. */
export interface OrderNeed {
  /** Units needed, zero or more. */
  readonly need: number;
  /** Units in a pack, above 0. */
  readonly pack: number;
  /** Units on the shelf, zero or more; 0 when not given. */
  readonly onHand?: number;
  /** Units ordered and not yet received; 0 when not given. */
  readonly onOrder?: number;
  /** Fewest units a supplier takes an order for; 0 when not given. */
  readonly minimum?: number;
}

/**
 * Units to order: what is missing, in whole packs and not below the minimum.
 *
 * @param wanted Need, pack, stock and minimum.
 * @returns Units, a multiple of the pack; 0 when nothing is missing.
 * @throws InputError if a number is below zero or the pack is not above it.
 * @example
 * orderSize({ need: 38, pack: 10, onHand: 6 }) // => 40
 * orderSize({ need: 5, pack: 2, minimum: 9 }) // => 10
 * orderSize({ need: 5, pack: 2, onHand: 3, onOrder: 2, minimum: 9 }) // => 0
 */
export function orderSize(wanted: OrderNeed): number {
  const { need, pack, onHand = 0, onOrder = 0, minimum = 0 } = wanted;
  requireNotBelowZero("need", need);
  requireNotBelowZero("onHand", onHand);
  requireNotBelowZero("onOrder", onOrder);
  requireNotBelowZero("minimum", minimum);
  requirePack(pack);
  const missing = need - onHand - onOrder;
  if (missing <= NEARLY) return 0;
  return wholePacks(Math.max(missing, minimum), pack) * pack;
}

/**
 * Packs that hold so many units.
 *
 * @param units Units; none or fewer need no pack.
 * @param pack Units in a pack, above 0.
 * @returns Whole packs, zero or more.
 * @throws InputError if units is no number or the pack is not above 0.
 * @example
 * wholePacks(36, 10) // => 4
 * wholePacks(3 * 0.1, 0.1) // => 3
 * wholePacks(-5, 10) // => 0
 */
export function wholePacks(units: number, pack: number): number {
  requirePack(pack);
  if (!Number.isFinite(units)) throw new InputError("units", "a number", units);
  return Math.max(0, Math.ceil(units / pack - NEARLY));
}

/** What ordering and keeping cost. */
export interface OrderCosts {
  /** Units used a year, zero or more. */
  readonly perYear: number;
  /** Cost of one order whatever its size, zero or more. */
  readonly orderCost: number;
  /** Cost of keeping one unit for a year, above 0. */
  readonly holdingPerUnit: number;
}

/**
 * Order size at which ordering and keeping cost least together: √(2 · perYear · orderCost /
 * holdingPerUnit), or the whole packs that cost least. A hint: for parts used by the dozen it is one
 * pack or a few.
 *
 * @param costs Use and costs; orderCost above 0 where there is no pack.
 * @param pack Units in a pack, above 0; null for an answer that is not rounded.
 * @returns Units; with a pack the multiple n with the smallest n(n + 1) not below (√… / pack)²; 0
 *   when nothing is used.
 * @throws InputError if a number is none of these.
 * @see Taha, Operations Research, 10th ed., 13.3 (the formula).
 * @example
 * economicOrder({ perYear: 120, orderCost: 25, holdingPerUnit: 2.4 }, null) // => 50
 * economicOrder({ perYear: 120, orderCost: 25, holdingPerUnit: 2.4 }, 12) // => 48
 */
export function economicOrder(costs: OrderCosts, pack: number | null): number {
  const { perYear, orderCost, holdingPerUnit } = costs;
  requireCosts(costs);
  if (pack === null && orderCost === 0) {
    throw new InputError("orderCost", "above 0 where no pack is given", orderCost);
  }
  if (perYear === 0) return 0;
  const best = Math.sqrt(((2 * perYear) / holdingPerUnit) * orderCost);
  if (pack === null) return best;
  requirePack(pack);
  // The root of n(n + 1) = (best / pack)²: from there on one pack more costs more.
  const root = Math.sqrt((best / pack) ** 2 + 0.25) - 0.5;
  return Math.max(1, Math.ceil(root * (1 - 1e-12))) * pack;
}

/**
 * Cost of a year: the units, the orders, and the stock kept, which is half an order on average.
 *
 * @param size Units an order, above 0.
 * @param costs Use and costs.
 * @param price Price of a unit, zero or more.
 * @returns Cost a year.
 * @throws InputError if a number is none of these.
 * @example
 * yearCost(1000, { perYear: 100, orderCost: 100, holdingPerUnit: 0.02 }, 0) // => 20
 */
export function yearCost(size: number, costs: OrderCosts, price: number): number {
  const { perYear, orderCost, holdingPerUnit } = costs;
  requireCosts(costs);
  requireNotBelowZero("price", price);
  if (!(Number.isFinite(size) && size > 0)) throw new InputError("size", "above 0", size);
  return perYear * price + (orderCost * perYear) / size + (holdingPerUnit * size) / 2;
}

/** A price that holds from an order size on. */
export interface PriceBreak {
  /** Units an order from which the price holds, zero or more. */
  readonly from: number;
  /** Price of a unit. */
  readonly price: number;
}

/**
 * The order size of least cost where larger orders have lower prices: the economic order size at
 * each price it reaches, and each size at which a price begins, compared.
 *
 * @param costs Use (above 0) and costs, orderCost above 0.
 * @param breaks Prices, one of them from 0 on, lower for larger orders; in any order.
 * @returns Units an order, the price of a unit and the cost of a year.
 * @throws InputError if there is no price from 0 on, prices do not fall as orders grow, or a number
 *   is none of these.
 * @see Taha, Operations Research, 10th ed., 13.3 (price breaks).
 * @example
 * priceBreakOrder({ perYear: 187.5, orderCost: 20, holdingPerUnit: 0.02 }, [{ from: 0, price: 3 }, { from: 1000, price: 2.5 }]).size // => 1000
 */
export function priceBreakOrder(
  costs: OrderCosts,
  breaks: readonly PriceBreak[],
): { readonly size: number; readonly price: number; readonly cost: number } {
  if (!(costs.perYear > 0)) throw new InputError("perYear", "above 0", costs.perYear);
  const economic = economicOrder(costs, null);
  const sorted = [...breaks].sort((one, other) => one.from - other.from);
  const [first] = sorted;
  if (first?.from !== 0) throw new InputError("breaks", "a list with a price from 0 on", breaks);
  let best = { size: economic, price: first.price, cost: Infinity };
  sorted.forEach(({ from, price }, index) => {
    const size = Math.max(economic, from);
    const next = sorted[index + 1];
    if (next && !(next.from > from && next.price < price)) {
      throw new InputError("breaks", "prices that fall as orders grow", next.price);
    }
    // Where the size is past the next break, that break's price holds and is looked at there.
    if (size >= (next?.from ?? Infinity)) return;
    const cost = yearCost(size, costs, price);
    if (cost < best.cost) best = { size, price, cost };
  });
  return best;
}

/** When to order and up to what stock. */
export interface OrderUpTo {
  /** Order when the stock is not above this. */
  readonly reorderPoint: number;
  /** Order up to this; not below reorderPoint. */
  readonly upTo: number;
  /** Units in a pack, above 0; 1 when not given. */
  readonly pack?: number;
}

/**
 * Units to order under an order-up-to rule: none above the reorder point, else up to `upTo` in whole packs.
 *
 * @param position Units on the shelf and on order, less those owed.
 * @param rule Reorder point, target and pack.
 * @returns Units, a multiple of the pack.
 * @throws InputError if a number is none of these.
 * @example
 * orderUpTo(2, { reorderPoint: 2, upTo: 9, pack: 5 }) // => 10
 * orderUpTo(3, { reorderPoint: 2, upTo: 9, pack: 5 }) // => 0
 */
export function orderUpTo(position: number, rule: OrderUpTo): number {
  const { reorderPoint, upTo, pack = 1 } = rule;
  requireNotBelowZero("reorderPoint", reorderPoint);
  requirePack(pack);
  if (!Number.isFinite(position)) throw new InputError("position", "a number", position);
  if (!(Number.isFinite(upTo) && upTo >= reorderPoint)) {
    throw new InputError("upTo", "a number not below reorderPoint", upTo);
  }
  return position > reorderPoint ? 0 : wholePacks(upTo - position, pack) * pack;
}

/**
 * The latest working day on which to order, so that the goods are there when needed.
 *
 * @param needDate The day they are needed.
 * @param leadDays Calendar days from order to shelf, whole, zero or more.
 * @param calendar The working days.
 * @returns needDate less leadDays, or the last working day before.
 * @throws InputError if leadDays is no such number or the day leaves the worksheet's calendar.
 * @example
 * orderBy(day("2026-05-31"), 14, workCalendar(null, [])) // => day("2026-05-15")
 */
export function orderBy(needDate: Day, leadDays: number, calendar: WorkCalendar): Day {
  if (!(Number.isInteger(leadDays) && leadDays >= 0)) {
    throw new InputError("leadDays", "a whole number, zero or more", leadDays);
  }
  return rollBack(toDay(needDate - leadDays, "needDate less leadDays"), calendar);
}

/**
 * The days from order to shelf that are not exceeded with a given chance, the lead time being gamma.
 *
 * @param leadDays Days on average, whole, zero or more.
 * @param leadSpread Their standard deviation in days, zero or more.
 * @param serviceLevel Chance that the goods are there by then, 0 up to but not 1.
 * @returns Whole days, rounded up; never below the average.
 * @throws InputError if a number is none of these.
 * @see Silver, Pyke and Peterson, Inventory Management and Production Planning and Scheduling, 3rd ed.,
 *   section 7.10, lead times that vary (from memory).
 * @example
 * leadCover(30, 10, 0.95) // => 49
 * leadCover(30, 0, 0.95) // => 30
 */
export function leadCover(leadDays: number, leadSpread: number, serviceLevel: number): number {
  if (!(Number.isInteger(leadDays) && leadDays >= 0)) {
    throw new InputError("leadDays", "a whole number, zero or more", leadDays);
  }
  requireNotBelowZero("leadSpread", leadSpread);
  requireServiceLevel(serviceLevel);
  if (leadDays === 0 || leadSpread < LEAST_SPREAD || serviceLevel === 0) return leadDays;
  const shape = (leadDays / leadSpread) ** 2;
  const days = (gammaQuantile(serviceLevel, shape) * leadDays) / shape;
  return Math.max(leadDays, Math.ceil(days - NEARLY));
}

/** Days of spread below which a lead time is taken as it is. */
const LEAST_SPREAD = 0.01;

function requireCosts({ perYear, orderCost, holdingPerUnit }: OrderCosts): void {
  requireNotBelowZero("perYear", perYear);
  requireNotBelowZero("orderCost", orderCost);
  if (!(Number.isFinite(holdingPerUnit) && holdingPerUnit > 0)) {
    throw new InputError("holdingPerUnit", "above 0", holdingPerUnit);
  }
}

function requirePack(pack: number): void {
  if (!(Number.isFinite(pack) && pack > 0)) throw new InputError("pack", "above 0", pack);
}
