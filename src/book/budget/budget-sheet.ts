import { type Budget, currencyOf, sumOf } from "./budget.ts";
import { budgetSays } from "./says.ts";
import type { Quarter } from "./fiscal.ts";
import type { QuarterNeed } from "./need.ts";
import type { AddChart, ChartSeries } from "../workbook/plan.ts";
import type { Part } from "../records/records.ts";
import type { CellValue } from "../workbook/snapshot.ts";
import type { Layout } from "../sheets/layout.ts";
import { chartPlace, type Result, resultReference } from "../sheets/result.ts";

const DATE = "yyyy-mm-dd";
const MONEY = "#,##0.00";

/** The Budget sheet: one row a part and quarter, then freight, contingency and the sums. */
const BUDGET: Layout = {
  name: "Budget",
  title: "Budget of parts",
  table: "SpareBudget",
  about: "what the fiscal year's parts cost, by part and quarter, expected and upper figure",
  room: 500,
  columns: [
    { heading: "Item", width: 36, about: "Name from Parts; freight, contingency and sums below." },
    { heading: "Quarter", width: 13, about: "Quarter of the fiscal year." },
    { heading: "From", width: 12, format: DATE, about: "First day of the quarter." },
    { heading: "Units", width: 9, format: "0.0", about: "Units expected to be used." },
    { heading: "Packs", width: 8, format: "0", about: "Packs to buy, whole over the year." },
    { heading: "Cost", width: 13, format: MONEY, about: "Packs times price in the quarter." },
    {
      heading: "Ordered so far",
      width: 13,
      format: "0",
      input: true,
      about: "Packs ordered; fill in.",
    },
    {
      heading: "Cost so far",
      width: 13,
      format: MONEY,
      input: true,
      about: "What the orders cost; fill in.",
    },
    {
      heading: "Over (+) or under",
      width: 14,
      format: "+#,##0.00;-#,##0.00;0.00",
      formula: 'IF(H{r}="","",H{r}-F{r})',
      about: "Cost so far less the budget.",
    },
  ],
};

/** Colours that differ in lightness too: readable in grey. */
const INKS = ["12436D", "28A197", "801650", "F46A25"] as const;

/** The Budget sheet. */
export function budgetSheet(budget: Budget): Result {
  const { fiscal } = budget;
  const parts = partsOf(budget);
  const rows = [
    ...parts.flatMap((part) =>
      fiscal.quarters.map((quarter) =>
        quarterRow(part.name, quarter, sumsOf(budget, part, quarter)),
      ),
    ),
    ...fiscal.quarters.map((quarter, at) => moneyRow("Freight", quarter, budget.freight[at] ?? 0)),
    ...sumRows(budget),
  ];
  return {
    layout: { ...BUDGET, title: `Budget of parts, fiscal year ${fiscal.name}` },
    reportDate: budget.year.horizon.reportDate,
    notes: [
      `Amounts in ${currencyOf(budget)}. What it rests on: sheets Assumptions and Budget calculation.`,
      ...(budget.unpriced.length === 0
        ? []
        : [`Without a price on Parts, so not in the sums: ${budget.unpriced.join(", ")}.`]),
      ...budgetSays(budget),
    ],
    rows,
    keys: ["Item", "Quarter", "From"],
    charts: (sheet) => [stackedChart(budget, sheet, parts)],
  };
}

/** The sums of the year; none is given out as enough while a price is missing. */
function sumRows(budget: Budget): CellValue[][] {
  const { expected, upper, level, unpriced } = budget;
  if (unpriced.length > 0)
    return [yearRow("Expected, without what has no price", budget, expected)];
  return [
    yearRow("Expected, all parts and freight", budget, expected),
    yearRow(`Contingency (enough with ${percent(level)})`, budget, budget.contingency),
    yearRow("Upper figure", budget, upper),
  ];
}

function percent(level: number): string {
  return `${Math.round(level * 1000) / 10} %`;
}

function partsOf({ places }: Budget): Part[] {
  return [...new Set(places.map(({ part }) => part))];
}

function sumsOf(budget: Budget, part: Part, quarter: Quarter): QuarterNeed {
  const here = budget.places
    .filter((place) => place.part === part)
    .flatMap(({ quarters }) => quarters.filter((one) => one.quarter === quarter));
  const costs = here.map(({ cost }) => cost);
  return {
    quarter,
    units: here.reduce((sum, { units }) => sum + units, 0),
    packs: here.reduce((sum, { packs }) => sum + packs, 0),
    price: here[0]?.price ?? null,
    cost: costs.some((cost) => cost === null) ? null : sumOf(costs),
  };
}

function quarterRow(
  name: string,
  { name: quarter, from }: Quarter,
  need: QuarterNeed,
): CellValue[] {
  return [name, quarter, from, need.units, need.packs, need.cost, null, null, ""];
}

function moneyRow(name: string, { name: quarter, from }: Quarter, cost: number): CellValue[] {
  return [name, quarter, from, null, null, cost, null, null, ""];
}

function yearRow(name: string, { fiscal }: Budget, cost: number): CellValue[] {
  return [name, fiscal.name, fiscal.from, null, null, cost, null, null, ""];
}

/** Cost by quarter, stacked by part; hatched, for all of it is still to come. */
function stackedChart(budget: Budget, sheet: string, parts: readonly Part[]): AddChart {
  const { quarters } = budget.fiscal;
  const costs = quarters.map((quarter) =>
    sumOf(parts.map((part) => sumsOf(budget, part, quarter).cost)),
  );
  const rowsOf = (nth: number) => ({ first: nth * 4, last: nth * 4 + 3 });
  return {
    kind: "addChart",
    sheet,
    chart: "stacked",
    title: `Budget by quarter, ${budget.fiscal.name} (forecast)`,
    description:
      `Expected ${budget.expected.toFixed(2)}, upper figure ${budget.upper.toFixed(2)} ${currencyOf(budget)}; ` +
      `dearest quarter ${Math.max(...costs).toFixed(2)} for parts.`,
    at: chartPlace(BUDGET, 0),
    series: parts.slice(0, INKS.length).map((part, at): ChartSeries => ({
      title: part.name,
      categories: resultReference(BUDGET, sheet, { heading: "Quarter", ...rowsOf(0) }),
      values: resultReference(BUDGET, sheet, { heading: "Cost", ...rowsOf(at) }),
      role: "stack",
      color: INKS[at] ?? INKS[0],
      hatched: true,
    })),
  };
}
