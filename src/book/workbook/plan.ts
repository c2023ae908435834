import type { Area, CellValue } from "./snapshot.ts";

/**
 * A plan is data: a small closed set of edits that every host applies the same way. It can be shown,
 * tested without a host, refused as a whole, and taken back. Nothing is ever moved or deleted.
 */
export interface Plan {
  /** What the plan does, one line, for the person who decides. */
  readonly summary: string;
  readonly edits: readonly Edit[];
}

/** The closed set. */
export type Edit =
  | AddColumn
  | FillCells
  | AddSheet
  | AddTable
  | GrowTable
  | GrowFilter
  | AddRule
  | AddChoices
  | AddName
  | AddChart
  | PrintSetup;

/** What must still be true when an edit is applied; otherwise the whole plan is refused. */
export interface Expectation {
  /** Cells that must still hold this text. */
  readonly headers?: readonly {
    readonly row: number;
    readonly column: number;
    readonly text: string;
  }[];
  /** A column whose cells must still have this fingerprint (see fingerprint in expect.ts). */
  readonly key?: {
    readonly column: number;
    readonly rows: readonly number[];
    readonly fingerprint: string;
  };
  /** A block that must be empty. */
  readonly empty?: Area;
  /** True when no filter may hide rows of the sheet. */
  readonly unfiltered?: boolean;
}

/**
 * A formula for many rows: text without "=", in English A1 form, `{r}` standing for the row's number
 * as people count. Live formulas call our worksheet functions as SPARE.NAME(…) and are stored in
 * Excel's own form for them.
 */
export interface Formula {
  readonly text: string;
  readonly live: boolean;
}

/** Cells of one column: values[i] goes to rows[i], and is the formula's result where there is one. */
export interface ColumnCells {
  readonly column: number;
  readonly rows: readonly number[];
  readonly values: readonly CellValue[];
  readonly formula?: Formula;
  /** Number format code, such as yyyy-mm-dd; absent leaves the neighbour's. */
  readonly format?: string;
}

/** A new column right of the last used one; its look is taken from the heading and cells of `like`. */
export interface AddColumn {
  readonly kind: "addColumn";
  readonly sheet: string;
  readonly headerRow: number;
  readonly title: string;
  readonly cells: ColumnCells;
  readonly like: number;
  /** Width in characters. */
  readonly width: number;
  readonly expects: Expectation;
}

/** Values and formulas for cells we own: our own sheets, our own columns. */
export interface FillCells {
  readonly kind: "fillCells";
  readonly sheet: string;
  readonly blocks: readonly ColumnCells[];
  readonly expects: Expectation;
}

/** How a cell of our own sheets looks. */
export type Look = "title" | "answer" | "heading" | "total" | "plain" | "input" | "note";

/** One cell of a new sheet. */
export interface SheetCell {
  readonly row: number;
  readonly column: number;
  readonly value: CellValue;
  readonly look?: Look;
  readonly format?: string;
  readonly formula?: Formula;
  /** At the right edge, with a little distance from the text that follows: numbers and what stands above them. */
  readonly toRight?: true;
  /** A little away from the left edge: text that follows a number. */
  readonly away?: true;
  /** The text runs upwards: headings of columns narrower than their word. */
  readonly upright?: true;
  /** Long text goes on in further lines. */
  readonly wraps?: true;
  /** Half way between the top and the bottom of a high row. */
  readonly middle?: true;
}

/** A new sheet after the last one. Refused when the name is taken. */
export interface AddSheet {
  readonly kind: "addSheet";
  readonly sheet: string;
  readonly cells: readonly SheetCell[];
  /** Widths in characters, from column A. */
  readonly widths: readonly number[];
  /** Rows that are higher than one line, in points. */
  readonly heights?: readonly { readonly row: number; readonly points: number }[];
  /** Rows that stay in sight when scrolling. */
  readonly freezeRows: number;
  /** Columns that only a chart needs: out of sight, and not on paper. */
  readonly hiddenColumns?: readonly number[];
  /** Hidden rows and merged cells: nothing of ours has them, only the demonstration's untidy book. */
  readonly hiddenRows?: readonly number[];
  readonly merges?: readonly Area[];
}

/** A native table over cells that are already there; the first row of the area holds its headings. */
export interface AddTable {
  readonly kind: "addTable";
  readonly sheet: string;
  readonly name: string;
  readonly area: Area;
  readonly headings: readonly string[];
  /** Its headings have no filter buttons: they would hide the words of narrow columns. */
  readonly buttonless?: true;
}

/** An existing table takes in columns just added at its right edge, or rows just added below it. */
export interface GrowTable {
  readonly kind: "growTable";
  readonly sheet: string;
  readonly table: string;
  readonly area: Area;
  /** Headings of the columns that are new, with the formula of the column where it has one. */
  readonly columns: readonly { readonly title: string; readonly formula?: Formula }[];
}

/**
 * A sheet's own filter reaches further, so that rows sorted through it stay whole. Refused when the
 * filter is no longer where it was, or hides rows.
 */
export interface GrowFilter {
  readonly kind: "growFilter";
  readonly sheet: string;
  readonly from: Area;
  readonly area: Area;
}

/** What a rule does to a cell's look; `format` may put a mark before the word, such as `"▲ "@`. */
export interface RuleLook {
  readonly bold?: boolean;
  /** Text colour, RRGGBB. */
  readonly color?: string;
  /** Fill colour, RRGGBB. */
  readonly fill?: string;
  readonly format?: string;
}

/** Native conditional formats; each formula is written for the area's first cell. */
export interface AddRule {
  readonly kind: "addRule";
  readonly sheet: string;
  readonly area: Area;
  readonly rules: readonly { readonly formula: string; readonly look: RuleLook }[];
}

/** What a cell may take. Dates are formulas or serial numbers of the workbook's own date system. */
export type Choices =
  | { readonly kind: "list"; readonly values: readonly string[] }
  | { readonly kind: "listFrom"; readonly refersTo: string }
  | { readonly kind: "date"; readonly from: string; readonly to: string }
  | {
      readonly kind: "number";
      readonly from: string;
      readonly to: string;
      readonly whole: boolean;
    };

/** Native validation; blank cells stay allowed. */
export interface AddChoices {
  readonly kind: "addChoices";
  readonly sheet: string;
  readonly area: Area;
  readonly choices: Choices;
  /** Shown when the entry is refused, one sentence. */
  readonly message: string;
}

/** A defined name for the whole book. Refused when it already refers to something else. */
export interface AddName {
  readonly kind: "addName";
  readonly name: string;
  readonly refersTo: string;
}

/** One line or stack of a chart, by references into sheets. */
export interface ChartSeries {
  readonly title: string;
  readonly categories: string;
  readonly values: string;
  /**
   * The values of "low" are a band's lower edge, those of "high" its height above that edge; "mark" is
   * an upright bar at the one category that has a value.
   */
  readonly role: "history" | "forecast" | "low" | "high" | "stack" | "mark";
  /** RRGGBB. */
  readonly color: string;
  /** Drawn hatched, as what is still to come is. */
  readonly hatched?: boolean;
}

/** A native chart on one of our own sheets: lines with a band, or stacked columns. */
export interface AddChart {
  readonly kind: "addChart";
  readonly sheet: string;
  readonly chart: "band" | "stacked";
  readonly title: string;
  readonly description: string;
  /** Number format of the categories where they are dates, such as mmm yy; texts without it. */
  readonly dated?: string;
  readonly at: Area;
  /** Redraws the nth chart of the sheet, where there is one, instead of adding a chart. */
  readonly nth?: number;
  readonly series: readonly ChartSeries[];
}

/** How a sheet goes on paper: narrow margins, so many pages wide, headings repeated, a footer. */
export interface PrintSetup {
  readonly kind: "printSetup";
  readonly sheet: string;
  readonly titleRows: { readonly first: number; readonly last: number } | null;
  /** Columns from A that stand on each page. */
  readonly titleColumns: number;
  readonly orientation: "portrait" | "landscape";
  readonly pagesWide: number;
  /** Pages high, where all of it must be on so many; as many as it takes without. */
  readonly pagesTall?: number;
  readonly footer: string;
}
