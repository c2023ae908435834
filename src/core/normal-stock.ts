import { normalAtMost, normalQuantile } from "./chance.ts";
import { InputError, requireNotBelowZero } from "./errors.ts";
import { type OrderRule, requireServiceLevel } from "./stock.ts";

/** Demand of one lead time where it is large enough to be taken as normal, from about 20 units. */
export interface NormalDemand {
  readonly mean: number;
  /** Standard deviation, zero or more. */
  readonly sd: number;
}

/**
 * Demand of one lead time from a day's (week's, month's) demand, both with their spread.
 *
 * @param rate Mean and standard deviation of one unit of time.
 * @param lead Mean and standard deviation of the lead time in that unit.
 * @returns Mean rate · lead and standard deviation √(lead · sd² + rate² · leadSd²).
 * @throws InputError if a number is below zero.
 * @example
 * normalDemand({ mean: 60, sd: 0 }, { mean: 6, sd: 2 }) // => { mean: 360, sd: 120 }
 */
export function normalDemand(rate: NormalDemand, lead: NormalDemand): NormalDemand {
  for (const { mean, sd } of [rate, lead]) {
    requireNotBelowZero("mean", mean);
    requireNotBelowZero("sd", sd);
  }
  const variance = lead.mean * rate.sd ** 2 + rate.mean ** 2 * lead.sd ** 2;
  return { mean: rate.mean * lead.mean, sd: Math.sqrt(variance) };
}

/**
 * Reorder point of a large demand, taken as normal.
 *
 * @param demand Demand of one lead time.
 * @param serviceLevel Chance that the stock lasts, above 0 and below 1.
 * @returns Units, not rounded; what is above the mean is the safety stock. Round up.
 * @throws InputError if a number is none of these.
 * @example
 * Number(normalReorderPoint({ mean: 200, sd: Math.sqrt(200) }, 0.95).toFixed(2)) // => 223.26
 */
export function normalReorderPoint(demand: NormalDemand, serviceLevel: number): number {
  requireServiceLevel(serviceLevel);
  requireNotBelowZero("mean", demand.mean);
  requireNotBelowZero("sd", demand.sd);
  return demand.mean + normalQuantile(serviceLevel) * demand.sd;
}

/**
 * How a large stock does from order to order, demand taken as normal.
 *
 * @param rule Reorder point and order size in units, the order size above 0.
 * @param demand Demand of one lead time.
 * @returns Chance that the stock lasts (`serviceLevel`), expected units short an order (`short`) and share
 *   of units handed out at once (`fill`).
 * @throws InputError if a number is none of these.
 * @example
 * normalRun({ reorderPoint: 500, orderSize: 1000 }, { mean: 500, sd: 0 }) // => { serviceLevel: 1, short: 0, fill: 1 }
 */
export function normalRun(
  rule: OrderRule,
  demand: NormalDemand,
): { readonly serviceLevel: number; readonly short: number; readonly fill: number } {
  const { reorderPoint: point, orderSize } = rule;
  const { mean, sd } = demand;
  requireNotBelowZero("reorderPoint", point);
  requireNotBelowZero("mean", mean);
  requireNotBelowZero("sd", sd);
  if (!(Number.isFinite(orderSize) && orderSize > 0)) {
    throw new InputError("orderSize", "above 0", orderSize);
  }
  const z = (point - mean) / sd;
  const density = Math.exp((-z * z) / 2) / Math.sqrt(2 * Math.PI);
  const short =
    sd === 0 ? Math.max(0, mean - point) : Math.max(0, sd * (density - z * normalAtMost(-z)));
  const serviceLevel = sd === 0 ? Number(point >= mean) : normalAtMost(z);
  return { serviceLevel, short, fill: Math.max(0, 1 - short / orderSize) };
}
