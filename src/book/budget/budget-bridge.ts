import { type BridgeStep, type Budget, currencyOf, sumOf } from "./budget.ts";
import type { AddChart, ChartSeries } from "../workbook/plan.ts";
import type { CellValue } from "../workbook/snapshot.ts";
import type { Layout } from "../sheets/layout.ts";
import { chartPlace, type Result, resultReference } from "../sheets/result.ts";

const MONEY = "#,##0.00";

/** The Budget bridge sheet: from last year's cost to the budget. */
const BRIDGE: Layout = {
  name: "Budget bridge",
  title: "From last year to the budget",
  table: "SpareBudgetBridge",
  about: "what makes the budget differ from the last twelve months",
  room: 50,
  columns: [
    { heading: "Step", width: 22, about: "What changes." },
    { heading: "Amount", width: 13, format: "+#,##0.00;-#,##0.00;0.00", about: "By how much." },
    { heading: "Together", width: 13, format: MONEY, about: "Sum so far." },
    {
      heading: "Base",
      width: 11,
      format: MONEY,
      about: "For the chart: the unseen foot of a step.",
    },
    { heading: "Sum", width: 11, format: MONEY, about: "For the chart: first and last." },
    { heading: "More", width: 11, format: MONEY, about: "For the chart: a step up." },
    { heading: "Less", width: 11, format: MONEY, about: "For the chart: a step down." },
    { heading: "What it is", width: 60, about: "Where the step comes from." },
  ],
};

/** The Budget bridge sheet. */
export function bridgeSheet(budget: Budget): Result {
  const rows = bridgeRows(budget);
  return {
    layout: BRIDGE,
    reportDate: budget.year.horizon.reportDate,
    notes: [`Amounts in ${currencyOf(budget)}; contingency is not in the steps.`],
    rows,
    charts: (sheet) => [bridgeChart(budget, sheet, rows.length)],
  };
}

function bridgeRows({ bridge, expected }: Budget): CellValue[][] {
  let together = 0;
  const steps = bridge.map(({ step, amount, about }: BridgeStep, at): CellValue[] => {
    const before = together;
    together = sumOf([together, amount]);
    const [base, sum, more, less] =
      at === 0
        ? [null, amount, null, null]
        : [Math.min(before, together), null, Math.max(amount, 0), Math.max(-amount, 0)];
    return [step, amount, together, base, sum, more, less, about];
  });
  return [
    ...steps,
    [
      "Budget",
      expected,
      expected,
      null,
      expected,
      null,
      null,
      "Expected cost of parts and freight.",
    ],
  ];
}

function bridgeChart(budget: Budget, sheet: string, rows: number): AddChart {
  const place = { first: 0, last: rows - 1 };
  const series = (heading: string, color: string, look: Partial<ChartSeries>): ChartSeries => ({
    title: heading,
    categories: resultReference(BRIDGE, sheet, { heading: "Step", ...place }),
    values: resultReference(BRIDGE, sheet, { heading, ...place }),
    role: "stack",
    color,
    ...look,
  });
  const [last] = budget.bridge;
  return {
    kind: "addChart",
    sheet,
    chart: "stacked",
    title: "From last year to the budget",
    description:
      `Last twelve months ${(last?.amount ?? 0).toFixed(2)}, budget ${budget.expected.toFixed(2)}, ` +
      `difference ${(budget.expected - (last?.amount ?? 0)).toFixed(2)} ${currencyOf(budget)}.`,
    at: chartPlace(BRIDGE, 0),
    series: [
      series("Base", "FFFFFF", { role: "low" }),
      series("Sum", "12436D", {}),
      series("More", "801650", { hatched: true }),
      series("Less", "28A197", {}),
    ],
  };
}
