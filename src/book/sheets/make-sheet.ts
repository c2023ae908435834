import { columnMeaning } from "./columns-mean.ts";
import type { AddRule, Edit, SheetCell } from "../workbook/plan.ts";
import { type CellValue, columnLetters } from "../workbook/snapshot.ts";
import {
  FOOTER,
  HEADING_ROW,
  type Layout,
  type LayoutColumn,
  NOTE_ROW,
  TITLE_ROW,
} from "./layout.ts";
import { onPaper } from "./paper.ts";
import { type Head, headLines, highRows, tableWidth, widthOf } from "./shape.ts";

/** What a sheet of results has besides: what stands under its title, and a footer with the report date. */
interface Dressing extends Head {
  readonly footer: string;
  /** Width in characters of all that is printed, charts included. */
  readonly characters: number;
  /** Rows between what stands under the title and the table. */
  readonly chartRows: number;
}

/** The edits that make the sheet with these rows; without a dressing its cells are to be filled in. */
export function makeSheet(
  layout: Layout,
  name: string,
  rows: readonly (readonly CellValue[])[],
  dressing?: Dressing,
): Edit[] {
  const { columns } = layout;
  const lines = dressing === undefined ? [] : headLines(dressing, columns);
  const above = dressing?.chartRows ?? 0;
  const head = dressing === undefined ? HEADING_ROW : NOTE_ROW + lines.length + above;
  const first = head + 1;
  const heights = highRows(columns, rows, { head, least: layout.rowPoints });
  const answered = dressing !== undefined && dressing.answer !== "";
  const last = first + Math.max(rows.length, 1) - 1;
  return [
    {
      kind: "addSheet",
      sheet: name,
      cells: [
        { row: TITLE_ROW, column: 0, value: layout.title, look: "title" },
        ...lines.flatMap((line, at) => noteCell(line, at, answered)),
        ...tableCells(layout, rows, {
          head,
          look: dressing === undefined ? "input" : "plain",
          high: new Set(heights.map(({ row }) => row)),
        }),
      ],
      widths: columns.map(widthOf),
      heights,
      // Charts that stay in sight would leave no room for the rows.
      freezeRows: above > 0 ? 0 : first,
      ...helpersIn(columns),
    },
    {
      kind: "addTable",
      sheet: name,
      name: layout.table,
      area: { firstRow: head, firstColumn: 0, lastRow: last, lastColumn: columns.length - 1 },
      headings: columns.map((column) => column.heading),
      ...(layout.buttonless ? { buttonless: true } : {}),
    },
    ...choicesOf(layout, name, first),
    ...strongRule(layout, name, first),
    onPaper(name, dressing?.characters ?? tableWidth(columns), {
      titleRows: { first: head, last: head },
      footer: dressing?.footer ?? FOOTER,
    }),
  ];
}

/** A line under the title; the first one is the answer where there is one. */
function noteCell(value: string, at: number, answered: boolean): SheetCell[] {
  if (value === "") return [];
  const look = answered && at === 0 ? "answer" : "plain";
  return [{ row: NOTE_ROW + at, column: 0, value, look }];
}

function helpersIn(columns: readonly LayoutColumn[]): { readonly hiddenColumns?: number[] } {
  const hiddenColumns = columns.flatMap(({ helper }, at) => (helper ? [at] : []));
  return hiddenColumns.length === 0 ? {} : { hiddenColumns };
}

interface TableLook {
  /** Row of the headings. */
  readonly head: number;
  readonly look: "input" | "plain";
  /** Rows that need more than a line. */
  readonly high: ReadonlySet<number>;
}

function tableCells(
  layout: Layout,
  rows: readonly (readonly CellValue[])[],
  { head, look, high }: TableLook,
): SheetCell[] {
  const { columns } = layout;
  const numeric = columns.map((column, at) => isOfNumbers(column, rows, at));
  const away = numeric.map((isNumber, at) => !isNumber && numeric[at - 1] === true);
  const headings = columns.map(({ heading, upright }, at): SheetCell => ({
    row: head,
    column: at,
    value: heading,
    look: "heading",
    ...(upright ? { upright } : numeric[at] ? { toRight: true } : {}),
    ...(away[at] && !upright ? { away: true } : {}),
  }));
  const body = rows.flatMap((values, nth) =>
    columns.map((column, at): SheetCell => ({
      ...bodyCell(column, values, at),
      row: head + 1 + nth,
      look: column.input === true ? "input" : look,
      ...(away[at] && typeof values[at] === "string" ? { away: true } : {}),
      ...(high.has(head + 1 + nth) ? { middle: true } : {}),
    })),
  );
  return [...headings, ...body];
}

function bodyCell(
  { format: wanted, formula, wraps }: LayoutColumn,
  values: readonly CellValue[],
  column: number,
): Omit<SheetCell, "row"> {
  const format = typeof wanted === "function" ? wanted(values) : wanted;
  return {
    column,
    value: values[column] ?? null,
    ...(typeof values[column] === "number" ? { toRight: true } : {}),
    ...(wraps === undefined ? {} : { wraps }),
    ...(format === undefined ? {} : { format }),
    ...(formula === undefined ? {} : { formula: { text: formula, live: false } }),
  };
}

/** Whether a column holds numbers or dates, so that its heading stands above their right edge. */
function isOfNumbers(
  { format }: LayoutColumn,
  rows: readonly (readonly CellValue[])[],
  at: number,
): boolean {
  if (typeof format === "string") return format !== "@";
  return rows.some((values) => typeof values[at] === "number");
}

function choicesOf(layout: Layout, sheet: string, firstRow: number): Edit[] {
  return layout.columns.flatMap(({ choices, heading, about }, at): Edit[] => {
    const message = about ?? columnMeaning(layout.name, heading);
    const lastRow = firstRow + layout.room - 1;
    const area = { firstRow, firstColumn: at, lastRow, lastColumn: at };
    return choices === undefined ? [] : [{ kind: "addChoices", sheet, area, choices, message }];
  });
}

/** Sums are bold wherever a sheet is sorted to, so a rule says it of the row, not a look of the cell. */
function strongRule({ strong, columns, room }: Layout, sheet: string, firstRow: number): AddRule[] {
  if (strong === undefined) return [];
  const reference = (heading: string): string => {
    const at = columns.findIndex((column) => column.heading === heading);
    return `$${columnLetters(at)}${firstRow + 1}`;
  };
  const area = {
    ...{ firstRow, firstColumn: 0 },
    ...{ lastRow: firstRow + room - 1, lastColumn: columns.length - 1 },
  };
  const rules = [{ formula: strong(reference), look: { bold: true } }];
  return [{ kind: "addRule", sheet, area, rules }];
}
