import type { TablePlace } from "./chart-place.ts";
import { type CellValue, columnLetters } from "../workbook/snapshot.ts";
import type { Layout, LayoutColumn } from "./layout.ts";
import type { Result } from "./result.ts";

interface Looks extends Pick<LayoutColumn, "width" | "about" | "wraps" | "helper"> {
  readonly format?: string;
}

/** A cell that follows from its row; under a formula it is what the formula gives. */
interface Shown<Row> extends Looks {
  /** Dates as days, whatever the book's date system. */
  readonly cell: (row: Row) => CellValue;
  /** Native formula without "="; `of` is the cell under another heading in the same row. */
  readonly formula?: (of: (heading: string) => string) => string;
}

/** A cell that a person fills in. */
interface FilledIn extends Looks, Pick<LayoutColumn, "upright" | "choices"> {
  readonly input: true;
}

/** A column of a sheet of results, complete: how it looks, and what its cell holds. */
type ResultColumn<Row> = Shown<Row> | FilledIn;

/** Columns in their order, each under its heading: a word, for whole numbers would come first. */
export type ResultColumns<Row, Heading extends string = string> = Readonly<
  Record<Heading, ResultColumn<Row>>
>;

interface Declared<Row, Heading extends string> extends Omit<Layout, "columns" | "strong"> {
  /** Which rows are sums and bold, by the cells under its headings. */
  readonly strong?: (of: (heading: NoInfer<Heading>) => string) => string;
  readonly columns: ResultColumns<Row, Heading>;
  /** Headings whose values tell a row again, so that what was typed into it stays with it. */
  readonly keys?: readonly NoInfer<Heading>[];
}

interface Filled<Row> extends Omit<Result, "layout" | "rows" | "keys"> {
  readonly rows: readonly Row[];
  /** Where the title says more than the layout's. */
  readonly title?: string;
}

/** Rows of a table, counted from zero. */
export interface TableRows {
  readonly first: number;
  readonly last: number;
}

/** A sheet of results: its layout, and what fills it. */
export interface ResultSheet<Row, Heading extends string> {
  readonly layout: Layout;
  readonly keys: readonly Heading[];
  /** The cells of a row, in the order of the columns. */
  readonly cells: (row: Row) => CellValue[];
  readonly filled: (filled: Filled<Row>) => Result;
  /** Cells of a column as an absolute reference, for charts. */
  readonly reference: (place: TablePlace, heading: Heading, rows: TableRows) => string;
}

/** The headings of a sheet of results. */
export type HeadingOf<S extends { readonly keys: readonly string[] }> = S["keys"][number];

/** Declares a sheet of results: layout and cells follow from the same columns. */
export function resultSheet<Row, Heading extends string>({
  columns,
  keys = [],
  ...about
}: Declared<Row, Heading>): ResultSheet<Row, Heading> {
  const declared = Object.entries<ResultColumn<Row>>(columns);
  const letters = (wanted: string): string => {
    const at = declared.findIndex(([heading]) => heading === wanted);
    if (at < 0) throw new Error(`${about.name} has no column ${wanted}`);
    return columnLetters(at);
  };
  const layout: Layout = {
    ...about,
    columns: declared.map(([heading, column]) =>
      layoutColumn(heading, column, (other) => `${letters(other)}{r}`),
    ),
  };
  const cells = (row: Row): CellValue[] =>
    declared.map(([, column]) => ("cell" in column ? column.cell(row) : null));
  return {
    layout,
    keys,
    cells,
    filled: ({ rows, title = layout.title, ...rest }) => ({
      ...rest,
      layout: { ...layout, title },
      keys,
      rows: rows.map(cells),
    }),
    reference: ({ sheet, headingRow }, heading, { first, last }) => {
      const [name, column] = [sheet.replaceAll("'", "''"), letters(heading)];
      // Rows as people count them, below the headings.
      const top = headingRow + 2;
      return `'${name}'!$${column}$${top + first}:$${column}$${top + last}`;
    },
  };
}

function layoutColumn<Row>(
  heading: string,
  column: ResultColumn<Row>,
  of: (heading: string) => string,
): LayoutColumn {
  if (!("cell" in column)) return { heading, ...column };
  const { width, about, format, wraps, helper, formula } = column;
  return {
    ...{ heading, width, about },
    ...(format === undefined ? {} : { format }),
    ...(wraps === undefined ? {} : { wraps }),
    ...(helper === undefined ? {} : { helper }),
    ...(formula === undefined ? {} : { formula: formula(of) }),
  };
}
