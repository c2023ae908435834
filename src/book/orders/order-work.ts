import type { Orders } from "./orders.ts";
import { percentText } from "../records/percent.ts";
import type { OrderPlace } from "./place.ts";
import type { Result } from "../sheets/result.ts";
import { type ResultColumns, resultSheet } from "../sheets/result-sheet.ts";

const DATE = "yyyy-mm-dd";

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
      cell: missingAt,
    },
    "Not counted": {
      width: 20,
      wraps: true,
      about: "What lies there or was ordered and cannot be counted on, and what to do.",
      cell: ({ place }) => place.stock.notCounted.join("; ") || null,
    },
  } satisfies ResultColumns<Worked>,
});

function missingAt({ place: { stock }, reorderPoint, comesInThem }: Worked): number {
  return Math.max(0, reorderPoint - stock.onHand - comesInThem);
}

/** The Calculation sheet of a programme's orders. */
export function orderWorkSheet(orders: Orders): Result {
  const { horizon, reading } = orders.year;
  const { settings } = reading.ours;
  const rows = orders.places.map((place) => worked(place, orders));
  const short = rows.filter((row) => missingAt(row) > 0).length;
  return ORDER_WORK.filled({
    reportDate: horizon.reportDate,
    answer: `${short} of ${rows.length} places are below their reorder point`,
    notes: [
      `Service level ${percentText(settings.serviceLevel)}; a spare for each ${settings.spares}; ${settings.reviewDays} days between orders.`,
      `If every site keeps its own spares: ${orders.local} units now; if one store serves all: ${orders.pooled}.`,
    ],
    rows,
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
