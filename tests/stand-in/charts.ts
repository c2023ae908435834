import { areaAt } from "./block.ts";
import { type BookModel, type ChartModel, freshId, mayChange, type SheetModel } from "./model.ts";
import { bag, Fault, member, textOf, type Thing, thing, thingOf, wholeOf } from "./thing.ts";

type Series = ChartModel["series"][number];

/** The charts of a sheet. */
export function chartsThing(book: BookModel, sheet: SheetModel): Thing {
  return thing({
    kind: "ChartCollection",
    items: () => sheet.charts.map((chart) => chartThing(book, chart)),
    item: (key) => {
      const found = sheet.charts.find(
        ({ id, kept }) => id === key || kept.get("Chart.name") === key,
      );
      if (found === undefined) throw new Fault("ItemNotFound", `no chart ${textOf(key)}`);
      return chartThing(book, found);
    },
    call: {
      add: (type, source, by) => {
        mayChange(sheet);
        const area = areaAt(rangeText(source));
        const columns = area.lastColumn - area.firstColumn + 1;
        const chart: ChartModel = {
          id: freshId(book),
          area,
          kept: new Map([
            ["type", textOf(type)],
            ["by", textOf(by)],
          ]),
          series: Array.from({ length: columns }, () => newSeries(book)),
        };
        sheet.charts.push(chart);
        return chartThing(book, chart);
      },
    },
  });
}

function newSeries(book: BookModel): Series {
  return { id: freshId(book), kept: new Map() };
}

/** The address of a range that was handed over, sheet included. */
function rangeText(given: unknown): string {
  const { kind, get } = thingOf(given);
  return textOf(member(get, "address", kind)());
}

function chartThing(book: BookModel, chart: ChartModel): Thing {
  const { kept, id, series } = chart;
  const own = bag("Chart", ["name", "plotVisibleOnly"], kept);
  const axes = {
    valueAxis: () => bag("ChartAxis value", ["minimum", "maximum", "numberFormat"], kept),
    categoryAxis: () => bag("ChartAxis category", ["numberFormat", "categoryType"], kept),
  };
  return thing({
    ...own,
    id,
    get: {
      ...own.get,
      title: () => bag("ChartTitle", ["text"], kept),
      legend: () => bag("ChartLegend", ["position"], kept),
      axes: () => thing({ kind: "ChartAxes", get: axes }),
      series: () =>
        thing({
          kind: "ChartSeriesCollection",
          items: () => series.map(seriesThing),
          call: {
            getItemAt: (at) => {
              const found = series[wholeOf(at)];
              if (found === undefined) throw new Fault("ItemNotFound", "no such series");
              return seriesThing(found);
            },
            add: (name) => {
              const made = newSeries(book);
              if (name !== undefined) made.kept.set("ChartSeries.name", textOf(name));
              series.push(made);
              return seriesThing(made);
            },
          },
        }),
    },
    call: {
      setPosition: (from, to) => {
        kept.set("at", [rangeText(from), rangeText(to)]);
      },
      delete: () => {
        for (const sheet of book.sheets) {
          sheet.charts = sheet.charts.filter((one) => one !== chart);
        }
      },
    },
  });
}

function seriesThing({ id, kept }: Series): Thing {
  const own = bag("ChartSeries", ["name", "chartType", "markerStyle", "gapWidth"], kept);
  const fill = thing({
    kind: "ChartFill",
    call: {
      clear: () => void kept.set("fill", null),
      setSolidColor: (color) => void kept.set("fill", textOf(color)),
    },
  });
  const format = thing({
    kind: "ChartSeriesFormat",
    get: {
      fill: () => fill,
      line: () => bag("ChartLineFormat", ["color", "lineStyle", "weight"], kept),
    },
  });
  return thing({
    ...own,
    id,
    get: { ...own.get, format: () => format },
    call: {
      setValues: (range) => void kept.set("values", rangeText(range)),
      setXAxisValues: (range) => void kept.set("categories", rangeText(range)),
    },
  });
}
