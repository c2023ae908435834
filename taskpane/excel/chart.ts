import type { AddChart, ChartSeries } from "../../src/book/workbook/plan.ts";

/** Puts a native chart: lines with a band and a mark, or stacked columns; or draws one of ours anew. */
export async function addChart(
  context: Excel.RequestContext,
  sheet: Excel.Worksheet,
  edit: AddChart,
): Promise<void> {
  const [first] = edit.series;
  if (first === undefined) return;
  const there = edit.nth === undefined ? null : await nthChart(context, sheet, edit.nth);
  const chart = there?.chart ?? newChart(context, sheet, edit, first);
  chart.title.text = edit.title;
  chart.name = edit.title;
  edit.series.forEach((series, at) => {
    const drawn =
      at < (there?.series ?? 1) ? chart.series.getItemAt(at) : chart.series.add(series.title);
    drawn.name = series.title;
    drawn.setValues(rangeOf(context, series.values));
    drawn.setXAxisValues(rangeOf(context, series.categories));
    dressSeries(drawn, series, edit.chart);
  });
}

/** A chart by its place among those of the sheet, and how many series it has; null where there is none. */
async function nthChart(
  context: Excel.RequestContext,
  sheet: Excel.Worksheet,
  nth: number,
): Promise<{ readonly chart: Excel.Chart; readonly series: number } | null> {
  const charts = sheet.charts.load("items/name");
  await context.sync();
  const chart = charts.items[nth];
  if (chart === undefined) return null;
  const series = chart.series.load("items/name");
  await context.sync();
  return { chart, series: series.items.length };
}

function newChart(
  context: Excel.RequestContext,
  sheet: Excel.Worksheet,
  edit: AddChart,
  first: ChartSeries,
): Excel.Chart {
  const kind = edit.chart === "band" ? "Line" : "ColumnStacked";
  const chart = sheet.charts.add(kind, rangeOf(context, first.values), "Columns");
  const { firstRow, firstColumn, lastRow, lastColumn } = edit.at;
  const corner = (row: number, column: number): Excel.Range =>
    sheet.getRangeByIndexes(row, column, 1, 1);
  chart.setPosition(corner(firstRow, firstColumn), corner(lastRow, lastColumn));
  chart.axes.valueAxis.minimum = 0;
  chart.legend.position = "Bottom";
  // The columns that only the chart needs are hidden.
  chart.plotVisibleOnly = false;
  if (edit.dated !== undefined) chart.axes.categoryAxis.numberFormat = edit.dated;
  return chart;
}

/** A range from a reference such as 'Year ahead'!$B$4:$B$27. */
function rangeOf(context: Excel.RequestContext, reference: string): Excel.Range {
  const [, quoted, plain, address = ""] =
    /^(?:'((?:[^']|'')*)'|([^!]+))!(.+)$/.exec(reference) ?? [];
  const sheet = quoted?.replaceAll("''", "'") ?? plain ?? "";
  return context.workbook.worksheets.getItem(sheet).getRange(address.replaceAll("$", ""));
}

function dressSeries(
  drawn: Excel.ChartSeries,
  series: ChartSeries,
  chart: AddChart["chart"],
): void {
  const color = `#${series.color}`;
  if (chart === "stacked") {
    if (series.role === "low") drawn.format.fill.clear();
    else drawn.format.fill.setSolidColor(series.hatched === true ? lighter(series.color) : color);
    // Excel's interface knows no hatching: what is still to come is pale within a dark edge.
    if (series.hatched === true) drawn.format.line.color = color;
    return;
  }
  switch (series.role) {
    case "low":
      drawn.chartType = "AreaStacked";
      drawn.format.fill.clear();
      return;
    case "high":
      drawn.chartType = "AreaStacked";
      drawn.format.fill.setSolidColor("#B8C7D9");
      return;
    case "mark":
      drawn.chartType = "ColumnClustered";
      drawn.format.fill.setSolidColor(color);
      return;
    default:
      drawn.chartType = "Line";
      drawn.markerStyle = "None";
      drawn.format.line.color = color;
      if (series.role === "forecast") drawn.format.line.lineStyle = "Dash";
  }
}

/** A colour half way to white. */
function lighter(color: string): string {
  const half = (at: number): string =>
    Math.round((Number.parseInt(color.slice(at, at + 2), 16) + 255) / 2)
      .toString(16)
      .padStart(2, "0");
  return `#${half(0)}${half(2)}${half(4)}`.toUpperCase();
}
