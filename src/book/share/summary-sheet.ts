import { isoText } from "../../core/day.ts";
import { assumptionsSheet } from "../budget/assumptions.ts";
import type { Budget } from "../budget/budget.ts";
import { budgetWorkSheet } from "../budget/budget-sites.ts";
import { budgetSheet } from "../budget/budget-sheet.ts";
import { weeksSheet } from "../evidence/weeks-kept.ts";
import { CAUTIONS } from "../records/cautions.ts";
import { onPaper } from "../sheets/paper.ts";
import { placeOf, type Result, resultEdits } from "../sheets/result.ts";
import type { Change } from "../sheets/result-plan.ts";
import { freeName } from "../sheets/layout.ts";
import { highRow, noteLines, tableWidth } from "../sheets/shape.ts";
import type { AddChart, Edit, Plan, SheetCell } from "../workbook/plan.ts";
import type { Snapshot } from "../workbook/snapshot.ts";
import { yearSheet } from "../year/year-ahead.ts";
import { partsPage } from "./parts-page.ts";
import type { FigureKind, Summary, SummaryLine } from "./summary.ts";

const SHEET = "Summary";

const COLUMNS = [
  { heading: "What", width: 29, wraps: true },
  { heading: "Figure", width: 13 },
  { heading: "Details", width: 66, wraps: true },
] as const;

const FORMATS: Readonly<Record<FigureKind, string>> = {
  count: "0",
  tenth: "0.0",
  share: "0.0%",
  money: "#,##0.00",
};

/** Rows of a picture: three of them and the table fill a page. */
const PICTURE_ROWS = 10;

/** A workbook of its own: the summary on one page, the parts on another, and behind them the sheets its pictures are drawn from. */
export function summaryPlan(summary: Summary): Plan {
  const empty: Snapshot = { dateSystem: 1900, formats: ["General"], sheets: [], names: [] };
  const { edits, results, pictures, summary: told } = summaryChange(summary, empty);
  return {
    summary: told,
    edits: [
      ...edits,
      ...results.flatMap((result) => resultEdits(empty, result)),
      ...pictures(results.map((result) => placeOf(empty, result))),
    ],
  };
}

/** The same in a workbook that is there: a page of its own each time, the sheets behind it brought up to date. */
export function summaryChange(summary: Summary, snapshot: Snapshot): Required<Change> {
  const name = freeName(snapshot, SHEET);
  const doubts = noteLines(summary.doubts, COLUMNS).filter((line) => line !== "");
  const { rows, end } = tableRows(summary, doubts);
  const pictures = picturesOf(summary);
  return {
    summary: `summary as of ${isoText(summary.reportDate)}`,
    edits: [
      ...pageEdits(name, summary, { doubts, rows }),
      ...partsPage(summary.parts, summary.reportDate, snapshot),
    ],
    results: [...pictures.map(({ result }) => result), ...restOf(summary.budget)],
    pictures: (places) =>
      pictures.flatMap(({ result, nth }, at) => {
        const place = places[at];
        const chart = place === undefined ? undefined : result.charts?.(place)[nth];
        return chart === undefined ? [] : [onPage(chart, { sheet: name, first: end + 1, at })];
      }),
  };
}

interface Placed {
  readonly row: number;
  readonly line: SummaryLine;
}

/** Row of the first doubt or heading, below the title and the answer. */
const BELOW_ANSWER = 2;

function tableRows(
  { lines }: Summary,
  doubts: readonly string[],
): {
  readonly rows: readonly Placed[];
  readonly end: number;
} {
  const first = BELOW_ANSWER + doubts.length + 2;
  const rows = lines.map((line, at) => ({ row: first + at, line }));
  return { rows, end: first + lines.length };
}

function pageEdits(
  sheet: string,
  { reportDate, answer }: Summary,
  { doubts, rows }: { readonly doubts: readonly string[]; readonly rows: readonly Placed[] },
): Edit[] {
  const heading = BELOW_ANSWER + doubts.length + 1;
  const after = heading + rows.length + 2 + PICTURES * (PICTURE_ROWS + 1);
  const date = isoText(reportDate);
  return [
    {
      kind: "addSheet",
      sheet,
      cells: [
        { row: 0, column: 0, value: `Screening equipment, as of ${date}`, look: "title" },
        { row: 1, column: 0, value: answer, look: "answer" },
        ...doubts.map((text, at) => noteAt(BELOW_ANSWER + at, text)),
        ...COLUMNS.map(({ heading: value }, column): SheetCell => ({
          row: heading,
          column,
          value,
          look: "heading",
          ...(column === 1 ? { toRight: true } : {}),
        })),
        ...rows.flatMap(lineCells),
        ...[CAUTIONS.damage, CAUTIONS.planningAid, CAUTIONS.notJudged].map((text, at) =>
          noteAt(after + at, text),
        ),
      ],
      widths: COLUMNS.map(({ width }) => width),
      heights: rows.flatMap(({ row, line }) =>
        highRow(COLUMNS, [line.what, null, line.detail], row),
      ),
      freezeRows: 0,
    },
    onPaper(sheet, tableWidth(COLUMNS), {
      titleRows: null,
      pagesTall: 1,
      footer: `&LSummary&CReport date ${date}&RPage &P of &N`,
    }),
  ];
}

function noteAt(row: number, value: string): SheetCell {
  return { row, column: 0, value, look: "plain" };
}

function lineCells({ row, line }: Placed): SheetCell[] {
  const { what, figure, kind, detail } = line;
  return [
    { row, column: 0, value: what, look: "plain", wraps: true, middle: true },
    {
      row,
      column: 1,
      value: figure,
      look: "plain",
      format: FORMATS[kind],
      toRight: true,
      middle: true,
    },
    { row, column: 2, value: detail, look: "plain", wraps: true, middle: true },
  ];
}

const PICTURES = 3;

/** A result, and which of its charts is shown on the page. */
interface Picture {
  readonly result: Result;
  readonly nth: number;
}

/** Weeks of inspections, the year of the part replaced most, the budget by quarter: each from its own sheet. */
function picturesOf({ evidence, orders, budget }: Summary): Picture[] {
  const { parts } = orders.year;
  const most = parts.reduce(
    (best, { total }, at) =>
      total.expected > (parts[best]?.total.expected ?? -Infinity) ? at : best,
    0,
  );
  return [
    { result: weeksSheet(evidence), nth: 0 },
    { result: yearSheet(orders.year), nth: most },
    { result: budgetSheet(budget), nth: 0 },
  ];
}

/** What the budget rests on, which its sheet refers to. */
function restOf(budget: Budget): Result[] {
  return [budgetWorkSheet(budget), assumptionsSheet(budget)];
}

/** A chart again on the page, below the table. */
function onPage(
  chart: AddChart,
  { sheet, first, at }: { readonly sheet: string; readonly first: number; readonly at: number },
): Edit {
  const firstRow = first + at * (PICTURE_ROWS + 1);
  const place = {
    firstRow,
    firstColumn: 0,
    lastRow: firstRow + PICTURE_ROWS - 1,
    lastColumn: COLUMNS.length - 1,
  };
  return { ...chart, sheet, at: place };
}
