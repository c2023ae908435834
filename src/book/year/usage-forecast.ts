import { percentText } from "../records/percent.ts";
import { type Day, isoText } from "../../core/day.ts";
import type { AddChart, ChartSeries } from "../workbook/plan.ts";
import type { UseMonth } from "./site-use.ts";
import { PASSED_OVER } from "./use.ts";
import type { Year } from "./year.ts";
import type { Result } from "../sheets/result.ts";
import { chartPlace, ONLY_CHART, type TablePlace } from "../sheets/chart-place.ts";
import { type HeadingOf, type ResultColumns, resultSheet } from "../sheets/result-sheet.ts";

const WHOLE = "#,##0";

/** A month counted or expected; null where it is not told. */
interface MonthRow {
  readonly month: Day;
  readonly counted: number | null;
  readonly expected: number | null;
  readonly low: number | null;
  readonly high: number | null;
  readonly band: number | null;
  /** Height of the mark at the report date. */
  readonly mark: number | null;
}

/** The Usage forecast sheet: sessions of the programme by month, counted and expected. */
const USAGE_FORECAST = resultSheet({
  name: "Usage forecast",
  title: "Usage forecast: sessions by month",
  table: "SpareUsageForecast",
  about:
    "sessions counted and expected by month, with limits; the year's intervals are based on them",
  room: 200,
  columns: {
    Month: {
      width: 11,
      format: "mmm yyyy",
      about: "Calendar month.",
      cell: ({ month }) => month,
    },
    Counted: {
      width: 11,
      format: WHOLE,
      about: "Sessions at all sites; only months in which every device has a count.",
      cell: ({ counted }) => counted,
    },
    Expected: {
      width: 11,
      format: WHOLE,
      about:
        "Mean of the smoothed level, the last twelve counts and last year's month, site by site; an evident season is taken out before and put back.",
      cell: ({ expected }) => expected,
    },
    Low: {
      width: 11,
      format: WHOLE,
      about: "Lower limit from the errors of earlier forecasts.",
      cell: ({ low }) => low,
    },
    High: {
      width: 11,
      format: WHOLE,
      about: "Upper limit from the errors of earlier forecasts.",
      cell: ({ high }) => high,
    },
    "Low to high": {
      width: 12,
      format: WHOLE,
      helper: true,
      about: "Height of the band in the chart.",
      cell: ({ band }) => band,
    },
    "Report date": {
      width: 12,
      format: WHOLE,
      helper: true,
      about: "Marks the current month.",
      cell: ({ mark }) => mark,
    },
  } satisfies ResultColumns<MonthRow>,
});

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
  const late = missing.map((month) => isoText(month).slice(0, 7));
  return USAGE_FORECAST.filled({
    reportDate: year.horizon.reportDate,
    answer: ahead.length === 0 ? "" : expectedSay(ahead),
    notes: [
      late.length === 0 ? "" : `Counts are missing in ${late.join(", ")}; ${PASSED_OVER}.`,
      ahead.length === 0 ? "Too few counts for a forecast: the shortest intervals apply." : "",
    ].filter((note) => note !== ""),
    rows,
    charts: (place) => (ahead.length === 0 ? [] : [useChart(year, place, rows.length)]),
  });
}

function pastRow({ month, uses }: UseMonth, last: boolean): MonthRow {
  // The band opens at what is known last; charts would draw it up from zero.
  const edges = last ? { low: uses, high: uses, band: 0 } : { low: null, high: null, band: null };
  return { month, counted: uses, expected: null, ...edges, mark: null };
}

function aheadRow({ month, uses, low, high }: UseMonth, at: number, year: Year): MonthRow {
  const { history, ahead } = year.use.programme;
  const top = Math.max(
    ...history.map((one) => one.uses),
    ...ahead.map((one) => one.high ?? one.uses),
  );
  const band = low === null || high === null ? null : high - low;
  const mark = at === 0 ? Math.ceil(top) : null;
  return { month, counted: null, expected: uses, low, high, band, mark };
}

function expectedSay(ahead: readonly UseMonth[]): string {
  const all = ahead.reduce((sum, { uses }) => sum + uses, 0);
  return `${Math.round(all).toLocaleString("en")} sessions expected in ${ahead.length} months`;
}

function useChart(year: Year, table: TablePlace, rows: number): AddChart {
  const { ahead } = year.use.programme;
  const place = { first: 0, last: rows - 1 };
  const series = (
    heading: HeadingOf<typeof USAGE_FORECAST>,
    role: ChartSeries["role"],
    title: string,
  ): ChartSeries => ({
    title,
    role,
    color: role === "mark" ? "505050" : INK,
    categories: USAGE_FORECAST.reference(table, "Month", place),
    values: USAGE_FORECAST.reference(table, heading, place),
  });
  const uses = ahead.map((one) => one.uses);
  return {
    kind: "addChart",
    sheet: table.sheet,
    chart: "band",
    dated: "mmm yy",
    title: "Sessions a month",
    description:
      `${expectedSay(ahead)}, ` +
      `from ${Math.min(...uses).toFixed(0)} to ${Math.max(...uses).toFixed(0)} a month.`,
    at: chartPlace(USAGE_FORECAST.layout, table, ONLY_CHART),
    series: [
      series("Report date", "mark", "Report date"),
      series("Low", "low", "Low"),
      series("Low to high", "high", `${percentText(year.horizon.level)} range`),
      series("Counted", "history", "Counted"),
      series("Expected", "forecast", "Expected"),
    ],
  };
}
