import { InputError, requireNotBelowZero } from "./errors.ts";
import { wholePacks } from "./order.ts";

/** A need and the packs it is bought in. */
export interface PackNeed {
  /** Units needed, zero or more. */
  readonly need: number;
  /** Units in a pack, above 0. */
  readonly pack: number;
  /** Price of a pack today, zero or more. */
  readonly packPrice: number;
  /** Units on the shelf at the start; 0 when not given. */
  readonly onHand?: number;
  /** Units to be on the shelf at the end; 0 when not given. */
  readonly endStock?: number;
  /** Rise of the price a year, 0.04 for 4%; 0 when not given. */
  readonly rise?: number;
  /** Years until the packs are bought; 1 when not given. */
  readonly years?: number;
}

/**
 * Packs to buy for a need, and what they cost.
 *
 * @param wanted Need, packs, stock and price.
 * @returns Whole packs, zero or more, for need + endStock − onHand; their cost, not rounded.
 * @throws InputError if a number is below zero, the pack is not above it or the rise takes it all.
 * @example
 * packCost({ need: 38, pack: 10, packPrice: 400, onHand: 6, endStock: 4, rise: 0.04 }) // => { packs: 4, cost: 1664 }
 */
export function packCost(wanted: PackNeed): { readonly packs: number; readonly cost: number } {
  const { need, pack, packPrice, onHand = 0, endStock = 0, rise = 0, years = 1 } = wanted;
  requireNotBelowZero("need", need);
  requireNotBelowZero("onHand", onHand);
  requireNotBelowZero("endStock", endStock);
  const packs = wholePacks(need + endStock - onHand, pack);
  return { packs, cost: packs * laterPrice(packPrice, rise, years) };
}

/**
 * A price after some years of the same rise.
 *
 * @param price Price today, zero or more.
 * @param rise Rise a year, above −1; 0.04 for 4%.
 * @param years Years, zero or more.
 * @returns price · (1 + rise)^years.
 * @throws InputError if a number is none of these.
 * @example
 * Number(laterPrice(1, 0.05, 10).toFixed(4)) // => 1.6289
 */
export function laterPrice(price: number, rise: number, years: number): number {
  requireNotBelowZero("price", price);
  requireNotBelowZero("years", years);
  if (!(Number.isFinite(rise) && rise > -1)) throw new InputError("rise", "above -1", rise);
  return price * (1 + rise) ** years;
}

/**
 * Rise a year between two levels of a price or a price index.
 *
 * @param from Earlier level, above 0.
 * @param to Later level, above 0.
 * @param years Years between them, above 0; 1 when not given.
 * @returns Rise a year; 0.04 for 4%.
 * @throws InputError if a number is none of these.
 * @example
 * Number(yearlyRise(129.9, 136).toFixed(3)) // => 0.047
 */
export function yearlyRise(from: number, to: number, years = 1): number {
  for (const [name, value] of Object.entries({ from, to, years })) {
    if (!(Number.isFinite(value) && value > 0)) throw new InputError(name, "above 0", value);
  }
  return years === 1 ? (to - from) / from : (to / from) ** (1 / years) - 1;
}
