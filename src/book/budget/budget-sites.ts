import { type Budget, currencyOf } from "./budget.ts";
import type { PlaceBudget } from "./need.ts";
import type { CellValue } from "../workbook/snapshot.ts";
import type { Layout } from "../sheets/layout.ts";
import type { Result } from "../sheets/result.ts";

const MONEY = "#,##0.00";

/** The Budget by site sheet: one row a part, site and quarter. */
const BUDGET_SITES: Layout = {
  name: "Budget by site",
  title: "Budget by site and quarter",
  table: "SpareBudgetSites",
  about: "the budget's cost by site, cost centre and quarter",
  room: 20_000,
  columns: [
    { heading: "Site", width: 12, about: "Code; blank: the programme's store." },
    { heading: "Cost centre", width: 14, format: "@", about: "From Sites, else from Parts." },
    { heading: "Item", width: 24, about: "Name from Parts." },
    { heading: "Quarter", width: 13, about: "Quarter of the fiscal year." },
    { heading: "Units", width: 9, format: "0.00", about: "Units expected to be used." },
    { heading: "Packs", width: 8, format: "0", about: "Packs to buy." },
    { heading: "Price a pack", width: 13, format: MONEY, about: "In the quarter." },
    { heading: "Cost", width: 13, format: MONEY, about: "Packs times price." },
  ],
};

/** The Budget by site sheet. */
export function budgetSitesSheet(budget: Budget): Result {
  const rows = budget.places.flatMap((place) =>
    place.quarters.map((need): CellValue[] => [
      place.site || null,
      costCentreOf(budget, place) || null,
      place.part.name,
      need.quarter.name,
      need.units,
      need.packs,
      need.price,
      need.cost,
    ]),
  );
  return {
    layout: BUDGET_SITES,
    reportDate: budget.year.horizon.reportDate,
    notes: [`Freight and contingency are not shared out. Amounts in ${currencyOf(budget)}.`],
    rows,
  };
}

function costCentreOf({ year }: Budget, { part, site }: PlaceBudget): string {
  const { sites } = year.reading.ours;
  const home = sites.find(({ code }) => code.trim() === site);
  return home?.costCentre || part.supply.costCentre;
}

/** The Budget calculation sheet: one row a part and place, the figures the packs follow from. */
const BUDGET_WORK: Layout = {
  name: "Budget calculation",
  title: "Budget calculation",
  table: "SpareBudgetWork",
  about: "use, stock and packs of the year, part by part and place by place",
  room: 5000,
  columns: [
    { heading: "Item", width: 24, about: "Name from Parts." },
    { heading: "Site", width: 12, about: "Code; blank: the programme's store." },
    {
      heading: "Units used",
      width: 11,
      format: "0.00",
      about: "Planned and early, from Year by device.",
    },
    {
      heading: "Stock at start",
      width: 11,
      format: "0",
      about: "On hand and on order, or spares kept.",
    },
    { heading: "Stock at end", width: 11, format: "0", about: "Spares kept." },
    { heading: "To buy", width: 11, format: "0.00", about: "Used, plus end, less start." },
    { heading: "Pack size", width: 10, format: "0", about: "Units in a pack." },
    { heading: "Packs", width: 8, format: "0", about: "To buy, made whole." },
    {
      heading: "Cost",
      width: 13,
      format: MONEY,
      about: "By quarter, with the price of the quarter.",
    },
  ],
};

/** The Budget calculation sheet. */
export function budgetWorkSheet(budget: Budget): Result {
  return {
    layout: BUDGET_WORK,
    reportDate: budget.year.horizon.reportDate,
    notes: ["Packs are rounded up once a year for each place that orders."],
    rows: budget.places.map((place): CellValue[] => [
      place.part.name,
      place.site || null,
      place.units,
      place.startStock,
      place.endStock,
      Math.max(0, place.units + place.endStock - place.startStock),
      place.part.supply.pack,
      place.packs,
      place.cost,
    ]),
  };
}
