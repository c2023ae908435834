import { expectedShort, leadDemand, reorderPoint, stockOdds } from "../src/core/stock.ts";
import { defineRow } from "./define.ts";

/** Demand and lead time as they are asked for wherever stock is reckoned. */
const perMonth = {
  kind: "number",
  about:
    "Unplanned units a month, 0 to 100,000; where none have been seen yet, 0.5 / months observed.",
  least: 0,
  most: 100_000,
  takes: "row",
} as const;

const leadMonths = {
  kind: "number",
  about: "Months from order to shelf, up to 120. A zero counts as blank.",
  least: 0,
  most: 120,
  takes: "row",
  zero: "blank",
} as const;

const variancePerMonth = {
  kind: "number",
  about: "Variance of the units of a month; not given or not above perMonth: Poisson.",
  least: 0,
  most: 1e9,
  takes: "row",
  optional: true,
} as const;

const leadSd = {
  kind: "number",
  about: "Standard deviation of the lead time in months, default 0.",
  least: 0,
  most: 120,
  takes: "row",
  optional: true,
} as const;

const onHand = {
  kind: "whole",
  about: "Units on the shelf.",
  least: 0,
  most: 1e9,
  takes: "row",
} as const;

const see =
  "Poisson count; negative binomial where it is spread more (Greenwood and Yule 1920, from memory).";

/** The stock at which to order. */
export const REORDERPOINT = defineRow({
  id: "REORDERPOINT",
  about:
    "Stock at which to order: plannedUnits plus the larger of floor and the units that last the lead time with chance service (default 0.95). Poisson; variance or leadSd only ever raise it.",
  args: {
    perMonth,
    leadMonths,
    service: {
      kind: "number",
      about: "Chance that the stock lasts, above 0 up to 0.999999, default 0.95.",
      least: 0,
      most: 0.999999,
      takes: "row",
      optional: true,
      default: 0.95,
    },
    floor: {
      kind: "whole",
      about: "Units that always stay on the shelf, default 1.",
      least: 0,
      most: 1e6,
      takes: "row",
      optional: true,
      default: 1,
    },
    variancePerMonth,
    leadSd,
    plannedUnits: {
      kind: "number",
      about: "Units known to be needed in the lead time, default 0.",
      least: 0,
      most: 1e6,
      takes: "row",
      optional: true,
      default: 0,
    },
  },
  gives: {
    kind: "number",
    about: "Whole units; order when stock on hand plus on order is at or below it.",
  },
  see,
  examples: [
    { cells: [0.4, 2], gives: 2 },
    { cells: [0.4, 2, 0.95, 1, null, null, 6], gives: 8 },
    { cells: [2, 2, 0.95, 1, null, 1], gives: 9 },
    { cells: [[0, 0.4, null], 2], gives: [[1], [2], [""]] },
  ],
  run:
    () =>
    ({ service, floor, plannedUnits, ...demand }) =>
      reorderPoint(leadDemand(demand), {
        serviceLevel: service,
        minimumStock: floor,
        scheduledUnits: plannedUnits,
      }),
});

/** The chance that the shelf lasts. */
export const STOCKODDS = defineRow({
  id: "STOCKODDS",
  about:
    "Chance (0 to 1) that onHand units last the lead time, unplanned demand being Poisson, or spread more with variancePerMonth or leadSd.",
  args: { onHand, perMonth, leadMonths, variancePerMonth, leadSd },
  gives: { kind: "share", about: "Chance, 0 to 1." },
  see,
  examples: [
    { cells: [0, 0.5, 2], gives: 0.36787944117144233 },
    { cells: [[1, null], 0.5, 2], gives: [[0.7357588823428847], [""]] },
  ],
  run:
    () =>
    ({ onHand, ...demand }) =>
      stockOdds(onHand, leadDemand(demand)),
});

/** The units that will be missing. */
export const EXPECTEDSHORT = defineRow({
  id: "EXPECTEDSHORT",
  about:
    "Expected units short in one lead time with onHand units on the shelf, unplanned demand being Poisson, or spread more with variancePerMonth or leadSd.",
  args: { onHand, perMonth, leadMonths, variancePerMonth, leadSd },
  gives: { kind: "number", about: "Units, on average." },
  see,
  examples: [
    { cells: [0, 0.5, 2], gives: 1 },
    { cells: [[5, null], 0, 2], gives: [[0], [""]] },
  ],
  run:
    () =>
    ({ onHand, ...demand }) =>
      expectedShort(onHand, leadDemand(demand)),
});
