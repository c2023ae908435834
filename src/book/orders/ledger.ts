import { addMonths, type Day } from "../../core/day.ts";
import { orderSize } from "../../core/order.ts";
import type { WorkCalendar } from "../../core/workday.ts";
import type { Settings } from "../records/settings.ts";
import { calendarOf } from "../records/work-calendar.ts";
import type { Year } from "../year/year.ts";
import type { OrderPlace } from "./place.ts";
import { beyond, type Bought, boughtLost, dueBy, leftOn, lookedAt } from "./place-stock.ts";

/** What all places have in common. */
export interface OrderTime {
  readonly reportDate: Day;
  /** Last day looked at. */
  readonly end: Day;
  readonly settings: Settings;
  readonly calendar: WorkCalendar;
}

/** The time that orders of a year look at. */
export function orderTime({ reading: { ours }, horizon }: Year): OrderTime {
  const { reportDate } = ours.settings;
  return {
    reportDate,
    end: addMonths(reportDate, horizon.months),
    settings: ours.settings,
    calendar: calendarOf(ours),
  };
}

/** Units bought for the day on which a place would be short of its spares without them. */
export interface Purchase extends Bought {
  /** Units bought before, and those of them past their shelf life by then. */
  readonly ordered: number;
  readonly lost: number;
}

/**
 * What a place buys when: its stock day by day, from what is there and comes, less what expires, what falls due and
 * the early calls to be expected. What is bought expires too. The one ledger of orders and budget.
 */
export function purchasesOf(place: OrderPlace, time: OrderTime): Purchase[] {
  const { reportDate, end, settings } = time;
  const { supply } = place.part;
  const bought: Purchase[] = [];
  let ordered = 0;
  const left = (day: number): number => leftWith(place, bought, day, reportDate) + ordered;
  const days = lookedAt(place, reportDate, end);
  for (let at = 0; at < days.length; at += 1) {
    const day = days[at] ?? end;
    if (left(day) >= place.safetyStock) continue;
    // A delivery may come before the next look: the lowest stock until then tells what is missing.
    const until = Math.min(day + settings.reviewDays, end);
    let least = left(until);
    for (let next = at; (days[next] ?? Infinity) <= until; next += 1) {
      least = Math.min(least, left(days[next] ?? until));
    }
    const need = Math.ceil(place.safetyStock - least - 1e-9);
    const units = orderSize({ need: Math.max(need, 1), pack: supply.pack });
    const lost = boughtLost(bought, place.due, day);
    const expiry = supply.shelfMonths === null ? null : addMonths(day, supply.shelfMonths);
    bought.push({ on: day, units, expiry, ordered, lost });
    ordered += units;
    // The day after its last may be short of what was bought.
    if (expiry !== null && expiry < end) insert(days, (expiry + 1) as Day);
  }
  return bought;
}

// Units left by what is there and comes, less what is called for early and what of the bought is past its shelf life.
function leftWith(
  place: OrderPlace,
  bought: readonly Bought[],
  day: number,
  reportDate: Day,
): number {
  return (
    leftOn(place, day, reportDate) -
    boughtLost(bought, place.due, day) -
    beyond(place, day - reportDate)
  );
}

function insert(days: Day[], day: Day): void {
  if (days.includes(day)) return;
  days.push(day);
  days.sort((one, other) => one - other);
}

/** A time in which a place buys: after a day, up to each of some others. */
interface Buying {
  readonly after: Day;
  readonly until: readonly Day[];
}

/** Units that a place has to buy beyond what it uses. */
interface BeyondUse {
  /** Up to each of the days; below 0 where there is more than the spares kept. */
  readonly units: readonly number[];
  /** Those of the last that are bought since what was bought expires, or a delivery comes after they are needed. */
  readonly again: number;
}

/**
 * What a place has to buy after a day up to each of some others beyond what it uses between them, by the ledger of
 * its orders. What is missing by that day is bought by then.
 */
export function boughtBeyondUse(place: OrderPlace, time: OrderTime, asked: Buying): BeyondUse {
  const { reportDate, end } = time;
  const { stock, part } = place;
  const bought = part.supply.shelfMonths === null ? [] : purchasesOf(place, time);
  const expired = bought.flatMap(({ expiry }) => (expiry === null ? [] : [(expiry + 1) as Day]));
  // Where nothing comes and nothing expires less is left from day to day.
  const isFalling = stock.receipts.length + stock.lots.length + expired.length === 0;
  const days = isFalling ? [] : [...lookedAt(place, reportDate, end), ...expired];
  const short = (day: number, from = bought): number =>
    place.safetyStock - leftWith(place, from, day, reportDate);
  const missing = days.map((day) => short(day));
  // A delivery that comes late is of no use before: the day on which most is missing tells.
  const most = (until: number): number =>
    missing.reduce(
      (sum, units, at) => ((days[at] ?? Infinity) <= until ? Math.max(sum, units) : sum),
      short(until),
    );
  const used = (day: number): number => dueBy(place.due, day) + beyond(place, day - reportDate);
  const isAhead = asked.after >= reportDate;
  const before = isAhead ? Math.max(0, most(asked.after)) - used(asked.after) : 0;
  const beyondUse = (units: number, day: number): number =>
    Math.ceil(units - before - used(day) - 1e-9);
  const last = asked.until.at(-1) ?? reportDate;
  return {
    units: asked.until.map((until) => beyondUse(most(until), until)),
    again: beyondUse(most(last), last) - beyondUse(short(last, []), last),
  };
}
