import { isoText } from "../core/day.ts";
import { CAUTIONS } from "../book/records/cautions.ts";
import type { OrderLine } from "../book/orders/lines.ts";
import { costOf, lateDeliveries, type Orders, ordersOf } from "../book/orders/orders.ts";
import { counted } from "../book/records/problems.ts";
import { resultPlan } from "../book/sheets/result-plan.ts";
import { lineTexts, orderSheet, orderWorkSheet } from "../book/orders/order-list.ts";
import { yearOf } from "./ahead.ts";
import type { Wish } from "./arguments.ts";
import type { Io } from "./io.ts";
import { type Command, type Outcome, runJob } from "./job.ts";
import type { OpenBook } from "./open.ts";
import { aligned } from "./report.ts";

/** What to order, by when and why. */
export const order: Command = (wish, io) =>
  runJob(wish, io, { work: (book) => outcome(book, wish, io) });

/** The orders of the year ahead as the options ask for them. */
export function ordersFor(book: OpenBook, wish: Wish): Orders {
  return ordersOf(yearOf(book, wish, 12), wish.flag("pool"));
}

function outcome(book: OpenBook, wish: Wish, io: Io): Outcome {
  const orders = ordersFor(book, wish);
  const { parts, freight } = costOf(orders, orders.now);
  return {
    lines: orderTexts(orders),
    json: orderJson(orders),
    plan: resultPlan(book.workbook.snapshot, book.reading, {
      results: [orderSheet(orders), orderWorkSheet(orders)],
      summary: `order list of ${isoText(orders.year.horizon.reportDate)}: ${counted(orders.now.length, "line")} now, ${(parts + freight).toFixed(2)}`,
      today: io.today(),
    }),
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
    CAUTIONS[0] ?? "",
    CAUTIONS[3] ?? "",
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
