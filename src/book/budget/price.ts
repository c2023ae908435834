import { addMonths, type Day } from "../../core/day.ts";
import { orderBy } from "../../core/order.ts";
import { orderTime } from "../orders/ledger.ts";
import { type OrderLine, priceOn, roundMoney } from "../orders/lines.ts";
import type { OrderPlace } from "../orders/place.ts";
import type { Part } from "../records/records.ts";
import type { SiteNeed } from "../year/need.ts";
import type { Year } from "../year/year.ts";
import type { Quarter } from "./fiscal.ts";

/** Who buys what in which quarter. */
export interface Priced {
  readonly part: Part;
  readonly site: Pick<SiteNeed, "site" | "months">;
  /** Where its spares are kept; none for a task, which is paid when it is done. */
  readonly place: OrderPlace | undefined;
  /** What the ledger of the orders buys for it. */
  readonly bought: readonly OrderLine[];
}

/**
 * Price of a pack in a quarter: that of the days on which the orders go out that the ledger makes for needs in it,
 * weighed by packs. Where it makes none although more may be needed than is expected: of the last day to order for
 * the middle of each month, weighed by use.
 */
export function quarterPrice(priced: Priced, quarter: Quarter, year: Year): number | null {
  if (priced.part.supply.packPrice === null) return null;
  return orderedPrice(priced, quarter, year) ?? usedPrice(priced, quarter, year);
}

function orderedPrice({ bought }: Priced, quarter: Quarter, year: Year): number | null {
  const from = year.months[quarter.first] ?? quarter.from;
  const end = addMonths(year.months[quarter.last] ?? quarter.from, 1);
  let [packs, cost] = [0, 0];
  for (const line of bought) {
    if (line.needBy < from || line.needBy >= end || line.price === null) continue;
    packs += line.packs;
    cost += line.packs * line.price;
  }
  return packs > 0 ? roundMoney(cost / packs) : null;
}

const HALF_MONTH = 15;

function usedPrice({ part, site, place }: Priced, quarter: Quarter, year: Year): number {
  const time = orderTime(year);
  let [used, cost, plain] = [0, 0, 0];
  for (let at = quarter.first; at <= quarter.last; at += 1) {
    const month = year.months[at] ?? quarter.from;
    const middle = (month + HALF_MONTH) as Day;
    const on = place === undefined ? month : orderBy(middle, place.leadCover, time.calendar);
    const price = priceOn(part, on, time) ?? 0;
    const { scheduled = 0, unplanned = 0 } = site.months[at] ?? {};
    used += scheduled + unplanned;
    cost += (scheduled + unplanned) * price;
    plain += price / (quarter.last - quarter.first + 1);
  }
  return roundMoney(used > 0 ? cost / used : plain);
}
