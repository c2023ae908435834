import {
  countAbove,
  countAtMost,
  countQuantile,
  expectedAbove,
  type Spread,
} from "./count-distribution.ts";
import { InputError, requireNotBelowZero } from "./errors.ts";

/** Demand that no schedule foresees, and the time an order takes. Any unit of time, the same in all. */
export interface Demand {
  /** Units a month, zero or more. */
  readonly perMonth: number;
  /** Months from order to shelf, on average, zero or more. */
  readonly leadMonths: number;
  /** Variance of a month's units; Poisson when null or not above perMonth. */
  readonly variancePerMonth?: number | null;
  /** Standard deviation of the lead time in months; the lead time is gamma then. */
  readonly leadSd?: number | null;
}

/** What a reorder point must hold. */
export interface Cover {
  /** Chance that the stock lasts the lead time, 0 up to but not 1; 0.95 when not given. */
  readonly serviceLevel?: number;
  /** Minimum stock: units that stay on the shelf whatever the chances say; 1 when not given. */
  readonly minimumStock?: number;
  /** Units known to be needed in the lead time; 0 when not given. */
  readonly scheduledUnits?: number;
}

/** Decimals of an inexact sum that do not make one unit more. */
const NEARLY = 1e-9;

/**
 * Unplanned demand of one lead time, as a count.
 *
 * Mean perMonth · leadMonths. The variance is the mean (Poisson) or, if larger, variancePerMonth ·
 * leadMonths; a spread of the lead time adds perMonth² · leadSd². Above the mean the count is
 * negative binomial, which a Poisson demand over a gamma lead time is exactly.
 *
 * @param demand Demand and lead time.
 * @returns Mean and variance of the units called for in one lead time.
 * @throws InputError if a number is below zero, or leadSd is given to a lead time of zero.
 * @see Greenwood and Yule 1920 (from memory): Poisson mixed by gamma is negative binomial.
 * @example
 * leadDemand({ perMonth: 2, leadMonths: 2, leadSd: 1 }) // => { mean: 4, variance: 8 }
 * leadDemand({ perMonth: 0.4, leadMonths: 3, variancePerMonth: 0.5 }).variance // => 1.5
 */
export function leadDemand(demand: Demand): Required<Spread> {
  const { perMonth, leadMonths } = demand;
  const variancePerMonth = demand.variancePerMonth ?? 0;
  const leadSd = demand.leadSd ?? 0;
  requireNotBelowZero("perMonth", perMonth);
  requireNotBelowZero("leadMonths", leadMonths);
  requireNotBelowZero("variancePerMonth", variancePerMonth);
  requireNotBelowZero("leadSd", leadSd);
  if (leadMonths === 0 && leadSd > 0) {
    throw new InputError("leadMonths", "above 0 where leadSd is", leadMonths);
  }
  const mean = perMonth * leadMonths;
  const variance = Math.max(perMonth, variancePerMonth) * leadMonths + (perMonth * leadSd) ** 2;
  return { mean, variance };
}

/**
 * Stock at which to order: known units plus enough for the unknown ones.
 *
 * scheduledUnits + max(minimumStock, smallest k with a chance of at least `serviceLevel` that unplanned
 * demand is not above k). A demand more spread out than Poisson never lowers it: where a few large calls would
 * make "mostly none" look safe, the Poisson count of the same mean stays.
 *
 * @param demand Unplanned demand of one lead time, from leadDemand, or failuresAhead where few
 *   events were seen.
 * @param cover Service level, minimum stock and scheduled units.
 * @returns Whole units: order when stock and orders under way are not above it.
 * @throws InputError if serviceLevel is 1 or more (no stock is certain) or a number is below zero.
 * @example
 * reorderPoint({ mean: 4.32 }, { serviceLevel: 0.95 }) // => 8
 * reorderPoint({ mean: 0.8 }, { scheduledUnits: 6 }) // => 8
 * reorderPoint({ mean: 0 }, {}) // => 1
 */
export function reorderPoint(demand: Spread, cover: Cover): number {
  const { serviceLevel = 0.95, minimumStock = 1, scheduledUnits = 0 } = cover;
  requireServiceLevel(serviceLevel);
  requireWhole("minimumStock", minimumStock);
  requireNotBelowZero("scheduledUnits", scheduledUnits);
  const { mean, variance = mean } = demand;
  let unplanned = Math.max(minimumStock, countQuantile(serviceLevel, demand));
  if (variance > mean) unplanned = Math.max(unplanned, countQuantile(serviceLevel, { mean }));
  return Math.ceil(scheduledUnits - NEARLY) + unplanned;
}

/**
 * Chance that a stock lasts one lead time.
 *
 * @param onHand Whole units on the shelf, zero or more.
 * @param demand Demand of one lead time.
 * @returns Chance, 0 to 1.
 * @throws InputError if onHand is no such number.
 * @example
 * Number(stockOdds(2, { mean: 1.25 }).toFixed(6)) // => 0.868468
 */
export function stockOdds(onHand: number, demand: Spread): number {
  requireWhole("onHand", onHand);
  return countAtMost(onHand, demand);
}

/**
 * Expected units short in one lead time.
 *
 * @param onHand Whole units on the shelf, zero or more.
 * @param demand Demand of one lead time.
 * @returns Units, zero or more.
 * @throws InputError if onHand is no such number.
 * @example
 * Number(expectedShort(1, { mean: 1.25 }).toFixed(4)) // => 0.5365
 */
export function expectedShort(onHand: number, demand: Spread): number {
  requireWhole("onHand", onHand);
  return expectedAbove(onHand, demand);
}

/** How a stock does in the long run. */
export interface Run {
  /** Share of units handed out at once, 0 to 1. */
  readonly fill: number;
  /** Units owed on average. */
  readonly backorders: number;
  /** Units on the shelf on average. */
  readonly onHand: number;
  /** Orders a month. */
  readonly ordersPerMonth: number;
}

/** When to order, and how much. */
export interface OrderRule {
  /** Order when stock and orders under way are not above this. */
  readonly reorderPoint: number;
  /** Units an order. */
  readonly orderSize: number;
}

/** Largest order the long run is worked out for: it is summed unit by unit. */
const LARGEST_ORDER = 100_000;

/**
 * Long run of a stock that orders `orderSize` units whenever stock and orders fall to `reorderPoint`.
 *
 * Units are called for one at a time, at random, and wait when there are none. Stock and orders
 * under way are then equally often each number from reorderPoint + 1 to reorderPoint + orderSize.
 *
 * @param rule Reorder point (whole, zero or more) and order size (whole, 1 to 100,000).
 * @param demand Poisson demand and a lead time that does not vary.
 * @returns Fill, backorders, stock on hand and order frequency.
 * @throws InputError if a number is none of these.
 * @see Rossetti, Simulation Modeling and Arena, reorder-point inventory model.
 * @example
 * longRun({ reorderPoint: 2, orderSize: 2 }, { perMonth: 3.6, leadMonths: 0.5 }).ordersPerMonth // => 1.8
 */
export function longRun(rule: OrderRule, demand: Pick<Demand, "perMonth" | "leadMonths">): Run {
  const { reorderPoint: point, orderSize } = rule;
  requireWhole("reorderPoint", point);
  if (!(Number.isInteger(orderSize) && orderSize >= 1 && orderSize <= LARGEST_ORDER)) {
    throw new InputError("orderSize", `a whole number from 1 to ${LARGEST_ORDER}`, orderSize);
  }
  const { perMonth, leadMonths } = demand;
  const { mean } = leadDemand({ perMonth, leadMonths });
  let missed = 0;
  let owed = 0;
  for (let position = point + 1; position <= point + orderSize; position += 1) {
    missed += countAbove(position - 1, { mean });
    owed += expectedAbove(position, { mean });
  }
  const backorders = owed / orderSize;
  return {
    fill: 1 - missed / orderSize,
    backorders,
    onHand: point + (orderSize + 1) / 2 - mean + backorders,
    ordersPerMonth: perMonth / orderSize,
  };
}

function requireWhole(name: string, value: number): void {
  if (!(Number.isInteger(value) && value >= 0)) {
    throw new InputError(name, "a whole number, zero or more", value);
  }
}

/**
 * Refuses what is no service level.
 *
 * @param serviceLevel Chance that a stock lasts.
 * @returns Nothing.
 * @throws InputError if it is not 0 up to but not 1.
 * @example
 * requireServiceLevel(0.95) // => undefined
 */
export function requireServiceLevel(serviceLevel: number): void {
  if (!(serviceLevel >= 0 && serviceLevel < 1)) {
    throw new InputError("serviceLevel", "0 up to but not 1", serviceLevel);
  }
}
