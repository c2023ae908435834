import { day } from "../src/core/day.ts";
import { economicOrder, orderBy, orderSize } from "../src/core/order.ts";
import { workCalendar } from "../src/core/workday.ts";
import { defineRow } from "./define.ts";

const units = { kind: "number", least: 0, most: 1e9, takes: "row" } as const;

/** How many units to order. */
export const ORDERSIZE = defineRow({
  id: "ORDERSIZE",
  about:
    "Units to order: need less onHand and onOrder, rounded up to whole packs and not below minimum; 0 when nothing is needed.",
  args: {
    need: { ...units, about: "Units needed." },
    pack: {
      kind: "number",
      about: "Units in a pack, 1 or more.",
      least: 1,
      most: 1e6,
      takes: "row",
    },
    onHand: { ...units, about: "Units on the shelf, default 0.", optional: true, default: 0 },
    onOrder: {
      ...units,
      about: "Units ordered and not yet received, default 0.",
      optional: true,
      default: 0,
    },
    minimum: {
      ...units,
      about: "Smallest order in units, default 0.",
      optional: true,
      default: 0,
    },
  },
  gives: { kind: "number", about: "Units, a multiple of pack." },
  see: "Definition.",
  examples: [
    { cells: [38, 10, 6], gives: 40 },
    { cells: [5, 2, 0, 0, 9], gives: 10 },
    { cells: [[5, 12, null], 5, 5], gives: [[0], [10], [""]] },
  ],
  run: () => orderSize,
});

/** The order size of least cost. */
export const ECONOMICORDER = defineRow({
  id: "ECONOMICORDER",
  about:
    "Order size in units at which ordering and holding together cost least: square root of 2 * perYear * orderCost / holdingPerUnit; with pack the multiple of pack that costs least. 0 when perYear is 0.",
  args: {
    perYear: { ...units, about: "Units used a year." },
    orderCost: { ...units, about: "Cost of one order, whatever its size; above 0 without pack." },
    holdingPerUnit: {
      kind: "number",
      about: "Cost of keeping one unit for a year, 0.000001 or more.",
      least: 0.000001,
      most: 1e9,
      takes: "row",
    },
    pack: {
      kind: "number",
      about: "Units in a pack, 1 or more; not given: the answer is not rounded.",
      least: 1,
      most: 1e6,
      takes: "row",
      optional: true,
    },
  },
  gives: { kind: "number", about: "Units an order." },
  see: "Taha, Operations Research, 10th ed., section 13.3.",
  examples: [
    { cells: [120, 25, 2.4], gives: 50 },
    { cells: [120, 25, 2.4, 12], gives: 48 },
    { cells: [[0, null], 25, 3, 10], gives: [[0], [""]] },
  ],
  run:
    () =>
    ({ pack, ...costs }) =>
      economicOrder(costs, pack),
});

/** When to order. */
export const ORDERBY = defineRow({
  id: "ORDERBY",
  about:
    "Latest working day on which to order: needDate less leadDays calendar days, moved back to a working day. A date as a serial number.",
  args: {
    needDate: { kind: "date", about: "The day the goods are needed.", takes: "row" },
    leadDays: {
      kind: "whole",
      about: "Calendar days from order to shelf, 1 to 3660. A zero counts as blank.",
      least: 1,
      most: 3660,
      takes: "row",
      zero: "blank",
    },
    weekend: {
      kind: "weekend",
      about:
        "Weekend code as in WORKDAY.INTL: 1 (Saturday and Sunday, the default) to 17, or seven characters 0 and 1 from Monday.",
      optional: true,
      default: 1,
    },
    holidays: {
      kind: "date",
      about: "Range of non-working dates; blanks are skipped.",
      takes: "range",
      optional: true,
    },
  },
  gives: { kind: "date", about: "The day to order by." },
  see: "ECMA-376 Part 1, function WORKDAY, for going back.",
  examples: [
    { cells: [day("2026-05-31"), 14], gives: day("2026-05-15") },
    { cells: [day("2026-05-29"), 14, 1, [day("2026-05-15")]], gives: day("2026-05-14") },
    { cells: [[day("2026-05-29"), null], 14], gives: [[day("2026-05-15")], [""]] },
  ],
  run: ({ weekend, holidays }) => {
    const calendar = workCalendar(weekend, holidays);
    return ({ needDate, leadDays }) => orderBy(needDate, leadDays, calendar);
  },
});
