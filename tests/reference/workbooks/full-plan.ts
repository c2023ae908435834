import { readFileSync } from "node:fs";
import type { Edit, Plan } from "../../../src/book/workbook/plan.ts";
import {
  address,
  type CellValue,
  type Sheet,
  type Snapshot,
} from "../../../src/book/workbook/snapshot.ts";

/** The workbooks make.py writes; each has a sheet Register with the same headings and devices. */
export const WORKBOOKS = [
  "everything.xlsx",
  "macros.xlsm",
  "dates1904.xlsx",
  "formulas.xlsx",
  "untidy.xlsx",
  "tables.xlsx",
  "openpyxl.xlsx",
  "prefixed.xlsx",
  "strict.xlsx",
  "bare.xlsx",
  "utf16.xlsx",
  "backslash.xlsx",
  "shouting.xlsx",
] as const;

/** The bytes of one of them. */
export function workbook(name: string): Uint8Array {
  return new Uint8Array(readFileSync(new URL(name, import.meta.url)));
}

/** Where the register of a book has its headings and devices, and its first free column. */
export interface Register {
  readonly sheet: Sheet;
  readonly headerRow: number;
  readonly rows: readonly number[];
  readonly free: number;
}

const DEVICES = 8;

/** Finds the register. */
export function registerOf(snapshot: Snapshot): Register {
  const sheet = snapshot.sheets.find(({ name }) => name === "Register");
  if (!sheet) throw new Error("the book has no register");
  const headerRow = sheet.values.findIndex((row) => row[0] === "Device");
  const rows = Array.from({ length: DEVICES }, (_, index) => headerRow + 1 + index);
  const free = Math.max(...sheet.values.map((row) => row.length));
  return { sheet, headerRow, rows, free };
}

/** A value of every kind, one a row. */
export const MIXED: readonly CellValue[] = [
  " spaced\ttext ",
  'quote " & <tag>\nsecond line',
  "_x0041_ and \u0001",
  0.1,
  -1e-7,
  true,
  { error: "#N/A" },
  null,
];

/** Names of the sheets a full plan adds. */
export const NEW_SHEET = "What is due";

/** A plan with every kind of edit; live formulas only where whoever reads it knows them. */
export function fullPlan(snapshot: Snapshot, live: boolean): Plan {
  const register = registerOf(snapshot);
  const { sheet, headerRow, rows, free } = register;
  const column = (offset: number): string => address(0, free + offset).replace("1", "");
  const twice = { text: `$D{r}*2`, live: false };
  const next = live
    ? { text: `SPARE.NEXT($C{r},12)`, live }
    : { text: `IF(ISNUMBER($C{r}),$C{r}+365,"")`, live };
  const number = (row: number, at: number): number => Number(sheet.values[row]?.[at] ?? 0);
  const base = { kind: "addColumn", sheet: sheet.name, headerRow, width: 14, like: 2 } as const;
  const expects = {
    headers: [{ row: headerRow, column: 2, text: "Replaced" }],
    empty: {
      firstRow: headerRow,
      firstColumn: free,
      lastRow: headerRow + DEVICES,
      lastColumn: free + 3,
    },
  };
  const titles = ["Next due", "Twice", "State", "Mixed"];
  const edits: Edit[] = [
    {
      ...base,
      title: "Next due",
      expects,
      cells: {
        column: free,
        rows,
        values: rows.map((row) => number(row, 2) + 365),
        formula: next,
        format: "yyyy-mm-dd",
      },
    },
    {
      ...base,
      title: "Twice",
      expects: {},
      cells: {
        column: free + 1,
        rows,
        values: rows.map((row) => number(row, 3) * 2),
        formula: twice,
        format: "General",
      },
    },
    {
      ...base,
      title: "State",
      expects: {},
      cells: {
        column: free + 2,
        rows,
        values: rows.map((row) => (row % 2 ? "Overdue" : "Not due")),
        formula: { text: `IF(MOD(ROW(),2)=0,"Overdue","Not due")`, live: false },
      },
    },
    {
      ...base,
      title: "Mixed",
      expects: {},
      cells: { column: free + 3, rows, values: MIXED },
    },
  ];
  const table = sheet.tables.find(({ area: { lastColumn } }) => lastColumn === free - 1);
  if (table) {
    edits.push({
      kind: "growTable",
      sheet: sheet.name,
      table: table.name,
      area: { ...table.area, lastColumn: free + 3 },
      columns: titles.map((title) => (title === "Twice" ? { title, formula: twice } : { title })),
    });
  }
  const states = {
    firstRow: headerRow + 1,
    firstColumn: free + 2,
    lastRow: headerRow + DEVICES,
    lastColumn: free + 2,
  };
  edits.push(
    {
      kind: "addRule",
      sheet: sheet.name,
      area: states,
      rules: [
        {
          formula: `$${column(2)}${headerRow + 2}="Overdue"`,
          look: { bold: true, color: "801650", fill: "F6E6EF", format: '"▲ "@' },
        },
        { formula: `$${column(2)}${headerRow + 2}=""`, look: { fill: "EEEEEE" } },
      ],
    },
    {
      kind: "addChoices",
      sheet: sheet.name,
      area: { ...states, firstColumn: free + 3, lastColumn: free + 3 },
      choices: { kind: "list", values: ["one", 'two "quoted"'] },
      message: "Choose one of the list.",
    },
    {
      kind: "addName",
      name: "Due_dates",
      refersTo: `Register!$${column(0)}$${headerRow + 2}:$${column(0)}$${headerRow + 1 + DEVICES}`,
    },
    ...sheetEdits(),
    {
      kind: "printSetup",
      titleColumns: 0,
      orientation: "landscape",
      pagesWide: 1,
      sheet: sheet.name,
      titleRows: { first: headerRow, last: headerRow },
      footer: "Printed &D, page &P of &N",
    },
  );
  return { summary: "Everything a plan can do", edits };
}

/** A sheet of ours with a table, choices of all kinds, two charts and a print set-up. */
function sheetEdits(): Edit[] {
  const headings = ["Month", "Used", "Low", "Band", "Start"];
  const months = [1, 2, 3, 4, 5, 6];
  const below = { firstRow: 3, lastRow: 8 };
  const reference = (letter: string): string => `'${NEW_SHEET}'!$${letter}$4:$${letter}$9`;
  const series = { categories: reference("A"), color: "12436D" };
  return [
    {
      kind: "addSheet",
      sheet: NEW_SHEET,
      widths: [16, 10, 10, 10, 12],
      freezeRows: 3,
      cells: [
        { row: 0, column: 0, value: "What is due", look: "title" },
        { row: 1, column: 0, value: "Made by a plan.", look: "note" },
        ...headings.map((value, column) => ({ row: 2, column, value, look: "heading" }) as const),
        ...months.flatMap((month) => [
          { row: 2 + month, column: 0, value: `Month ${month}`, look: "plain" } as const,
          {
            row: 2 + month,
            column: 1,
            value: month * 3,
            formula: { text: "ROW()*3-9", live: false },
          },
          { row: 2 + month, column: 2, value: month * 2, look: "input" } as const,
          { row: 2 + month, column: 3, value: month },
          { row: 2 + month, column: 4, value: 45000 + month, format: "yyyy-mm-dd" },
        ]),
      ],
    },
    {
      kind: "addTable",
      sheet: NEW_SHEET,
      name: "Due_table",
      area: { firstRow: 2, firstColumn: 0, lastRow: 8, lastColumn: 4 },
      headings,
    },
    {
      kind: "addChoices",
      sheet: NEW_SHEET,
      area: { ...below, firstColumn: 2, lastColumn: 3 },
      choices: { kind: "number", from: "0", to: "1000", whole: true },
      message: "A whole number.",
    },
    {
      kind: "addChoices",
      sheet: NEW_SHEET,
      area: { ...below, firstColumn: 4, lastColumn: 4 },
      choices: { kind: "date", from: "1", to: "TODAY()" },
      message: "A date until today.",
    },
    {
      kind: "addChoices",
      sheet: NEW_SHEET,
      area: { ...below, firstColumn: 0, lastColumn: 0 },
      choices: { kind: "listFrom", refersTo: "Due_dates" },
      message: "One of the dates.",
    },
    {
      kind: "addChart",
      sheet: NEW_SHEET,
      chart: "band",
      title: "Use & forecast",
      description: "Use of six months with a band",
      at: { firstRow: 10, firstColumn: 0, lastRow: 24, lastColumn: 4 },
      series: [
        { ...series, title: "Used", values: reference("B"), role: "history" },
        { ...series, title: "Forecast", values: reference("C"), role: "forecast" },
        { ...series, title: "80 % band", values: reference("D"), role: "high" },
        { ...series, title: "Low", values: reference("C"), role: "low" },
      ],
    },
    {
      kind: "addChart",
      sheet: NEW_SHEET,
      chart: "stacked",
      title: "Stacked",
      description: "Two stacks",
      at: { firstRow: 26, firstColumn: 0, lastRow: 40, lastColumn: 4 },
      series: [
        { ...series, title: "One", values: reference("B"), role: "stack" },
        { ...series, title: "Two", values: reference("C"), role: "stack", color: "F46A25" },
      ],
    },
    {
      kind: "printSetup",
      titleColumns: 0,
      orientation: "landscape",
      pagesWide: 1,
      sheet: NEW_SHEET,
      titleRows: null,
      footer: "&LVelloran&RPage &P",
    },
  ];
}
