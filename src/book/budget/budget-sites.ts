import { siteByCode } from "../records/site-names.ts";
import { amountsIn, moneyText } from "../records/money-text.ts";
import { type Budget, currencyOf } from "./budget.ts";
import { sumOf } from "./money.ts";
import type { PlaceBudget, QuarterNeed } from "./need.ts";
import type { Result } from "../sheets/result.ts";
import { type ResultColumns, resultSheet } from "../sheets/result-sheet.ts";

const MONEY = "#,##0.00";

/** What a place needs in a quarter, and who pays. */
interface SiteQuarter {
  readonly place: PlaceBudget;
  readonly costCentre: string;
  readonly need: QuarterNeed;
}

/** The Budget by site sheet: one row a part, site and quarter. */
const BUDGET_SITES = resultSheet({
  name: "Budget by site",
  title: "Budget by site and quarter",
  table: "SpareBudgetSites",
  about: "the budget's cost by site, cost centre and quarter",
  room: 20_000,
  columns: {
    Site: {
      width: 12,
      about: "Code; blank: the programme's store.",
      cell: ({ place }) => place.site || null,
    },
    "Cost centre": {
      width: 14,
      format: "@",
      about: "From Sites, else from Parts.",
      cell: ({ costCentre }) => costCentre || null,
    },
    Item: { width: 24, about: "Name from Parts.", cell: ({ place }) => place.part.name },
    Quarter: {
      width: 13,
      about: "Quarter of the fiscal year.",
      cell: ({ need }) => need.quarter.name,
    },
    Units: {
      width: 9,
      format: "0.00",
      about: "Units expected to be used.",
      cell: ({ need }) => need.units,
    },
    Packs: {
      width: 8,
      format: "0.00",
      about: "Packs expected to be bought.",
      cell: ({ need }) => need.packs,
    },
    "Price a pack": {
      width: 13,
      format: MONEY,
      about: "On the days its orders go out.",
      cell: ({ need }) => need.price,
    },
    Cost: { width: 13, format: MONEY, about: "Packs times price.", cell: ({ need }) => need.cost },
  } satisfies ResultColumns<SiteQuarter>,
});

/** The Budget by site sheet. */
export function budgetSitesSheet(budget: Budget): Result {
  return BUDGET_SITES.filled({
    reportDate: budget.year.horizon.reportDate,
    answer: partsAnswer(budget),
    notes: [
      `Freight and contingency are not divided among sites. ${amountsIn(currencyOf(budget))}`,
    ],
    rows: budget.places.flatMap((place) => {
      const costCentre = costCentreOf(budget, place);
      return place.quarters.map((need): SiteQuarter => ({ place, costCentre, need }));
    }),
  });
}

/** What the parts of all places cost; nothing while a price is missing. */
function partsAnswer(budget: Budget): string {
  const costs = budget.places.map(({ cost }) => cost);
  if (costs.some((cost) => cost === null)) return "";
  return `Parts at all places: ${moneyText(sumOf(costs), currencyOf(budget))}`;
}

function costCentreOf({ year }: Budget, { part, site }: PlaceBudget): string {
  const { sites } = year.reading.ours;
  return siteByCode(sites, site)?.costCentre || part.supply.costCentre;
}

/** The Budget calculation sheet: one row a part and place, the figures the packs follow from. */
const BUDGET_WORK = resultSheet({
  name: "Budget calculation",
  title: "Budget calculation",
  table: "SpareBudgetWork",
  about: "use, stock and packs of the year, part by part and place by place",
  room: 5000,
  columns: {
    Item: { width: 24, about: "Name from Parts.", cell: ({ part }) => part.name },
    Site: {
      width: 12,
      about: "Code; blank: the programme's store.",
      cell: ({ site }) => site || null,
    },
    "Units used": {
      width: 11,
      format: "0.00",
      about: "On schedule and early, from Year by device.",
      cell: ({ units }) => units,
    },
    "Stock at start": {
      width: 11,
      format: "0",
      about: "On hand and on order, or spares kept.",
      cell: ({ startStock }) => startStock,
    },
    "Stock at end": {
      width: 11,
      format: "0",
      about: "Spares kept.",
      cell: ({ endStock }) => endStock,
    },
    "Bought again": {
      width: 11,
      format: "0",
      about: "What was bought expires, or what is on order comes after it is needed.",
      cell: ({ boughtAgain }) => boughtAgain,
    },
    "To buy": {
      width: 11,
      format: "0.00",
      about: "Used, plus stock at end and bought again, less stock at start.",
      cell: ({ units, endStock, startStock, boughtAgain }) =>
        Math.max(0, units + endStock + boughtAgain - startStock),
    },
    "Pack size": {
      width: 10,
      format: "0",
      about: "Units in a pack.",
      cell: ({ part }) => part.supply.pack,
    },
    Packs: {
      width: 8,
      format: "0.00",
      about: "Mean of the whole packs for each number of units that may be used.",
      cell: ({ packs }) => packs,
    },
    Cost: {
      width: 13,
      format: MONEY,
      about: "By quarter, at the price of the day an order goes out.",
      cell: ({ cost }) => cost,
    },
  } satisfies ResultColumns<PlaceBudget>,
});

const PACKS_SAY =
  "Packs: each number of units that may be used is rounded up to whole packs at its place, over the year so far; the mean of these is shown, so it has decimals.";

/** The Budget calculation sheet. */
export function budgetWorkSheet(budget: Budget): Result {
  return BUDGET_WORK.filled({
    reportDate: budget.year.horizon.reportDate,
    answer: partsAnswer(budget),
    notes: [PACKS_SAY],
    rows: budget.places,
  });
}
