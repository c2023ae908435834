import { isoText } from "../../core/day.ts";
import { CAUTIONS } from "../records/cautions.ts";
import { roundMoney } from "../orders/lines.ts";
import type { Orders } from "../orders/orders.ts";
import type { Edit, Plan, SheetCell } from "../workbook/plan.ts";
import { counted } from "../records/problems.ts";
import { type Content, ORDER_COLUMNS } from "./columns.ts";
import type { Purchase } from "./purchase.ts";
import type { CellValue } from "../workbook/snapshot.ts";
import { makeSheet, RESULT_FIRST_ROW } from "../sheets/layout.ts";
import { orderWorkSheet } from "../orders/order-list.ts";

/** Numbers keep a little distance from the text that follows them. */
const FORMATS = {
  text: "@",
  whole: "0_)",
  money: "#,##0.00_)",
  date: "yyyy-mm-dd_)",
} as const;

const SHEET = "Order";

/** The reasons are long: beside the lines they would make the page too small to read, so they stand below. */
const NOTE = "Note";
const COLUMNS = ORDER_COLUMNS.filter(({ heading }) => heading !== NOTE);

/** A workbook for purchasing: values only, one table, and a sheet that says how it was worked out. */
export function purchasingPlan(purchase: Purchase, orders: Orders): Plan {
  const { number, lines } = purchase;
  return {
    summary: `order ${number}: ${counted(lines.length, "line")}`,
    edits: [...orderEdits(purchase), ...workEdits(purchase, orders)],
  };
}

function orderEdits(purchase: Purchase): Edit[] {
  const { reportDate, lines } = purchase;
  const top = topLines(purchase);
  const headings = top.length + 1;
  const last = headings + lines.length;
  return [
    {
      kind: "addSheet",
      sheet: SHEET,
      cells: orderCells(purchase, top, headings),
      widths: COLUMNS.map(({ width, heading }) => Math.max(width, heading.length + 3)),
      freezeRows: headings + 1,
    },
    {
      kind: "addTable",
      sheet: SHEET,
      name: "Order",
      area: {
        firstRow: headings,
        firstColumn: 0,
        lastRow: last,
        lastColumn: COLUMNS.length - 1,
      },
      headings: COLUMNS.map(({ heading }) => heading),
    },
    {
      kind: "printSetup",
      sheet: SHEET,
      titleRows: { first: headings, last: headings },
      footer: footerOf(isoText(reportDate)),
    },
  ];
}

/** Title and lines of words, headings, lines, totals and reasons, from the top. */
function orderCells(purchase: Purchase, top: readonly string[], headings: number): SheetCell[] {
  const { lines } = purchase;
  const last = headings + lines.length;
  return [
    ...top.map((text, row): SheetCell => ({
      row,
      column: 0,
      value: text,
      look: row === 0 ? "title" : "plain",
    })),
    ...COLUMNS.map(({ heading }, column): SheetCell => ({
      row: headings,
      column,
      value: heading,
      look: "heading",
    })),
    ...lines.flatMap((line, at) =>
      COLUMNS.map(({ content }, column): SheetCell => {
        const found = content(line, purchase);
        return {
          row: headings + 1 + at,
          column,
          value: valueOf(found),
          format: FORMATS[found.kind],
          look: "plain",
        };
      }),
    ),
    ...totalCells(purchase, last + 2),
    ...noteCells(purchase, last + 6),
  ];
}

function footerOf(date: string): string {
  return `&L&A&CReport date ${date}&RPage &P of &N`;
}

/** What it is, as of when, from where, for whom, and what goes with every order. */
function topLines(purchase: Purchase): string[] {
  const { number, buyer, seller, book, reportDate, lines, unpriced } = purchase;
  const parties = [
    ...(buyer === "" ? [] : [`From ${buyer}.`]),
    ...(seller === "" ? [] : [`To ${seller}.`]),
  ];
  return [
    `Order ${number}`,
    [
      `As of ${isoText(reportDate)}, from ${book}.`,
      ...parties,
      `${counted(lines.length, "line")} to go out now; values only, no formulas.`,
    ].join(" "),
    "Complete sets only, no partial deliveries. Amount is Quantity divided by Per, times Price.",
    ...(unpriced.length === 0
      ? []
      : [`No price is known yet for ${unpriced.join(", ")}; those lines have no amount.`]),
    CAUTIONS.planningAid,
  ];
}

function valueOf(content: Content): CellValue {
  switch (content.kind) {
    case "text":
      return content.text === "" ? null : content.text;
    case "date":
      return content.day;
    default:
      return content.number;
  }
}

/** The totals stand below a blank row, so that the table stays one of lines. */
function totalCells(purchase: Purchase, row: number): SheetCell[] {
  const { parts, freight, currency } = purchase;
  const at = COLUMNS.findIndex(({ heading }) => heading === "Amount");
  const totals: readonly (readonly [string, number])[] = [
    ["Lines with a price", parts],
    ["Freight as expected", freight],
    ["Together, without taxes", roundMoney(parts + freight)],
  ];
  return totals.flatMap(([label, amount], below): SheetCell[] => [
    { row: row + below, column: 0, value: label, look: "plain" },
    { row: row + below, column: at, value: amount, look: "plain", format: FORMATS.money },
    { row: row + below, column: at + 1, value: currency, look: "plain", format: FORMATS.text },
  ]);
}

function noteCells({ lines }: Purchase, row: number): SheetCell[] {
  return [
    { row, column: 0, value: NOTE, look: "heading" },
    { row, column: 1, value: "Why the line is there", look: "plain" },
    ...lines.flatMap(({ id, note }, at): SheetCell[] => [
      { row: row + 1 + at, column: 0, value: id, look: "plain", format: FORMATS.whole },
      { row: row + 1 + at, column: 1, value: note, look: "plain", format: FORMATS.text },
    ]),
  ];
}

/** Order calculation, and what its columns are called in the open standard. */
function workEdits(purchase: Purchase, orders: Orders): Edit[] {
  const { reportDate, lines, book } = purchase;
  const items = new Set(lines.map(({ item }) => item));
  const places = orders.places.filter(({ part }) => items.has(part.name));
  const { layout, notes, rows } = orderWorkSheet({ ...orders, places });
  const note = [`As of ${isoText(reportDate)}, from ${book}.`, ...notes, CAUTIONS.planningAid];
  const below = columnCells(RESULT_FIRST_ROW + Math.max(rows.length, 1) + 1);
  return makeSheet({ ...layout, table: "Working" }, layout.name, rows, {
    notes: note,
    footer: footerOf(isoText(reportDate)),
  }).map((edit) =>
    edit.kind === "addSheet" ? { ...edit, cells: [...edit.cells, ...below] } : edit,
  );
}

function columnCells(first: number): SheetCell[] {
  const rows: readonly (readonly [string, string, string])[] = [
    ["Column", "Holds", "UBL 2.1"],
    ...ORDER_COLUMNS.map(({ heading, about, element }) => [heading, about, element] as const),
  ];
  const columns = [0, 1, 8];
  return rows.flatMap((texts, at) =>
    texts.map((text, to): SheetCell => ({
      row: first + at,
      column: columns[to] ?? 0,
      value: text === "" ? null : text,
      look: at === 0 ? "heading" : "plain",
    })),
  );
}
