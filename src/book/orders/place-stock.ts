import { countUpTo } from "../../core/bisection.ts";
import { DAYS_PER_MONTH } from "../../core/counts.ts";
import type { Day } from "../../core/day.ts";
import type { Receipt } from "../records/shelf.ts";
import type { OrderPlace } from "./place.ts";

/** Units left on a day by what is there and what comes, when due dates are kept; below 0 is short. */
export function leftOn(place: OrderPlace, day: number, reportDate: Day): number {
  const { stock, due } = place;
  return stock.onHand + comeBy(place, day, reportDate) - lostBy(place, day) - dueBy(due, day);
}

/**
 * Units on order that a day can reckon with: what is expected by then, and what comes no later than an
 * order of the report date would, for ordering once more would not bring it sooner.
 */
export function comeBy({ part, stock }: OrderPlace, day: number, reportDate: Day): number {
  return receivedBy(stock.receipts, Math.max(day, reportDate + part.supply.leadDays));
}

export function receivedBy(receipts: readonly Receipt[], day: number): number {
  let units = 0;
  for (const receipt of receipts) if (receipt.on <= day) units += receipt.units;
  return units;
}

/** Units past their expiry before a day, although what expires first is taken first. */
export function lostBy({ due, stock }: OrderPlace, day: number): number {
  let there = 0;
  let lost = 0;
  for (const { expiry, units } of stock.lots) {
    if (expiry >= day) break;
    there += units;
    lost += Math.max(0, there - lost - dueBy(due, expiry));
  }
  return lost;
}

/** Units bought on the way, on the day they are needed. */
export interface Bought {
  readonly on: Day;
  readonly units: number;
  /** The last day they can be used; null where they keep. */
  readonly expiry: Day | null;
}

/** Units bought on the way that are past their shelf life before a day, what was bought first being used first. */
export function boughtLost(bought: readonly Bought[], due: readonly Day[], day: number): number {
  let used = 0;
  let lost = 0;
  for (const { on, units, expiry } of bought) {
    used = Math.max(used, dueBy(due, on - 1));
    const taken = Math.min(units, Math.max(0, dueBy(due, expiry ?? Infinity) - used));
    used += taken;
    if (expiry !== null && expiry < day) lost += units - taken;
  }
  return lost;
}

/** How many of some days in order are there by a day. */
export function dueBy(days: readonly Day[], by: number): number {
  return countUpTo(days, by);
}

/** Unplanned calls that the safety stock no longer covers: those after the first time ahead. */
export function beyond({ unplannedAMonth, protectionInterval }: OrderPlace, ahead: number): number {
  return (unplannedAMonth * Math.max(0, ahead - protectionInterval)) / DAYS_PER_MONTH;
}

/** The days on which a place can run short: now, due dates, after an expiry, before a delivery, and when one early call more counts. */
export function lookedAt(place: OrderPlace, from: Day, end: Day): Day[] {
  const { due, stock } = place;
  const days = new Set<Day>([from, ...due]);
  for (const { expiry } of stock.lots) if (expiry < end) days.add((expiry + 1) as Day);
  // The eve of a delivery is when least is left.
  for (const { on } of stock.receipts) if (on > from && on <= end) days.add((on - 1) as Day);
  for (const day of earlyDays(place, from, end)) days.add(day);
  return [...days].sort((one, other) => one - other);
}

/** The first day on which more than no, one, two … early calls are no longer covered by the safety stock. */
function earlyDays(
  { unplannedAMonth, protectionInterval }: OrderPlace,
  from: Day,
  end: Day,
): Day[] {
  const days: Day[] = [];
  if (unplannedAMonth <= 0) return days;
  for (let calls = 0; ; calls += 1) {
    const covered = protectionInterval + (calls * DAYS_PER_MONTH) / unplannedAMonth;
    const day = (from + Math.floor(covered) + 1) as Day;
    if (!(day <= end)) return days;
    days.push(day);
  }
}
