import { isoText } from "../../core/day.ts";
import { counted } from "../records/problems.ts";
import type { Change } from "../sheets/result-plan.ts";
import { orderSheet } from "./order-list.ts";
import { orderWorkSheet } from "./order-work.ts";
import { costOf, type Orders } from "./orders.ts";

/** What the orders add to a book. */
export function orderChange(orders: Orders): Change {
  const { parts, freight } = costOf(orders, orders.now);
  const date = isoText(orders.year.horizon.reportDate);
  return {
    results: [orderSheet(orders), orderWorkSheet(orders)],
    summary: `order list of ${date}: ${counted(orders.now.length, "line")} now, ${(parts + freight).toFixed(2)}`,
  };
}
