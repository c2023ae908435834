import { isoText } from "../../core/day.ts";
import type { OrderLine } from "./lines.ts";
import { costOf, type Orders, orderWarnings } from "./orders.ts";
import { type OrderPlace, placeText } from "./place.ts";
import { unitOf } from "../records/money.ts";
import { counted } from "../records/problems.ts";
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
    notes: [
      `Now: ${counted(orders.now.length, "line")}, ${cost.parts.toFixed(2)} and freight ${cost.freight.toFixed(2)}${unitOf(orders.year.reading.ours.settings.currency)}.`,
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

/** A place with the stock at which it orders. */
interface Worked {
  readonly place: OrderPlace;
  readonly dueInThem: number;
  readonly comesInThem: number;
  readonly reorderPoint: number;
}

/** The Calculation sheet: one row a part and place, the figures the lines follow from. */
const ORDER_WORK = resultSheet({
  name: "Calculation",
  title: "Order calculation",
  table: "SpareOrderWork",
  about:
    "what is on the shelf, what comes due and what is kept as spare, part by part and place by place",
  room: 5000,
  columns: {
    Item: { width: 16, about: "Name from Parts.", cell: ({ place }) => place.part.name },
    Site: {
      width: 8,
      about: "Code; blank: the programme's store.",
      cell: ({ place }) => place.site || null,
    },
    Devices: {
      width: 9,
      format: "0",
      about: "Parts in use there.",
      cell: ({ place }) => place.units.length,
    },
    "On hand": {
      width: 9,
      format: "0",
      about: "Units counted within a year, not expired.",
      cell: ({ place }) => place.stock.onHand,
    },
    "Counted on": {
      width: 11,
      format: DATE,
      about: "Oldest count; blank: never.",
      cell: ({ place }) => place.stock.countedOn,
    },
    Expired: {
      width: 9,
      format: "0",
      about: "Units past their expiry; not used.",
      cell: ({ place }) => place.stock.expired,
    },
    "On order": {
      width: 9,
      format: "0",
      about: "Units ordered and expected within the days covered.",
      cell: ({ comesInThem }) => comesInThem,
    },
    "On order later": {
      width: 9,
      format: "0",
      about: "Units ordered and expected after them.",
      cell: ({ place, comesInThem }) => place.stock.onOrder - comesInThem,
    },
    "Days covered": {
      width: 9,
      format: "0",
      about: "The lead time that is not exceeded at the service level, and days between orders.",
      cell: ({ place }) => place.protectionInterval,
    },
    "Due in them": {
      width: 9,
      format: "0",
      about: "Units due by date within these days.",
      cell: ({ dueInThem }) => dueInThem,
    },
    "Early a month": {
      width: 10,
      format: "0.000",
      about: "Units expected before their due date, by the wear in the Job log.",
      cell: ({ place }) => place.unplannedAMonth,
    },
    "Spare rule": {
      width: 9,
      format: "0",
      about: "Units always kept.",
      cell: ({ place }) => place.minimumStock,
    },
    "Kept as spare": {
      width: 9,
      format: "0",
      about: "As the rule says, or more if early replacements require it at the service level.",
      cell: ({ place }) => place.safetyStock,
    },
    "Reorder point": {
      width: 9,
      format: "0",
      about: "Due in that time, plus kept as spare.",
      cell: ({ reorderPoint }) => reorderPoint,
    },
    Missing: {
      width: 9,
      format: "0",
      about: "Reorder point less on hand and on order.",
      cell: ({ place: { stock }, reorderPoint, comesInThem }) =>
        Math.max(0, reorderPoint - stock.onHand - comesInThem),
    },
    "Not counted": {
      width: 20,
      wraps: true,
      about: "What lies there or was ordered and cannot be counted on, and what to do.",
      cell: ({ place }) => place.stock.notCounted.join("; ") || null,
    },
  } satisfies ResultColumns<Worked>,
});

/** The Calculation sheet of a programme's orders. */
export function orderWorkSheet(orders: Orders): Result {
  const { horizon, reading } = orders.year;
  const { settings } = reading.ours;
  return ORDER_WORK.filled({
    reportDate: horizon.reportDate,
    notes: [
      `Service level ${settings.serviceLevel}; a spare for each ${settings.spares}; ${settings.reviewDays} days between orders.`,
      `If every site keeps its own spares: ${orders.local} units now; if one store serves all: ${orders.pooled}.`,
    ],
    rows: orders.places.map((place) => worked(place, orders)),
  });
}

function worked(place: OrderPlace, { year }: Orders): Worked {
  const covered = year.horizon.reportDate + place.protectionInterval;
  const dueInThem = place.due.filter((day) => day <= covered).length;
  const comesInThem = place.stock.receipts
    .filter(({ on }) => on <= covered)
    .reduce((sum, { units }) => sum + units, 0);
  return { place, dueInThem, comesInThem, reorderPoint: dueInThem + place.safetyStock };
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
