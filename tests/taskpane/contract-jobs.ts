import { mayHaveLeft } from "../../src/book/records/retired-words.ts";
import { budgetOf } from "../../src/book/budget/budget.ts";
import { columnsPlan } from "../../src/book/columns/columns-plan.ts";
import type { Mode } from "../../src/book/columns/our-column.ts";
import { REPORT_DATE } from "../../src/book/demo/programme.ts";
import { logEntry } from "../../src/book/day/entry.ts";
import { ordersOf } from "../../src/book/orders/orders.ts";
import type { Plan } from "../../src/book/workbook/plan.ts";
import type { Device, Reading } from "../../src/book/records/records.ts";
import { resultPlan } from "../../src/book/sheets/result-plan.ts";
import { budgetSheet } from "../../src/book/budget/budget-sheet.ts";
import { orderSheet } from "../../src/book/orders/order-list.ts";
import { orderWorkSheet } from "../../src/book/orders/order-work.ts";
import { useSheet } from "../../src/book/year/usage-forecast.ts";
import { yearSheet } from "../../src/book/year/year-ahead.ts";
import { unitsSheet } from "../../src/book/year/year-units.ts";
import { summaryOf } from "../../src/book/share/summary.ts";
import { summaryChange } from "../../src/book/share/summary-sheet.ts";
import { type Snapshot } from "../../src/book/workbook/snapshot.ts";
import { readWorkbook } from "../../src/book/reading/workbook.ts";
import { NO_WHAT_IF } from "../../src/book/year/what-if.ts";
import { yearAhead } from "../../src/book/year/year.ts";

/** A plan with every kind of edit, and cells that a spreadsheet would read as something else. */
export function everyKind(book: Snapshot): Plan {
  const shelf = book.sheets.find(({ name }) => name === "Shelf");
  const table = shelf?.tables[0];
  if (shelf === undefined || table === undefined) throw new Error("no Shelf");
  const { lastRow } = table.area;
  const texts = ["004711", "1-2", "=1+1", "'quoted", "TRUE", "+49 30", "@here", "#N/A", "3 May"];
  const headings = ["Text", "Number", "Sum"];
  const rows = texts.map((_, at) => at + 1);
  const place = { firstRow: 0, firstColumn: 0, lastRow: texts.length, lastColumn: 2 };
  const body = { ...place, firstRow: 1 };
  return {
    summary: "every kind of edit",
    edits: [
      {
        kind: "addSheet",
        sheet: "Trial 1",
        widths: [20, 10, 10],
        freezeRows: 1,
        cells: [
          ...headings.map((value, column) => ({ row: 0, column, value, look: "heading" as const })),
          ...texts.map((value, at) => ({ row: at + 1, column: 0, value, format: "@" })),
          ...rows.map((row) => ({ row, column: 1, value: row / 4, format: "0.00" })),
          ...rows.map((row) => ({
            row,
            column: 2,
            value: row / 2,
            formula: { text: "B{r}*2", live: false },
          })),
        ],
      },
      { kind: "addTable", sheet: "Trial 1", name: "TrialOne", area: place, headings },
      {
        kind: "addColumn",
        sheet: "Equipment",
        headerRow: 2,
        title: "1-2 tried",
        cells: { column: 30, rows: [3, 4, 6], values: ["1/2", 7, { error: "#N/A" }] },
        like: 1,
        width: 12,
        expects: { unfiltered: true },
      },
      {
        kind: "fillCells",
        sheet: "Shelf",
        blocks: [
          { column: 0, rows: [lastRow + 1], values: ["SET"] },
          { column: 1, rows: [lastRow + 1], values: ["S01"] },
        ],
        expects: {},
      },
      {
        kind: "growTable",
        sheet: "Shelf",
        table: table.name,
        area: { ...table.area, lastRow: lastRow + 1 },
        columns: [],
      },
      {
        kind: "addRule",
        sheet: "Trial 1",
        area: body,
        rules: [{ formula: "$B2>1", look: { bold: true, color: "9C0006", format: '"▲ "@' } }],
      },
      {
        kind: "addChoices",
        sheet: "Trial 1",
        area: body,
        choices: { kind: "list", values: ["a", "b"] },
        message: "One of a, b.",
      },
      { kind: "addName", name: "TrialSum", refersTo: "'Trial 1'!$C$2" },
      {
        kind: "addChart",
        sheet: "Trial 1",
        chart: "stacked",
        title: "Tried",
        description: "What was tried.",
        at: { firstRow: 0, firstColumn: 5, lastRow: 10, lastColumn: 9 },
        series: [
          {
            title: "Sum",
            categories: "'Trial 1'!$A$2:$A$10",
            values: "'Trial 1'!$C$2:$C$10",
            role: "stack",
            color: "31598C",
          },
        ],
      },
      {
        kind: "printSetup",
        titleColumns: 0,
        orientation: "landscape",
        pagesWide: 1,
        sheet: "Trial 1",
        titleRows: { first: 0, last: 0 },
        footer: "&L&A",
      },
    ],
  };
}

function readAt(book: Snapshot): Reading {
  return readWorkbook(book, REPORT_DATE, { reportDate: REPORT_DATE });
}

function columnsAt(mode: Mode): (book: Snapshot) => Plan {
  return (book) => columnsPlan(book, readAt(book), { mode, today: REPORT_DATE, force: false });
}

/** Of a device in several rows nobody can say which is meant. */
function standsOnce({ devices }: Reading, { key }: Device): boolean {
  return devices.filter((other) => other.key === key).length === 1;
}

function logAt(book: Snapshot): Plan {
  const reading = readAt(book);
  const device =
    reading.devices.find((one) => !mayHaveLeft(one) && standsOnce(reading, one)) ??
    reading.devices[0];
  const entry = {
    date: REPORT_DATE,
    device: device?.id ?? "",
    part: "SET",
    job: "replaced",
    finding: "",
    complete: true,
    lot: "004711",
    by: "unit 2",
    note: "=careful",
  };
  const { edits } = logEntry(book, reading, {
    entry,
    again: device !== undefined && mayHaveLeft(device),
  });
  return resultPlan(book, reading, { edits, summary: "logged", today: REPORT_DATE });
}

function yearAt(book: Snapshot, reading = readAt(book)) {
  return yearAhead(book, reading, { months: 12, level: 0.9, whatIf: NO_WHAT_IF });
}

function aheadAt(book: Snapshot): Plan {
  const reading = readAt(book);
  const year = yearAt(book, reading);
  const results = [yearSheet(year), useSheet(year), unitsSheet(year)];
  return resultPlan(book, reading, { results, summary: "year ahead", today: REPORT_DATE });
}

function orderAt(book: Snapshot): Plan {
  const reading = readAt(book);
  const orders = ordersOf(yearAt(book, reading), false);
  const results = [orderSheet(orders), orderWorkSheet(orders)];
  return resultPlan(book, reading, { results, summary: "order list", today: REPORT_DATE });
}

function budgetAt(book: Snapshot): Plan {
  const reading = readAt(book);
  const budget = budgetOf(book, reading, {
    from: null,
    level: null,
    pooled: false,
    births: false,
    whatIf: NO_WHAT_IF,
  });
  const results = [budgetSheet(budget)];
  return resultPlan(book, reading, { results, summary: "budget", today: REPORT_DATE });
}

function summaryAt(book: Snapshot): Plan {
  const reading = readAt(book);
  const change = summaryChange(summaryOf(book, reading), book);
  return resultPlan(book, reading, { ...change, today: REPORT_DATE });
}

/** The jobs every host is given, by name: each makes its plan from the book it finds. */
export const JOBS: Readonly<Record<string, (book: Snapshot) => Plan>> = {
  "every kind of edit": everyKind,
  "columns with formulas": columnsAt("portable"),
  "columns with our functions": columnsAt("live"),
  "columns of values": columnsAt("values"),
  "a logged job": logAt,
  "the year ahead": aheadAt,
  "the order list": orderAt,
  "the budget": budgetAt,
  "the summary": summaryAt,
};
