import type { AddChart, ChartSeries } from "../../book/workbook/plan.ts";
import { escaped } from "../xml/escape.ts";
import { storedFormula } from "../read/formulas.ts";

/** Addresses of the drawing formats; strict files have their own. */
export interface DrawingSpaces {
  readonly drawing: string;
  readonly main: string;
  readonly chart: string;
  readonly relations: string;
}

const AXIS_ACROSS = 111111111;
const AXIS_UP = 222222222;
const AXES = `<c:axId val="${AXIS_ACROSS}"/><c:axId val="${AXIS_UP}"/>`;
const LINE_WIDTH = 22225;
/** Part of the colour a band keeps, in thousandths of a percent. */
const BAND_ALPHA = 30_000;

/** A series with its place in the chart. */
type Numbered = ChartSeries & { readonly index: number; readonly dated: boolean };

/** The text of a chart part. */
export function chartXml(edit: AddChart, spaces: DrawingSpaces): string {
  const dated = edit.dated !== undefined;
  const series = edit.series.map((one, index) => ({ ...one, index, dated }));
  const plots = edit.chart === "band" ? bandPlots(series) : [columnPlot(series)];
  // The lower edge of a band is there to carry it and is neither drawn nor named.
  const hidden = series
    .filter(({ role }) => role === "low")
    .map(
      ({ index }) => `<c:legendEntry><c:idx val="${index}"/><c:delete val="1"/></c:legendEntry>`,
    );
  return (
    `<c:chartSpace xmlns:c="${spaces.chart}" xmlns:a="${spaces.main}"><c:roundedCorners val="0"/><c:chart>` +
    `<c:title><c:tx><c:rich><a:bodyPr/><a:p><a:pPr><a:defRPr sz="1200" b="1"/></a:pPr><a:r><a:rPr lang="en" sz="1200" b="1"/><a:t>${escaped(edit.title)}</a:t></a:r></a:p></c:rich></c:tx><c:overlay val="0"/></c:title>` +
    `<c:autoTitleDeleted val="0"/><c:plotArea><c:layout/>${plots.join("")}${axes(edit.dated)}</c:plotArea>` +
    `<c:legend><c:legendPos val="b"/>${hidden.join("")}<c:overlay val="0"/></c:legend>` +
    '<c:plotVisOnly val="0"/><c:dispBlanksAs val="gap"/></c:chart></c:chartSpace>'
  );
}

/** A stacked area whose lower part is invisible, and lines over it. */
function bandPlots(series: readonly Numbered[]): string[] {
  const edges = series.filter(({ role }) => role === "low" || role === "high");
  const lines = series.filter(({ role }) => role === "history" || role === "forecast");
  const plots: string[] = [];
  if (edges.length > 0) {
    // The lower edge comes first, whatever the order of the plan: the band stands on it.
    const ordered = [...edges].sort(
      (a, b) => Number(a.role === "high") - Number(b.role === "high"),
    );
    const areas = ordered.map((one) => seriesXml(one, bandLook(one), ""));
    plots.push(
      `<c:areaChart><c:grouping val="stacked"/><c:varyColors val="0"/>${areas.join("")}${AXES}</c:areaChart>`,
    );
  }
  if (lines.length > 0) {
    const drawn = lines.map((one) =>
      seriesXml(
        one,
        lineLook(one),
        '<c:marker><c:symbol val="none"/></c:marker>',
        '<c:smooth val="0"/>',
      ),
    );
    plots.push(
      `<c:lineChart><c:grouping val="standard"/><c:varyColors val="0"/>${drawn.join("")}<c:marker val="1"/>${AXES}</c:lineChart>`,
    );
  }
  const marks = series.filter(({ role }) => role === "mark");
  if (marks.length > 0) plots.unshift(columnPlot(marks, THIN));
  return plots;
}

/** Gap between columns, in percent of their width: usual, and so wide that a bar is a line. */
const USUAL = 60;
const THIN = 500;

function columnPlot(series: readonly Numbered[], gap = USUAL): string {
  const columns = series.map((one) =>
    seriesXml(one, columnLook(one), '<c:invertIfNegative val="0"/>'),
  );
  return (
    `<c:barChart><c:barDir val="col"/><c:grouping val="stacked"/><c:varyColors val="0"/>${columns.join("")}` +
    `<c:gapWidth val="${gap}"/><c:overlap val="100"/>${AXES}</c:barChart>`
  );
}

function seriesXml(one: Numbered, look: string, before: string, after = ""): string {
  const reference = (text: string): string => `<c:f>${escaped(storedFormula(text))}</c:f>`;
  const kind = one.dated ? "numRef" : "strRef";
  return (
    `<c:ser><c:idx val="${one.index}"/><c:order val="${one.index}"/><c:tx><c:v>${escaped(one.title)}</c:v></c:tx>` +
    `<c:spPr>${look}</c:spPr>${before}<c:cat><c:${kind}>${reference(one.categories)}</c:${kind}></c:cat>` +
    `<c:val><c:numRef>${reference(one.values)}</c:numRef></c:val>${after}</c:ser>`
  );
}

function solid(color: string): string {
  return `<a:solidFill><a:srgbClr val="${escaped(color)}"/></a:solidFill>`;
}

/** Hatchings that are told apart without colour. */
const PATTERNS = ["wdUpDiag", "pct20", "wdDnDiag", "narHorz"] as const;

/** What is to come is hatched and outlined, so that it differs from what was without colour. */
function columnLook({ color, hatched, role, index }: Numbered): string {
  if (role === "low") return "<a:noFill/>";
  if (hatched !== true) return solid(color);
  const ink = `<a:srgbClr val="${escaped(color)}"/>`;
  return (
    `<a:pattFill prst="${PATTERNS[index % PATTERNS.length] ?? ""}"><a:fgClr>${ink}</a:fgClr><a:bgClr><a:srgbClr val="FFFFFF"/></a:bgClr></a:pattFill>` +
    `<a:ln w="9525">${solid(color)}</a:ln>`
  );
}

function bandLook({ role, color }: ChartSeries): string {
  const fill =
    role === "low"
      ? "<a:noFill/>"
      : `<a:solidFill><a:srgbClr val="${escaped(color)}"><a:alpha val="${BAND_ALPHA}"/></a:srgbClr></a:solidFill>`;
  return `${fill}<a:ln><a:noFill/></a:ln>`;
}

function lineLook({ role, color }: ChartSeries): string {
  const dash = role === "forecast" ? '<a:prstDash val="dash"/>' : "";
  return `<a:ln w="${LINE_WIDTH}" cap="rnd">${solid(color)}${dash}<a:round/></a:ln>`;
}

function axes(dated: string | undefined): string {
  const linked = '<c:numFmt formatCode="General" sourceLinked="1"/>';
  const across =
    dated === undefined ? linked : `<c:numFmt formatCode="${escaped(dated)}" sourceLinked="0"/>`;
  const shared = (id: number, position: string, lines: string): string =>
    `<c:axId val="${id}"/><c:scaling><c:orientation val="minMax"/>${lines === "" ? "" : '<c:min val="0"/>'}</c:scaling>` +
    `<c:delete val="0"/><c:axPos val="${position}"/>${lines}${lines === "" ? across : linked}` +
    '<c:majorTickMark val="out"/><c:minorTickMark val="none"/><c:tickLblPos val="nextTo"/>';
  const grid =
    '<c:majorGridlines><c:spPr><a:ln w="6350"><a:solidFill><a:srgbClr val="D9D9D9"/></a:solidFill></a:ln></c:spPr></c:majorGridlines>';
  return (
    `<c:catAx>${shared(AXIS_ACROSS, "b", "")}<c:crossAx val="${AXIS_UP}"/><c:crosses val="autoZero"/><c:auto val="0"/><c:lblOffset val="100"/><c:noMultiLvlLbl val="1"/></c:catAx>` +
    `<c:valAx>${shared(AXIS_UP, "l", grid)}<c:crossAx val="${AXIS_ACROSS}"/><c:crosses val="autoZero"/><c:crossBetween val="between"/></c:valAx>`
  );
}
