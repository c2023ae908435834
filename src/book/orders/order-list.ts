import { isoText } from "../../core/day.ts";
import type { OrderLine } from "./lines.ts";
import { costOf, lateDeliveries, type Orders } from "./orders.ts";
import { type Place, placeText } from "./place.ts";
import { counted } from "../records/problems.ts";
import type { CellValue } from "../workbook/snapshot.ts";
import type { Layout } from "../sheets/layout.ts";
import type { Result } from "../sheets/result.ts";

const DATE = "yyyy-mm-dd";
const MONEY = "#,##0.00";

/** The Order list sheet: one row an order line, what has to go out first on top. */
const ORDER_LIST: Layout = {
  name: "Order list",
  title: "Order list",
  table: "SpareOrderList",
  about: "what to order, by when and why: now, and in the year ahead",
  room: 5000,
  columns: [
    { heading: "Line", width: 6, format: "0", about: "Number of the line." },
    { heading: "When", width: 8, about: "Now: goes out by the next look at the stock; later." },
    { heading: "Order on", width: 12, format: DATE, about: "Day of the joint order." },
    { heading: "Order by", width: 12, format: DATE, about: "Last working day; in the past: late." },
    { heading: "Need by", width: 12, format: DATE, about: "From then on a spare is missing." },
    { heading: "Item", width: 20, about: "Name from Parts." },
    { heading: "Quantity", width: 10, format: "0", about: "Units, whole packs." },
    { heading: "Unit", width: 7, about: "UN/ECE Recommendation 20." },
    { heading: "Packs", width: 8, format: "0", about: "Packs of the size beside." },
    { heading: "Pack size", width: 10, format: "0", about: "Units in a pack." },
    { heading: "Price a pack", width: 12, format: MONEY, about: "On the day of the order." },
    { heading: "Cost", width: 12, format: MONEY, about: "Packs times price." },
    { heading: "Site", width: 10, about: "Code from Sites; blank: the programme's store." },
    { heading: "Why", width: 90, about: "Why the line is there." },
  ],
};

/** The Order list sheet of a programme. */
export function orderSheet(orders: Orders): Result {
  const { reportDate } = orders.year.horizon;
  const cost = costOf(orders, orders.now);
  return {
    layout: ORDER_LIST,
    reportDate,
    notes: [
      `Now: ${counted(orders.now.length, "line")}, ${cost.parts.toFixed(2)} and freight ${cost.freight.toFixed(2)} ${orders.year.reading.ours.settings.currency}.`,
      "Complete sets only, no part deliveries. Item numbers, places and cost centres come with the order that is shared.",
      ...(cost.unpriced.length === 0 ? [] : [`No price on Parts: ${cost.unpriced.join(", ")}.`]),
      ...lateDeliveries(orders).map((late) => `Overdue, yet counted as coming: ${late}.`),
    ],
    rows: [...orders.now, ...orders.later].map((line, at) =>
      lineCells(line, at + 1, at < orders.now.length),
    ),
  };
}

function lineCells(line: OrderLine, number: number, isNow: boolean): CellValue[] {
  const { part, site } = line.place;
  const { supply } = part;
  return [
    number,
    isNow ? "Now" : "Later",
    line.orderOn,
    line.orderBy,
    line.needBy,
    part.name,
    line.units,
    supply.unit,
    line.packs,
    supply.pack,
    line.price,
    line.cost,
    site || null,
    line.why,
  ];
}

/** The Calculation sheet: one row a part and place, the figures the lines follow from. */
export const ORDER_WORK: Layout = {
  name: "Calculation",
  title: "Order calculation",
  table: "SpareOrderWork",
  about: "what was on the shelf, what comes due and what is kept, part by part and place by place",
  room: 5000,
  columns: [
    { heading: "Item", width: 20, about: "Name from Parts." },
    { heading: "Site", width: 10, about: "Code; blank: the programme's store." },
    { heading: "Devices", width: 9, format: "0", about: "Parts in use there." },
    { heading: "On hand", width: 9, format: "0", about: "Units counted, not expired." },
    { heading: "Counted on", width: 12, format: DATE, about: "Oldest count; blank: never." },
    { heading: "Expired", width: 9, format: "0", about: "Units past their expiry; not used." },
    { heading: "On order", width: 9, format: "0", about: "Units on their way." },
    {
      heading: "Days covered",
      width: 10,
      format: "0",
      about: "Lead time and days between orders.",
    },
    { heading: "Due in them", width: 10, format: "0", about: "Units due by date in these days." },
    {
      heading: "Early a month",
      width: 10,
      format: "0.000",
      about: "Units expected before their due date, by the wear in the Job log.",
    },
    { heading: "Spare rule", width: 10, format: "0", about: "Units kept in any case." },
    {
      heading: "Kept as spare",
      width: 10,
      format: "0",
      about: "The rule, or what early calls ask for at the service level.",
    },
    { heading: "Reorder point", width: 10, format: "0", about: "Due in them and kept as spare." },
    {
      heading: "Missing",
      width: 9,
      format: "0",
      about: "Reorder point less on hand and on order.",
    },
  ],
};

/** The Calculation sheet of a programme's orders. */
export function orderWorkSheet(orders: Orders): Result {
  const { horizon, reading } = orders.year;
  const { settings } = reading.ours;
  return {
    layout: ORDER_WORK,
    reportDate: horizon.reportDate,
    notes: [
      `Service level ${settings.serviceLevel}; a spare for each ${settings.spares}; ${settings.reviewDays} days between orders.`,
      `If every site keeps its own: ${orders.local} units now; from one store: ${orders.pooled}.`,
    ],
    rows: orders.places.map((place) => workCells(place, orders)),
  };
}

function workCells(place: Place, { year }: Orders): CellValue[] {
  const { stock, protectionInterval, due, safetyStock } = place;
  const covered = year.horizon.reportDate + protectionInterval;
  const dueInThem = due.filter((day) => day <= covered).length;
  const point = dueInThem + safetyStock;
  return [
    place.part.name,
    place.site || null,
    place.units.length,
    stock.onHand,
    stock.countedOn,
    stock.expired,
    stock.onOrder,
    protectionInterval,
    dueInThem,
    place.unplannedAMonth,
    place.minimumStock,
    safetyStock,
    point,
    Math.max(0, point - stock.onHand - stock.onOrder),
  ];
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
