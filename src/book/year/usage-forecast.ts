import { isoText } from "../../core/day.ts";
import type { AddChart, ChartSeries } from "../workbook/plan.ts";
import type { CellValue } from "../workbook/snapshot.ts";
import type { UseMonth } from "./use.ts";
import type { Year } from "./year.ts";
import type { Layout } from "../sheets/layout.ts";
import { chartPlace, type Result, resultReference } from "../sheets/result.ts";

const WHOLE = "#,##0";

/** The Usage forecast sheet: sessions of the programme by month, counted and expected. */
const USAGE_FORECAST: Layout = {
  name: "Usage forecast",
  title: "Usage forecast: sessions by month",
  table: "SpareUsageForecast",
  about:
    "sessions counted and expected by month, with limits; the intervals of the year go by them",
  room: 200,
  columns: [
    { heading: "Month", width: 11, format: "mmm yyyy", about: "Calendar month." },
    {
      heading: "Counted",
      width: 11,
      format: WHOLE,
      about: "Sessions of all sites; only months in which every device has its count.",
    },
    {
      heading: "Expected",
      width: 11,
      format: WHOLE,
      about: "Mean of the level, the last twelve counts and last year's month, site by site.",
    },
    { heading: "Low", width: 11, format: WHOLE, about: "Lower limit from earlier tries." },
    { heading: "High", width: 11, format: WHOLE, about: "Upper limit from earlier tries." },
    { heading: "Low to high", width: 12, format: WHOLE, about: "Height of the band in the chart." },
    { heading: "Report date", width: 12, format: WHOLE, about: "Marks the running month." },
  ],
};

const MOST_HISTORY = 36;
const INK = "12436D";

/** The Usage forecast sheet of a programme. */
export function useSheet(year: Year): Result {
  const { history, ahead, missing } = year.use.programme;
  const shown = history.slice(-MOST_HISTORY);
  const rows = [
    ...shown.map((month, at) => pastRow(month, at === shown.length - 1)),
    ...ahead.map((month, at) => aheadRow(month, at, year)),
  ];
  const level = Math.round(year.horizon.level * 100);
  const late = missing.map((month) => isoText(month).slice(0, 7));
  return {
    layout: USAGE_FORECAST,
    reportDate: year.horizon.reportDate,
    notes: [
      late.length === 0
        ? ""
        : `Counts are missing in ${late.join(", ")}; those months are passed over.`,
      ahead.length === 0 ? "Too few counts to look ahead: the shortest intervals apply." : "",
    ].filter((note) => note !== ""),
    rows,
    charts: (sheet) => (ahead.length === 0 ? [] : [useChart(year, sheet, rows.length, level)]),
  };
}

function pastRow({ month, uses }: UseMonth, last: boolean): CellValue[] {
  // The band opens at what is known last; charts would draw it up from zero.
  const edges = last ? [uses, uses, 0] : [null, null, null];
  return [month, uses, null, ...edges, null];
}

function aheadRow({ month, uses, low, high }: UseMonth, at: number, year: Year): CellValue[] {
  const { history, ahead } = year.use.programme;
  const top = Math.max(
    ...history.map((one) => one.uses),
    ...ahead.map((one) => one.high ?? one.uses),
  );
  const band = low === null || high === null ? null : high - low;
  return [month, null, uses, low, high, band, at === 0 ? Math.ceil(top) : null];
}

function useChart(year: Year, sheet: string, rows: number, level: number): AddChart {
  const { ahead } = year.use.programme;
  const place = { first: 0, last: rows - 1 };
  const series = (heading: string, role: ChartSeries["role"], title: string): ChartSeries => ({
    title,
    role,
    color: role === "mark" ? "505050" : INK,
    categories: resultReference(USAGE_FORECAST, sheet, { heading: "Month", ...place }),
    values: resultReference(USAGE_FORECAST, sheet, { heading, ...place }),
  });
  const all = ahead.reduce((sum, { uses }) => sum + uses, 0);
  const uses = ahead.map((one) => one.uses);
  return {
    kind: "addChart",
    sheet,
    chart: "band",
    dated: "mmm yy",
    title: "Sessions a month",
    description:
      `${all.toFixed(0)} sessions expected in ${ahead.length} months, ` +
      `from ${Math.min(...uses).toFixed(0)} to ${Math.max(...uses).toFixed(0)} a month.`,
    at: chartPlace(USAGE_FORECAST, 0),
    series: [
      series("Report date", "mark", "Report date"),
      series("Low", "low", "Low"),
      series("Low to high", "high", `${level} % band`),
      series("Counted", "history", "Counted"),
      series("Expected", "forecast", "Expected"),
    ],
  };
}
