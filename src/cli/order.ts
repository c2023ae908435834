import { isoText } from "../core/day.ts";
import { CAUTIONS } from "../book/records/cautions.ts";
import type { OrderLine } from "../book/orders/lines.ts";
import { bookOrderSteps, costOf, lateDeliveries, type Orders } from "../book/orders/orders.ts";
import { counted } from "../book/records/problems.ts";
import { orderChange } from "../book/orders/order-change.ts";
import { lineTexts } from "../book/orders/order-list.ts";
import { finished } from "../book/workbook/steps.ts";
import type { Wish } from "./arguments.ts";
import { type Command, type Outcome, runJob } from "./job.ts";
import { needDevices, type OpenBook } from "./open.ts";
import { aligned } from "./report.ts";
import { whatIfOf } from "./what-if.ts";

/** What to order, by when and why. */
export const order: Command = (wish, io) =>
  runJob(wish, io, { work: (book) => outcome(book, wish) });

/** The orders of the year ahead as the options ask for them. */
export function ordersFor(book: OpenBook, wish: Wish): Orders {
  needDevices(book);
  const given = { pooled: wish.flag("pool"), whatIf: whatIfOf(wish) };
  return finished(bookOrderSteps(book.workbook.snapshot, book.reading, given));
}

function outcome(book: OpenBook, wish: Wish): Outcome {
  const orders = ordersFor(book, wish);
  return {
    lines: orderTexts(orders),
    json: orderJson(orders),
    change: orderChange(orders),
  };
}

function orderTexts(orders: Orders): string[] {
  const { now, later, year } = orders;
  const { reportDate } = year.horizon;
  const cost = costOf(orders, now);
  const days = new Set(later.map(({ orderOn }) => orderOn));
  const head = ["Order on", "Quantity", "Item", "Site", "Need by", "Cost"];
  return [
    `Order list of ${isoText(reportDate)}: ${counted(now.length, "line")} to go out now.`,
    ...(now.length === 0
      ? ["Every spare is kept until the next look at the stock."]
      : ["", ...aligned([head, ...now.map(lineTexts)]), ""]),
    ...now.map(({ place, why }) => `  ${place.part.name}, ${why}`),
    "",
    `Parts ${cost.parts.toFixed(2)}, freight ${cost.freight.toFixed(2)}, together ${(cost.parts + cost.freight).toFixed(2)} ${year.reading.ours.settings.currency}.`,
    ...(cost.unpriced.length === 0 ? [] : [`No price on Parts: ${cost.unpriced.join(", ")}.`]),
    ...lateDeliveries(orders).map((late) => `Overdue, yet counted as coming: ${late}.`),
    `Later in the year: ${counted(later.length, "line")} in ${counted(days.size, "order")}.`,
    `If every site keeps its own spares: ${orders.local} units now; from one store for all: ${orders.pooled}.`,
    "",
    CAUTIONS.planningAid,
    CAUTIONS.completeSets,
  ];
}

function orderJson(orders: Orders): object {
  return {
    reportDate: isoText(orders.year.horizon.reportDate),
    currency: orders.year.reading.ours.settings.currency,
    now: orders.now.map(lineJson),
    later: orders.later.map(lineJson),
    cost: costOf(orders, orders.now),
    local: orders.local,
    pooled: orders.pooled,
  };
}

function lineJson({ place, ...line }: OrderLine): object {
  return {
    part: place.part.code,
    site: place.site,
    units: line.units,
    packs: line.packs,
    needBy: isoText(line.needBy),
    orderBy: isoText(line.orderBy),
    orderOn: isoText(line.orderOn),
    price: line.price,
    cost: line.cost,
    why: line.why,
  };
}
