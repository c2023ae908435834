import { type Budget, currencyOf } from "./budget.ts";
import { sumOf } from "./money.ts";
import { amountsIn, moneyText, unitOf } from "../records/money-text.ts";
import { budgetSays, enoughWith, incompleteSays } from "./says.ts";
import type { Quarter, QuarterName } from "./fiscal.ts";
import type { QuarterNeed } from "./need.ts";
import type { AddChart, ChartSeries } from "../workbook/plan.ts";
import { percentText } from "../records/percent.ts";
import type { Part } from "../records/records.ts";
import { addMonths, type Day } from "../../core/day.ts";
import type { Result } from "../sheets/result.ts";
import { chartPlace, ONLY_CHART, type TablePlace } from "../sheets/chart-place.ts";
import { type ResultColumns, resultSheet } from "../sheets/result-sheet.ts";

const DATE = "yyyy-mm-dd";
const MONEY = "#,##0.00";

/** A row of the budget: a part and quarter, or a sum of money. */
interface BudgetRow {
  readonly item: string;
  readonly period: { readonly name: string; readonly from: Day };
  readonly units: number | null;
  readonly packs: number | null;
  readonly cost: number | null;
}

/** The Budget sheet: the sums of the year first, then freight, then one row a part and quarter. */
const BUDGET = resultSheet({
  name: "Budget",
  title: "Budget of parts",
  table: "SpareBudget",
  about: "what the fiscal year's parts cost, by part and quarter, expected and upper figure",
  room: 500,
  columns: {
    Item: {
      width: 22,
      wraps: true,
      about: "The year's sums first, then freight and each name from Parts.",
      cell: ({ item }) => item,
    },
    Quarter: {
      width: 11,
      about: "Quarter of the fiscal year.",
      cell: ({ period }) => period.name,
    },
    From: {
      width: 11,
      format: DATE,
      about: "First day of the quarter.",
      cell: ({ period }) => period.from,
    },
    Units: {
      width: 9,
      format: "0.0",
      about: "Units expected to be used; of a running year also those replaced so far.",
      cell: ({ units }) => units,
    },
    Packs: {
      width: 8,
      format: "0.0",
      about:
        "Packs expected to be bought: the mean of whole packs; of a running year those left to buy.",
      cell: ({ packs }) => packs,
    },
    Cost: {
      width: 12,
      format: MONEY,
      about:
        "Packs times price; of a running year with what was replaced so far, at today's price.",
      cell: ({ cost }) => cost,
    },
    "Ordered so far": { width: 10, format: "0", input: true, about: "Packs ordered; fill in." },
    "Cost so far": {
      width: 10,
      format: MONEY,
      input: true,
      about: "What the orders cost; fill in.",
    },
    "Over (+) or under": {
      width: 12,
      format: "+#,##0.00;-#,##0.00;0.00",
      formula: (of) => `IF(${of("Cost so far")}="","",${of("Cost so far")}-${of("Cost")})`,
      about: "Cost so far less the budget.",
      cell: () => "",
    },
  } satisfies ResultColumns<BudgetRow>,
  keys: ["Item", "Quarter", "From"],
  strong: (of) => `ISERROR(FIND(" Q",${of("Quarter")}))*(${of("Quarter")}<>"")`,
});

/** Colours that differ in lightness too: readable in grey. */
const INKS = ["12436D", "28A197", "801650", "F46A25"] as const;

/** The Budget sheet. */
export function budgetSheet(budget: Budget): Result {
  const { fiscal } = budget;
  const parts = partsOf(budget);
  const sums = [
    ...sumRows(budget),
    ...fiscal.quarters.map((quarter, at) => moneyRow("Freight", quarter, budget.freight[at] ?? 0)),
  ];
  const quarters = parts.flatMap((part) => [
    ...fiscal.passed.map((quarter) => passedRow(budget, part, quarter)),
    ...fiscal.quarters.map((quarter) => quarterRow(budget, part, quarter)),
  ]);
  return BUDGET.filled({
    title: `Budget of parts, fiscal year ${fiscal.name}`,
    reportDate: budget.year.horizon.reportDate,
    answer: budgetAnswer(budget),
    notes: [
      ...incompleteSays(budget),
      `${amountsIn(currencyOf(budget))} What it rests on: sheets Assumptions and Budget calculation.`,
      ...budgetSays(budget),
    ],
    rows: [...sums, ...quarters],
    charts: (place) => [stackedChart(budget, place, { parts, above: sums.length })],
  });
}

/** The year's cost in one line. */
function budgetAnswer(budget: Budget): string {
  const { incomplete, fiscal, whole, expected, upper } = budget;
  if (incomplete.length > 0) return "Not complete: no upper figure is given";
  const currency = currencyOf(budget);
  const figures = (one: { readonly expected: number; readonly upper: number }): string =>
    `expected ${moneyText(one.expected)}, upper figure ${moneyText(one.upper, currency)}`;
  if (whole !== null) return `The year: ${figures(whole)}`;
  return `${fiscal.isRunning ? "Left to buy: " : "The year: "}${figures({ expected, upper })}`;
}

/** The sums of the year; none is given out as enough while a price is missing. */
function sumRows(budget: Budget): BudgetRow[] {
  const { expected, upper, unpriced, incomplete, fiscal } = budget;
  const what = fiscal.isRunning ? "Left, all parts and freight" : "Expected, all parts and freight";
  if (incomplete.length > 0) {
    const without = unpriced.length > 0 ? ", leaving out parts without a price" : ", not complete";
    return [moneyRow(`Expected${without}`, fiscal, expected)];
  }
  return [
    moneyRow(what, fiscal, expected),
    moneyRow(
      `Contingency (enough with ${percentText(enoughWith(budget))})`,
      fiscal,
      budget.contingency,
    ),
    moneyRow(fiscal.isRunning ? "Upper figure of what is left" : "Upper figure", fiscal, upper),
    ...wholeRows(budget),
  ];
}

/** A running year: what was spent, and the year as that and what is left. */
function wholeRows({ soFar, whole, fiscal }: Budget): BudgetRow[] {
  const spent = soFar?.spent ?? null;
  if (spent === null || whole === null) return [];
  return [
    moneyRow("Spent so far", fiscal, spent),
    moneyRow("The year, expected", fiscal, whole.expected),
    moneyRow("The year, upper figure", fiscal, whole.upper),
  ];
}

function partsOf({ places }: Budget): Part[] {
  return [...new Set(places.map(({ part }) => part))];
}

function sumsOf(budget: Budget, part: Part, quarter: Quarter): Omit<QuarterNeed, "price"> {
  const here = budget.places
    .filter((place) => place.part === part)
    .flatMap(({ quarters }) => quarters.filter((one) => one.quarter === quarter));
  const costs = here.map(({ cost }) => cost);
  return {
    quarter,
    units: here.reduce((sum, { units }) => sum + units, 0),
    packs: here.reduce((sum, { packs }) => sum + packs, 0),
    cost: costs.some((cost) => cost === null) ? null : sumOf(costs),
  };
}

/** A quarter that is not over: what was used of it so far, and what is left. */
function quarterRow(budget: Budget, part: Part, quarter: Quarter): BudgetRow {
  const { units, packs, cost } = sumsOf(budget, part, quarter);
  const used = usedIn(budget, part, quarter);
  return {
    ...{ item: part.name, period: quarter, packs },
    units: units + used.units,
    cost: cost === null ? null : sumOf([cost, used.cost]),
  };
}

function passedRow(budget: Budget, part: Part, quarter: QuarterName): BudgetRow {
  const { units, cost } = usedIn(budget, part, quarter);
  return { item: part.name, period: quarter, units, packs: null, cost };
}

/** What was used of a part in a quarter so far. */
function usedIn(
  { soFar }: Budget,
  part: Part,
  { from }: QuarterName,
): { units: number; cost: number } {
  const end = addMonths(from, 3);
  const done = (soFar?.done ?? []).filter(
    (one) => one.part.code === part.code && one.date >= from && one.date < end,
  );
  return {
    units: done.reduce((sum, { units }) => sum + units, 0),
    cost: sumOf(done.map(({ cost }) => cost)),
  };
}

function moneyRow(item: string, period: BudgetRow["period"], cost: number): BudgetRow {
  return { item, period, units: null, packs: null, cost };
}

/** Cost by quarter, stacked by part; hatched, for all of it is still to come. */
function stackedChart(
  budget: Budget,
  table: TablePlace,
  { parts, above }: { readonly parts: readonly Part[]; readonly above: number },
): AddChart {
  const { quarters, passed } = budget.fiscal;
  const rows = passed.length + quarters.length;
  const costs = quarters.map((quarter) =>
    sumOf(parts.map((part) => sumsOf(budget, part, quarter).cost)),
  );
  const rowsOf = (nth: number) => {
    const first = above + nth * rows;
    return { first, last: first + rows - 1 };
  };
  return {
    kind: "addChart",
    sheet: table.sheet,
    chart: "stacked",
    title: `Budget by quarter, ${budget.fiscal.name} (forecast)`,
    description:
      `Expected ${budget.expected.toFixed(2)}${budget.incomplete.length > 0 ? " (not complete)" : `, upper figure ${budget.upper.toFixed(2)}`}${unitOf(currencyOf(budget))}; ` +
      `dearest quarter ${Math.max(...costs).toFixed(2)} for parts.`,
    at: chartPlace(BUDGET.layout, table, ONLY_CHART),
    series: parts.slice(0, INKS.length).map((part, at): ChartSeries => ({
      title: part.name,
      categories: BUDGET.reference(table, "Quarter", rowsOf(0)),
      values: BUDGET.reference(table, "Cost", rowsOf(at)),
      role: "stack",
      color: INKS[at] ?? INKS[0],
      hatched: true,
    })),
  };
}
