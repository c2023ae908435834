import { addMonths, type Day, isoText, monthStart } from "../../core/day.ts";
import type { AddChart, ChartSeries } from "../workbook/plan.ts";
import { percentText } from "../records/percent.ts";
import type { Part, Reading } from "../records/records.ts";
import { partText } from "./horizon.ts";
import type { PartYear } from "./need.ts";
import { spreadSays } from "./use-spread.ts";
import type { Year } from "./year.ts";
import { isRenewal, jobIndex, renewed } from "../records/job-index.ts";
import type { Result } from "../sheets/result.ts";
import { chartPlace, type TablePlace } from "../sheets/chart-place.ts";
import {
  type HeadingOf,
  type ResultColumns,
  resultSheet,
  type TableRows,
} from "../sheets/result-sheet.ts";

const MONTH = "mmm yyyy";
const ONE_DECIMAL = "0.0";

/** A month of a part, gone by or ahead; null where it is not told. */
interface MonthRow {
  readonly part: string;
  readonly month: Day;
  readonly replaced: number | null;
  readonly scheduled: number | null;
  readonly unplanned: number | null;
  readonly expected: number | null;
  readonly low: number | null;
  readonly high: number | null;
  readonly band: number | null;
  /** Height of the mark at the report date. */
  readonly mark: number | null;
  /** Which days of the month are ahead; null where all of it is or none. */
  readonly days: string | null;
}

/** The Year ahead sheet: one row a part and month, a year back and a year on. */
const YEAR_AHEAD = resultSheet({
  name: "Year ahead",
  title: "Year ahead: replacements by month",
  table: "SpareYearAhead",
  about:
    "replacements by month and part: past ones, those due on schedule, those expected early, and limits",
  room: 1000,
  columns: {
    Part: { width: 15, about: "Name from Parts.", cell: ({ part }) => part },
    Month: { width: 11, format: MONTH, about: "Calendar month.", cell: ({ month }) => month },
    Replaced: {
      width: 10,
      format: "0",
      about: "Complete replacements in the Job log.",
      cell: ({ replaced }) => replaced,
    },
    "On schedule": {
      width: 10,
      format: ONE_DECIMAL,
      about: "Replacements on their due date; overdue ones are in the first month.",
      cell: ({ scheduled }) => scheduled,
    },
    Early: {
      width: 10,
      format: ONE_DECIMAL,
      about: "Replacements before the due date, by the wear seen in the Job log.",
      cell: ({ unplanned }) => unplanned,
    },
    Expected: {
      width: 10,
      format: ONE_DECIMAL,
      about: "On schedule and early together.",
      cell: ({ expected }) => expected,
    },
    Low: {
      width: 8,
      format: "0",
      about: "Lower prediction limit of the whole fleet.",
      cell: ({ low }) => low,
    },
    High: {
      width: 8,
      format: "0",
      about: "Upper prediction limit of the whole fleet.",
      cell: ({ high }) => high,
    },
    "Low to high": {
      width: 7,
      format: "0",
      helper: true,
      about: "Height of the band in the chart.",
      cell: ({ band }) => band,
    },
    "Report date": {
      width: 7,
      format: "0",
      helper: true,
      about: "Marks the current month in the chart.",
      cell: ({ mark }) => mark,
    },
    "Part month": {
      width: 18,
      about: "Which days of the month are ahead, where not all of it is.",
      cell: ({ days }) => days,
    },
  } satisfies ResultColumns<MonthRow>,
});

const YEAR_BACK = 12;
const INK = { line: "12436D", band: "12436D", mark: "505050" } as const;

/** The Year ahead sheet of a programme. */
export function yearSheet(year: Year): Result {
  const { reportDate } = year.horizon;
  const blocks = year.parts.map((part) => partRows(part, year));
  let first = 0;
  const places = blocks.map((rows) => {
    const from = first;
    first += rows.length;
    return { first: from, last: first - 1 };
  });
  return YEAR_AHEAD.filled({
    reportDate,
    answer: `Expected: ${year.parts.map(({ part, total }) => `${part.name} ${total.expected.toFixed(0)} (${total.low} to ${total.high})`).join(", ")}`,
    notes: notesOf(year),
    rows: blocks.flat(),
    charts: (place) =>
      year.parts.map((part, at) =>
        partChart(part, year, { place, nth: at, rows: places[at] ?? { first: 0, last: 0 } }),
      ),
  });
}

/** What the figures rest on, for the line under the title. */
function notesOf({ horizon, whatIf, leftOut, use }: Year): string[] {
  return [
    `${horizon.months} whole months from the report date: the first and the last calendar month are there in part.`,
    `The limits contain the number for the whole fleet with a chance of at least ${percentText(horizon.level)}.`,
    ...[spreadSays(horizon.spread, use)].filter((text) => text !== ""),
    ...(whatIf.volume === 0
      ? []
      : [`Usage is assumed to change by ${percentText(whatIf.volume)}.`]),
    ...(leftOut.length === 0 ? [] : [`Left out: ${leftOut.join("; ")}.`]),
  ];
}

function partRows({ part, months }: PartYear, year: Year): MonthRow[] {
  const [from] = year.months;
  if (from === undefined) return [];
  const past = Array.from({ length: YEAR_BACK }, (_, at) => addMonths(from, at - YEAR_BACK));
  const replaced = replacedIn(year.reading, part);
  const known = replaced.size > 0;
  const top = Math.max(1, ...months.map(({ high }) => high), ...replaced.values());
  const blank = { part: part.name, ...UNTOLD };
  return [
    ...past.map((month, at): MonthRow => {
      const was = known ? (replaced.get(month) ?? 0) : null;
      // The band opens at what is known last; charts would draw it up from zero.
      const opens = at === YEAR_BACK - 1 && was !== null;
      const edges = opens ? { low: was, high: was, band: 0 } : {};
      return { ...blank, month, replaced: was, ...edges };
    }),
    ...months.map((need, at): MonthRow => {
      const { scheduled, unplanned, expected, low, high } = need;
      const told = { scheduled, unplanned, expected, low, high, band: high - low };
      const days = partText(at, year.horizon) || null;
      const month = year.months[at] ?? from;
      return { ...blank, month, ...told, mark: at === 0 ? top : null, days };
    }),
  ];
}

const UNTOLD: Omit<MonthRow, "part" | "month"> = {
  replaced: null,
  scheduled: null,
  unplanned: null,
  expected: null,
  low: null,
  high: null,
  band: null,
  mark: null,
  days: null,
};

/** Complete replacements (or tasks done) by month, as logged. */
function replacedIn({ ours }: Reading, part: Part): ReadonlyMap<Day, number> {
  const months = new Map<Day, number>();
  for (const job of jobIndex(ours).all) {
    if (!isRenewal(job, ours.settings.reportDate) || job.named.code !== part.code) continue;
    const month = monthStart(job.date);
    months.set(month, (months.get(month) ?? 0) + renewed(job));
  }
  return months;
}

interface Placed {
  readonly place: TablePlace;
  readonly nth: number;
  readonly rows: TableRows;
}

function partChart({ part, total, months }: PartYear, year: Year, placed: Placed): AddChart {
  const series = (
    heading: HeadingOf<typeof YEAR_AHEAD>,
    role: ChartSeries["role"],
    title: string,
    color: string,
  ): ChartSeries => ({
    title,
    role,
    color,
    categories: YEAR_AHEAD.reference(placed.place, "Month", placed.rows),
    values: YEAR_AHEAD.reference(placed.place, heading, placed.rows),
  });
  // Of a dated task nothing is replaced.
  const [events, done] = part.task ? ["times done", "Done"] : ["replacements", "Replaced"];
  const busiest = Math.max(...months.map(({ expected }) => expected));
  return {
    kind: "addChart",
    sheet: placed.place.sheet,
    chart: "band",
    dated: "mmm yy",
    title: `${part.name}: ${events} a month`,
    description:
      `${part.name}: ${total.expected.toFixed(0)} ${events} expected from ${isoText(year.horizon.reportDate)} over ${year.horizon.months} months, the first and the last month in part, ` +
      `between ${total.low} and ${total.high}; busiest month ${busiest.toFixed(0)}.`,
    at: chartPlace(YEAR_AHEAD.layout, placed.place, {
      nth: placed.nth,
      of: year.parts.length,
    }),
    series: [
      series("Report date", "mark", "Report date", INK.mark),
      series("Low", "low", "Low", INK.band),
      series("Low to high", "high", `${percentText(year.horizon.level)} range`, INK.band),
      series("Replaced", "history", done, INK.line),
      series("Expected", "forecast", "Expected", INK.line),
    ],
  };
}
