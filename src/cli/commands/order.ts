import { z } from "zod";
import { isoText } from "../../core/day.ts";
import { unitOf } from "../../book/records/money-text.ts";
import { CAUTIONS } from "../../book/records/cautions.ts";
import type { OrderLine } from "../../book/orders/lines.ts";
import { costOf, type Orders, orderWarnings } from "../../book/orders/orders.ts";
import { counted } from "../../book/records/problems.ts";
import { orderChange } from "../../book/orders/order-change.ts";
import { lineTexts } from "../../book/orders/order-list.ts";
import { BOOK, command } from "../command.ts";
import { type Outcome, runJob } from "../job.ts";
import type { OpenBook } from "../open.ts";
import type { Given } from "../option.ts";
import { ordersFor, POOL } from "../orders.ts";
import { AMOUNT, DATE, jobResult, list } from "../result.ts";
import { aligned } from "../report.ts";
import { WHAT_IF, whatIfOf } from "../what-if.ts";

const LINE = z.strictObject({
  part: z.string(),
  site: z.string(),
  units: z.number(),
  packs: z.number(),
  needBy: DATE,
  orderBy: DATE,
  orderOn: DATE,
  price: AMOUNT,
  cost: AMOUNT,
  why: z.string(),
});

const RESULT = {
  reportDate: DATE,
  currency: z.string(),
  now: list(LINE),
  later: list(LINE),
  cost: z.strictObject({ parts: z.number(), freight: z.number(), unpriced: list(z.string()) }),
  local: z.number(),
  pooled: z.number(),
  notCounted: list(z.string()),
  waits: list(z.string()),
};

/** What --json prints. */
type Result = z.infer<z.ZodObject<typeof RESULT>>;

const OPTIONS = { pool: POOL, ...WHAT_IF };

/** What to order, by when and why. */
export const order = command({
  name: "order",
  moment: "The year",
  brief: "what to order now and later, by when and why",
  about: `What to order now, by when, where and why, and what follows during the year: need within lead time and
review, plus the spares kept, less what is on hand and on order, in whole packs. With -o, also the sheets
Order list and Calculation.`,
  words: BOOK,
  writes: "[-o OUT]",
  common: ["json"],
  examples: ["order equipment.xlsx", "order equipment.xlsx --pool -o with-order.xlsx"],
  options: OPTIONS,
  result: jobResult(RESULT),
  run: (asked) => runJob(asked.words, asked, (book) => outcome(book, asked.given)),
});

function outcome(book: OpenBook, given: Given<typeof OPTIONS>): Outcome<Result> {
  const orders = ordersFor(book, { pooled: given.pool, whatIf: whatIfOf(given) });
  return { lines: orderTexts(orders), json: orderJson(orders), change: orderChange(orders) };
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
      ? ["All spares are covered until the next stock review."]
      : ["", ...aligned([head, ...now.map(lineTexts)]), ""]),
    ...now.map(({ place, why }) => `  ${place.part.name}, ${why}`),
    "",
    `Parts ${cost.parts.toFixed(2)}, freight ${cost.freight.toFixed(2)}, together ${(cost.parts + cost.freight).toFixed(2)}${unitOf(year.reading.ours.settings.currency)}.`,
    ...(cost.unpriced.length === 0 ? [] : [`No price on Parts: ${unpricedUnits(now)}.`]),
    ...orderWarnings(orders),
    `Later in the year: ${counted(later.length, "line")} in ${counted(days.size, "order")}.`,
    `If every site keeps its own spares: ${orders.local} units now; if one store serves all: ${orders.pooled}.`,
    "",
    CAUTIONS.planningAid,
    CAUTIONS.completeSets,
  ];
}

/** What a line without a price comes to: its units. */
function unpricedUnits(lines: readonly OrderLine[]): string {
  const units = new Map<string, { readonly unit: string; units: number }>();
  for (const { place, cost, units: more } of lines) {
    if (cost !== null) continue;
    const { name, supply } = place.part;
    const here = units.get(name) ?? { unit: supply.unit, units: 0 };
    units.set(name, { ...here, units: here.units + more });
  }
  return [...units].map(([name, { unit, units }]) => `${name} (${units} ${unit})`).join(", ");
}

function orderJson(orders: Orders): Result {
  return {
    reportDate: isoText(orders.year.horizon.reportDate),
    currency: orders.year.reading.ours.settings.currency,
    now: orders.now.map(lineJson),
    later: orders.later.map(lineJson),
    cost: costOf(orders, orders.now),
    local: orders.local,
    pooled: orders.pooled,
    notCounted: [...orders.notCounted],
    waits: [...orders.waits],
  };
}

function lineJson({ place, ...line }: OrderLine): z.infer<typeof LINE> {
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
