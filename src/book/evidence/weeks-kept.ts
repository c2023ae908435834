import type { CompliancePoint } from "../../core/chart.ts";
import { complianceText } from "../../core/compliance.ts";
import { counted } from "../records/problems.ts";
import type { SiteWeek } from "./inspections.ts";
import { weekText } from "./period.ts";
import type { EvidenceReport } from "./report.ts";
import type { AddChart, ChartSeries } from "../workbook/plan.ts";
import { periodText, roundedDown } from "./evidence-sheet.ts";
import type { Result } from "../sheets/result.ts";
import { chartPlace, ONLY_CHART, type TablePlace } from "../sheets/chart-place.ts";
import { type HeadingOf, type ResultColumns, resultSheet } from "../sheets/result-sheet.ts";

const PERCENT = "0.0";

/** A week of all sites; shares missed in per cent, null where nothing was due or no limits can be set. */
interface WeekRow {
  readonly week: SiteWeek;
  readonly missed: number | null;
  readonly inAll: number | null;
  readonly lower: number | null;
  readonly upper: number | null;
  readonly band: number | null;
  readonly outside: "more" | "fewer" | null;
}

/** The Weeks kept sheet: one row an ISO week of all sites, with its chart. */
const WEEKS_KEPT = resultSheet({
  name: "Weeks kept",
  title: "Inspections missed by ISO week",
  table: "SpareWeeksKept",
  about:
    "inspections at all sites week by week, and which weeks differ by more than chance explains",
  room: 1000,
  columns: {
    Week: { width: 11, about: "ISO week.", cell: ({ week }) => weekText(week.monday) },
    Due: { width: 8, format: "0", about: "Inspections due.", cell: ({ week }) => week.due },
    Kept: { width: 8, format: "0", about: "Inspections kept.", cell: ({ week }) => week.kept },
    "Missed (%)": {
      width: 9,
      format: PERCENT,
      about: "Missed as a percentage of due, rounded up.",
      cell: ({ missed }) => missed,
    },
    "In all (%)": {
      width: 10,
      format: PERCENT,
      about: "Missed as a percentage of due, over all weeks.",
      cell: ({ inAll }) => inAll,
    },
    "Lower (%)": {
      width: 10,
      format: PERCENT,
      about: "An ordinary week lies above; blank where too few are due or missed.",
      cell: ({ lower }) => lower,
    },
    "Upper (%)": {
      width: 10,
      format: PERCENT,
      about: "An ordinary week lies below.",
      cell: ({ upper }) => upper,
    },
    "Band (%)": {
      width: 10,
      format: PERCENT,
      helper: true,
      about: "Height of the band in the chart.",
      cell: ({ band }) => band,
    },
    Outside: {
      width: 10,
      about: "More or fewer missed than in an ordinary week.",
      cell: ({ outside }) => outside,
    },
  } satisfies ResultColumns<WeekRow>,
});

/** Least number missed and kept that limits need, in words. */
const RULE =
  "Limits: three standard deviations, where at least five missed and five done can be expected in a week.";

/** The Weeks kept sheet of a period. */
export function weeksSheet(report: EvidenceReport): Result {
  const { reportDate, period, inspections, chart } = report;
  const rows = inspections.weeks.map((week, at): WeekRow => {
    const point = chart?.points[at];
    if (chart === null || point === undefined || week.due === 0) {
      return { week, missed: null, inAll: null, ...NO_LIMITS };
    }
    const missed = percent(1 - roundedDown(week.kept / week.due));
    return { week, missed, inAll: percent(1 - chart.centre), ...limitsMissed(point) };
  });
  const hasLimits = chart?.points.some(({ limits }) => limits !== null) ?? false;
  return WEEKS_KEPT.filled({
    reportDate,
    answer: chart === null ? "" : describe(report),
    notes: [
      periodText(period),
      hasLimits ? RULE : "Too few are due or missed in a week for limits.",
    ],
    rows,
    charts: (place) => (chart === null ? [] : [missedChart(report, place, hasLimits)]),
  });
}

const NO_LIMITS = { lower: null, upper: null, band: null, outside: null };

/** Limits of the share missed mirror those of the share kept. */
function limitsMissed({
  compliance,
  limits,
  out,
}: CompliancePoint): Pick<WeekRow, keyof typeof NO_LIMITS> {
  if (limits === null) return NO_LIMITS;
  const isMore = compliance !== null && compliance.share < limits.low;
  return {
    lower: percent(1 - limits.high),
    upper: percent(1 - limits.low),
    band: percent(limits.high - limits.low),
    outside: out === true ? (isMore ? "more" : "fewer") : null,
  };
}

/** Without the dust of binary fractions, so that the same book gives the same cells. */
function percent(share: number): number {
  return Number((share * 100).toFixed(6));
}

const INK = "12436D";
const MIDDLE = "505050";

/**
 * Shares missed, not kept: none missed is the aim, so zero belongs on the axis, and weeks between 95 and
 * 100% kept can still be told apart.
 */
function missedChart(report: EvidenceReport, table: TablePlace, hasLimits: boolean): AddChart {
  const last = report.inspections.weeks.length - 1;
  type Heading = HeadingOf<typeof WEEKS_KEPT>;
  const reference = (heading: Heading): string =>
    WEEKS_KEPT.reference(table, heading, { first: 0, last });
  const series = (heading: Heading, role: ChartSeries["role"], color: string): ChartSeries => ({
    title: role === "high" ? "Limits" : heading,
    role,
    color,
    categories: reference("Week"),
    values: reference(heading),
  });
  return {
    kind: "addChart",
    sheet: table.sheet,
    chart: "band",
    title: "Inspections missed as a percentage of those due, by ISO week",
    description: `${describe(report)}.`,
    at: chartPlace(WEEKS_KEPT.layout, table, ONLY_CHART),
    series: [
      ...(hasLimits ? [series("Lower (%)", "low", INK), series("Band (%)", "high", INK)] : []),
      series("Missed (%)", "history", INK),
      series("In all (%)", "forecast", MIDDLE),
    ],
  };
}

/** The three numbers of the chart in words: kept in all, the worst week, weeks outside. */
function describe({ inspections, chart }: EvidenceReport): string {
  const weeks = inspections.weeks.filter(({ due }) => due > 0);
  const due = weeks.reduce((sum, week) => sum + week.due, 0);
  const kept = weeks.reduce((sum, week) => sum + week.kept, 0);
  const [worst] = [...weeks].sort((one, other) => one.kept / one.due - other.kept / other.due);
  const out = chart?.points.filter((point) => point.out === true).length ?? 0;
  const hasLimits = chart?.points.some(({ limits }) => limits !== null) ?? false;
  const outside = hasLimits ? `; ${counted(out, "week")} outside the limits` : "";
  const lowest =
    worst === undefined
      ? ""
      : `; lowest ${complianceText(worst.kept, worst.due)} in ${weekText(worst.monday)}`;
  return `${complianceText(kept, due)} of ${due} inspections done${lowest}${outside}`;
}
