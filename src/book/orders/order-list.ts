import { isoText } from "../../core/day.ts";
import { moneyText } from "../records/money-text.ts";
import { type OrderLine, roundMoney } from "./lines.ts";
import { costOf, type Orders, orderWarnings } from "./orders.ts";
import { placeText } from "./place.ts";
import { counted, listed } from "../records/problems.ts";
import type { Result } from "../sheets/result.ts";
import { type ResultColumns, resultSheet } from "../sheets/result-sheet.ts";

const DATE = "yyyy-mm-dd";
const MONEY = "#,##0.00";

/** A line of the list. */
interface Numbered {
  readonly line: OrderLine;
  readonly number: number;
  /** It goes out by the next look at the stock. */
  readonly isNow: boolean;
}

/** The Order list sheet: one row an order line, what has to go out first on top. */
const ORDER_LIST = resultSheet({
  name: "Order list",
  title: "Order list",
  table: "SpareOrderList",
  about: "what to order, by when and why: now, and in the year ahead",
  room: 5000,
  columns: {
    Line: { width: 6, format: "0", about: "Number of the line.", cell: ({ number }) => number },
    When: {
      width: 8,
      about: "Now: goes out by the next stock review; otherwise later.",
      cell: ({ isNow }) => (isNow ? "Now" : "Later"),
    },
    "Order on": {
      width: 11,
      format: DATE,
      about: "Day of the joint order.",
      cell: ({ line }) => line.orderOn,
    },
    "Order by": {
      width: 11,
      format: DATE,
      about: "Last working day; in the past: late.",
      cell: ({ line }) => line.orderBy,
    },
    "Need by": {
      width: 11,
      format: DATE,
      about: "From this day on a spare is missing.",
      cell: ({ line }) => line.needBy,
    },
    Item: { width: 16, about: "Name from Parts.", cell: ({ line }) => line.place.part.name },
    Quantity: {
      width: 10,
      format: "0",
      about: "Units, whole packs.",
      cell: ({ line }) => line.units,
    },
    Unit: {
      width: 7,
      about: "UN/ECE Recommendation 20.",
      cell: ({ line }) => line.place.part.supply.unit,
    },
    Packs: {
      width: 8,
      format: "0",
      about: "Packs of the size in the next column.",
      cell: ({ line }) => line.packs,
    },
    "Pack size": {
      width: 10,
      format: "0",
      about: "Units in a pack.",
      cell: ({ line }) => line.place.part.supply.pack,
    },
    "Price a pack": {
      width: 10,
      format: MONEY,
      about: "On the day of the order.",
      cell: ({ line }) => line.price,
    },
    Cost: { width: 11, format: MONEY, about: "Packs times price.", cell: ({ line }) => line.cost },
    Site: {
      width: 8,
      about: "Code from Sites; blank: the programme's store.",
      cell: ({ line }) => line.place.site || null,
    },
    Why: { width: 46, wraps: true, about: "Why the line is there.", cell: ({ line }) => line.why },
  } satisfies ResultColumns<Numbered>,
});

/** The Order list sheet of a programme. */
export function orderSheet(orders: Orders): Result {
  const { reportDate } = orders.year.horizon;
  const cost = costOf(orders, orders.now);
  return ORDER_LIST.filled({
    reportDate,
    answer: orderAnswer(orders),
    notes: [
      "Complete sets only, no partial deliveries. Item numbers, addresses and cost centres are on the order you share.",
      ...(cost.unpriced.length === 0 ? [] : [`No price on Parts: ${cost.unpriced.join(", ")}.`]),
      ...orderWarnings(orders),
    ],
    rows: [...orders.now, ...orders.later].map((line, at) => ({
      line,
      number: at + 1,
      isNow: at < orders.now.length,
    })),
  });
}

/** How much is to be ordered now, in one line. */
function orderAnswer(orders: Orders): string {
  if (orders.now.length === 0) return "Nothing to order now";
  const { parts, freight, unpriced } = costOf(orders, orders.now);
  const { currency } = orders.year.reading.ours.settings;
  const lines = `${counted(orders.now.length, "line")} to order now`;
  if (unpriced.length > 0) return `${lines}; no price for ${listed(unpriced)}`;
  const all = moneyText(roundMoney(parts + freight), currency);
  return `${lines}: ${all}${freight === 0 ? "" : `, of which freight ${moneyText(freight)}`}`;
}

/** A line as people read it on a terminal. */
export function lineTexts(line: OrderLine): string[] {
  const { part } = line.place;
  const late = line.orderBy < line.orderOn ? ` (was ${isoText(line.orderBy)})` : "";
  return [
    `${isoText(line.orderOn)}${late}`,
    `${line.units} ${part.supply.unit}`,
    part.name,
    placeText(line.place),
    isoText(line.needBy),
    line.cost === null ? "no price" : line.cost.toFixed(2),
  ];
}
