import { isoText } from "../../core/day.ts";
import { moneyText, unitOf } from "../records/money-text.ts";
import { CAUTIONS } from "../records/cautions.ts";
import { roundMoney } from "../orders/lines.ts";
import type { Orders } from "../orders/orders.ts";
import type { Edit, Plan, SheetCell } from "../workbook/plan.ts";
import { counted } from "../records/problems.ts";
import { type Content, ORDER_COLUMNS, type OrderColumn } from "./columns.ts";
import type { Purchase } from "./purchase.ts";
import type { CellValue } from "../workbook/snapshot.ts";
import { NOTE_ROW } from "../sheets/layout.ts";
import { makeSheet } from "../sheets/make-sheet.ts";
import { onPaper } from "../sheets/paper.ts";
import { highRows, headLines, tableWidth, widthOf } from "../sheets/shape.ts";
import { orderWorkSheet } from "../orders/order-work.ts";

const FORMATS = { text: "@", whole: "0", money: "#,##0.00", date: "yyyy-mm-dd" } as const;

const SHEET = "Order";

/** What stands on paper for a person; the rest is in the file for machines. */
const PRINTED = ORDER_COLUMNS.filter(({ width }) => width !== null);
const SUPPLIER = ORDER_COLUMNS.filter(({ heading }) => heading === "Supplier");

/** The columns of an order; one that goes to several suppliers says for each line to whom. */
function columnsOf({ seller }: Purchase): readonly OrderColumn[] {
  return seller === "" ? [...PRINTED, ...SUPPLIER] : PRINTED;
}

const sized = ({ heading, width }: OrderColumn) => ({ heading, width: width ?? 16 });

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
  const columns = columnsOf(purchase);
  const head = headOf(purchase);
  const headings = FIRST_OF_HEAD + head.length + 1;
  return [
    {
      kind: "addSheet",
      sheet: SHEET,
      cells: [...headCells(purchase, head), ...orderCells(purchase, columns, headings)],
      widths: columns.map((column) => widthOf(sized(column))),
      heights: highRows(columns.map(sized), [], { head: headings }),
      freezeRows: headings + 1,
    },
    {
      kind: "addTable",
      sheet: SHEET,
      name: "Order",
      area: {
        firstRow: headings,
        firstColumn: 0,
        lastRow: headings + lines.length,
        lastColumn: columns.length - 1,
      },
      headings: columns.map(({ heading }) => heading),
    },
    onPaper(SHEET, tableWidth(columns.map(sized)), {
      titleRows: { first: headings, last: headings },
      footer: footerOf(isoText(reportDate)),
    }),
  ];
}

/** Row of the head's first line, below the title and what the order comes to. */
const FIRST_OF_HEAD = 3;

/** Title, sum, and the head: who orders what from whom, and how. */
function headCells(
  purchase: Purchase,
  head: readonly (readonly [label: string, text: string])[],
): SheetCell[] {
  const { number, lines, parts, freight, currency } = purchase;
  const all = moneyText(roundMoney(parts + freight), currency);
  const sum = `${counted(lines.length, "line")}, ${all} with freight as expected, without taxes`;
  return [
    { row: 0, column: 0, value: `Order ${number}`, look: "title" },
    { row: 1, column: 0, value: sum, look: "answer" },
    ...head.flatMap(([label, text], at): SheetCell[] => [
      { row: FIRST_OF_HEAD + at, column: 0, value: label, look: "note" },
      { row: FIRST_OF_HEAD + at, column: HEAD_TEXT, value: text, look: "plain", format: "@" },
    ]),
  ];
}

/** Column of the head's texts: the first is narrow, and holds the numbers of the lines below. */
const HEAD_TEXT = 1;

/** The head of an order, a line each; what is not known is left to be written by hand. */
function headOf(purchase: Purchase): (readonly [label: string, text: string])[] {
  const { buyer, seller, book, reportDate, unpriced, lines } = purchase;
  const sites = [...new Set(lines.map(({ shipTo, site }) => shipTo || site))].filter(Boolean);
  return [
    ["Date", `${isoText(reportDate)}, from ${book}; values only, no formulas`],
    ["Buyer", buyer],
    ["Supplier", seller === "" && lines.length > 0 ? "as each line says" : seller],
    ["Ship to", sites.length === 1 ? (sites[0] ?? "") : "as each line says"],
    [
      "Terms",
      "Complete sets only, no partial deliveries. Amount is Quantity divided by Per, times Price.",
    ],
    ...(unpriced.length === 0
      ? []
      : [
          [
            "No price",
            `is known yet for ${unpriced.join(", ")}; those lines have no amount`,
          ] as const,
        ]),
    ["Caution", CAUTIONS.planningAid],
  ];
}

/** Headings, lines, totals and reasons, from the top. */
function orderCells(
  purchase: Purchase,
  columns: readonly OrderColumn[],
  headings: number,
): SheetCell[] {
  const { lines } = purchase;
  const last = headings + lines.length;
  const numbers = columns.map(({ content }) =>
    lines.some((line) => content(line, purchase).kind !== "text"),
  );
  const stands = (column: number): Pick<SheetCell, "toRight" | "away"> =>
    numbers[column] ? { toRight: true } : numbers[column - 1] ? { away: true } : {};
  return [
    ...columns.map((column, at): SheetCell => ({
      row: headings,
      column: at,
      value: column.heading,
      look: "heading",
      ...stands(at),
    })),
    ...lines.flatMap((line, at) =>
      columns.map(({ content }, column): SheetCell => {
        const found = content(line, purchase);
        return {
          row: headings + 1 + at,
          column,
          value: valueOf(found),
          format: FORMATS[found.kind],
          ...stands(column),
        };
      }),
    ),
    ...totalCells(purchase, columns, last + 2),
    ...reasonCells(purchase, last + 6),
  ];
}

function footerOf(date: string): string {
  return `&L&A&CReport date ${date}&RPage &P of &N`;
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
function totalCells(
  { parts, freight, currency }: Purchase,
  columns: readonly OrderColumn[],
  row: number,
): SheetCell[] {
  const at = columns.findIndex(({ heading }) => heading === "Amount");
  const totals: readonly (readonly [string, number])[] = [
    ["Lines with a price", parts],
    ["Freight as expected", freight],
    [`Together, without taxes${unitOf(currency, ", in ")}`, roundMoney(parts + freight)],
  ];
  return totals.flatMap(([label, amount], below): SheetCell[] => {
    const look = below === totals.length - 1 ? "total" : "plain";
    return [
      ...Array.from({ length: at }, (_, column): SheetCell => ({
        row: row + below,
        column,
        value: column === 0 ? label : null,
        look,
      })),
      { row: row + below, column: at, value: amount, look, format: FORMATS.money, toRight: true },
    ];
  });
}

/** Why each line is there: beside the lines the reasons would make the page too small to read. */
function reasonCells({ lines }: Purchase, row: number): SheetCell[] {
  return [
    { row, column: 0, value: "Why", look: "heading" },
    { row, column: 1, value: null, look: "heading" },
    ...lines.flatMap(({ id, note }, at): SheetCell[] => [
      { row: row + 1 + at, column: 0, value: id, format: FORMATS.whole, toRight: true },
      { row: row + 1 + at, column: 1, value: note, format: FORMATS.text },
    ]),
  ];
}

/** Order calculation, and what its columns are called in the open standard. */
function workEdits(purchase: Purchase, orders: Orders): Edit[] {
  const { reportDate, lines, book } = purchase;
  const items = new Set(lines.map(({ item }) => item));
  const places = orders.places.filter(({ part }) => items.has(part.name));
  const { layout, answer = "", notes, rows } = orderWorkSheet({ ...orders, places });
  const note = [`As of ${isoText(reportDate)}, from ${book}.`, ...notes, CAUTIONS.planningAid];
  const characters = tableWidth(layout.columns);
  const head = { answer, notes: note };
  const headings = NOTE_ROW + headLines(head, layout.columns).length;
  const below = columnCells(headings + 1 + Math.max(rows.length, 1) + 1);
  return makeSheet({ ...layout, table: "Working" }, layout.name, rows, {
    ...head,
    footer: footerOf(isoText(reportDate)),
    characters,
    chartRows: 0,
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
