import type { BridgeStep } from "./bridge.ts";
import { type Budget, currencyOf } from "./budget.ts";
import { amountsIn, moneyText } from "../records/money-text.ts";
import { sumOf } from "./money.ts";
import type { AddChart, ChartSeries } from "../workbook/plan.ts";
import type { Result } from "../sheets/result.ts";
import { chartPlace, ONLY_CHART, type TablePlace } from "../sheets/chart-place.ts";
import { type HeadingOf, type ResultColumns, resultSheet } from "../sheets/result-sheet.ts";

const MONEY = "#,##0.00";

/** A step with the bars that show it. */
interface BridgeRow extends BridgeStep {
  readonly together: number;
  readonly base: number | null;
  readonly sum: number | null;
  readonly more: number | null;
  readonly less: number | null;
}

/** The Budget bridge sheet: from last year's cost to the budget. */
const BRIDGE = resultSheet({
  name: "Budget bridge",
  title: "From last year to the budget",
  table: "SpareBudgetBridge",
  about: "what makes the budget differ from the last twelve months",
  room: 50,
  columns: {
    Step: { width: 18, about: "What changes.", cell: ({ step }) => step },
    Amount: {
      width: 13,
      format: "+#,##0.00;-#,##0.00;0.00",
      about: "By how much.",
      cell: ({ amount }) => amount,
    },
    Together: {
      width: 13,
      format: MONEY,
      about: "Running total.",
      cell: ({ together }) => together,
    },
    Base: {
      width: 9,
      format: MONEY,
      helper: true,
      about: "For the chart: the invisible base of a step.",
      cell: ({ base }) => base,
    },
    Sum: {
      width: 9,
      format: MONEY,
      helper: true,
      about: "For the chart: first and last.",
      cell: ({ sum }) => sum,
    },
    More: {
      width: 9,
      format: MONEY,
      helper: true,
      about: "For the chart: a step up.",
      cell: ({ more }) => more,
    },
    Less: {
      width: 9,
      format: MONEY,
      helper: true,
      about: "For the chart: a step down.",
      cell: ({ less }) => less,
    },
    "What it is": {
      width: 31,
      wraps: true,
      about: "Where the step comes from.",
      cell: ({ about }) => about,
    },
  } satisfies ResultColumns<BridgeRow>,
});

/** The Budget bridge sheet. */
export function bridgeSheet(budget: Budget): Result {
  const rows = bridgeRows(budget);
  return BRIDGE.filled({
    reportDate: budget.year.horizon.reportDate,
    answer: bridgeAnswer(budget),
    notes: [`${amountsIn(currencyOf(budget))} Contingency is not in the steps.`],
    rows,
    charts: (place) => [bridgeChart(budget, place, rows.length)],
  });
}

/** From what to what, in one line. */
function bridgeAnswer(budget: Budget): string {
  const [before = 0, ...steps] = budget.bridge.map(({ amount }) => amount);
  const more = sumOf(steps);
  const [last, now] = [before, before + more].map((amount) => moneyText(amount));
  return `Last twelve months ${last}, budget ${now}, difference ${moneyText(more, currencyOf(budget))}`;
}

function bridgeRows({ bridge, fiscal }: Budget): BridgeRow[] {
  let together = 0;
  const steps = bridge.map((step, at): BridgeRow => {
    const before = together;
    const { amount } = step;
    together = sumOf([together, amount]);
    if (at === 0) return { ...step, together, base: null, sum: amount, more: null, less: null };
    const base = Math.min(before, together);
    const [more, less] = [Math.max(amount, 0), Math.max(-amount, 0)];
    return { ...step, together, base, sum: null, more, less };
  });
  const about = fiscal.isRunning
    ? "The year: what it has cost so far, and parts and freight expected."
    : "Expected cost of parts and freight.";
  const budget = { step: "Budget", amount: together, together, sum: together, about };
  return [...steps, { ...budget, base: null, more: null, less: null }];
}

function bridgeChart(budget: Budget, table: TablePlace, rows: number): AddChart {
  const place = { first: 0, last: rows - 1 };
  const series = (
    heading: HeadingOf<typeof BRIDGE>,
    color: string,
    look: Partial<ChartSeries>,
  ): ChartSeries => ({
    title: heading,
    categories: BRIDGE.reference(table, "Step", place),
    values: BRIDGE.reference(table, heading, place),
    role: "stack",
    color,
    ...look,
  });
  return {
    kind: "addChart",
    sheet: table.sheet,
    chart: "stacked",
    title: "From last year to the budget",
    description: `${bridgeAnswer(budget)}.`,
    at: chartPlace(BRIDGE.layout, table, ONLY_CHART),
    series: [
      series("Base", "FFFFFF", { role: "low" }),
      series("Sum", "12436D", {}),
      series("More", "801650", { hatched: true }),
      series("Less", "28A197", {}),
    ],
  };
}
