import type { Area } from "../../book/workbook/snapshot.ts";
import { attribute, isOn, numberOf } from "../xml/attributes.ts";
import { areaOf } from "../read/areas.ts";
import { type CellSource, readRows } from "../read/cells.ts";
import type { Rows } from "../read/cut-sheet.ts";
import type { Strings } from "../read/strings.ts";
import { shownFormula } from "../read/formulas.ts";
import { MOST_COLUMNS } from "../file/limits.ts";
import type { OpenWorkbook } from "../read/open.ts";
import { themeColors } from "./view-colors.ts";
import { type CellLook, readLooks } from "./view-looks.ts";
import { content, eachChild, openRoot, readXml, type Xml } from "../xml/xml.ts";

export type { CellLook } from "./view-looks.ts";

/** A rule that changes the look of cells; its formula is written for the area's first cell. */
interface ViewRule {
  readonly areas: readonly Area[];
  readonly formula: string;
  readonly look: CellLook;
  readonly stops: boolean;
}

/** A list of words a cell may take: the words, or where they stand. */
interface ViewChoices {
  readonly areas: readonly Area[];
  readonly from: string;
}

/** What a sheet looks like beyond its snapshot. */
export interface SheetView {
  readonly name: string;
  /** looks[row][column] is an index into the view's looks; absent means the column's, or the first. */
  readonly looks: readonly (readonly number[])[];
  readonly columns: ReadonlyMap<number, { readonly width: number | null; readonly look: number }>;
  /** Heights of rows in points, where they are not the usual one. */
  readonly heights: ReadonlyMap<number, number>;
  readonly frozen: { readonly rows: number; readonly columns: number };
  readonly rules: readonly ViewRule[];
  readonly choices: readonly ViewChoices[];
  /** Cells that one formula fills together: the formula's own area each. */
  readonly blocks: readonly Area[];
}

/** What a workbook looks like, for showing it in a grid; reading it changes nothing. */
export interface View {
  readonly looks: readonly CellLook[];
  readonly sheets: readonly SheetView[];
}

interface Seen {
  readonly looks: number[][];
  readonly columns: Map<number, { width: number | null; look: number }>;
  readonly heights: Map<number, number>;
  frozen: { rows: number; columns: number };
  readonly rules: ViewRule[];
  readonly choices: ViewChoices[];
}

/** Reads what a workbook looks like. */
export function viewOf({ file, book }: OpenWorkbook): View {
  const { styles } = book;
  const theme = themeColors(file, book);
  const looks = styles ? readLooks(styles.text, styles.path, theme) : { cells: [], rules: [] };
  const sheets = book.sheets.map(({ sheet, path, content: held }): SheetView => {
    const seen = newSeen();
    const xml = readXml(held.text, path);
    openRoot(xml, "worksheet");
    eachChild(xml, () => {
      readPart(xml, seen, looks.rules);
    });
    readCells(held.rows, seen, held.source.strings);
    return { name: sheet.name, ...seen, blocks: held.source.blocks };
  });
  return { looks: looks.cells, sheets };
}

function newSeen(): Seen {
  return {
    looks: [],
    columns: new Map(),
    heights: new Map(),
    frozen: { rows: 0, columns: 0 },
    rules: [],
    choices: [],
  };
}

function readPart(xml: Xml, seen: Seen, ruleLooks: readonly CellLook[]): void {
  if (xml.name === "cols") readColumns(xml, seen);
  else if (xml.name === "sheetViews") readPanes(xml, seen);
  else if (xml.name === "conditionalFormatting") readRules(xml, seen, ruleLooks);
  else if (xml.name === "dataValidations") readChoices(xml, seen);
}

function readCells(rows: Rows, seen: Seen, strings: Strings): void {
  const source: CellSource = { strings, dateSystem: 1900, shared: new Map(), blocks: [] };
  readRows(rows, source, {
    row: (row, tag) => {
      if (tag === null) return;
      const height = isOn(tag, "customHeight") ? Number(attribute(tag, "ht")) : NaN;
      if (height > 0 && height < 500) seen.heights.set(row, height);
    },
    cell: ({ row, column, style }) => {
      if (style === 0) return;
      const line = (seen.looks[row] ??= []);
      line[column] = style;
    },
  });
}

function readColumns(xml: Xml, seen: Seen): void {
  eachChild(xml, () => {
    const first = (numberOf(xml, "min") ?? 1) - 1;
    // A file may give its last column a width; the grid ends long before it.
    const last = Math.min((numberOf(xml, "max") ?? 1) - 1, first + 255, MOST_COLUMNS - 1);
    const width = Number(attribute(xml, "width") ?? NaN);
    const look = numberOf(xml, "style") ?? 0;
    for (let column = first; column <= last; column += 1) {
      seen.columns.set(column, { width: width > 0 ? width : null, look });
    }
  });
}

function readPanes(xml: Xml, seen: Seen): void {
  eachChild(xml, () => {
    eachChild(xml, () => {
      const frozen = xml.name === "pane" && (attribute(xml, "state") ?? "").startsWith("frozen");
      if (!frozen) return;
      seen.frozen = { rows: numberOf(xml, "ySplit") ?? 0, columns: numberOf(xml, "xSplit") ?? 0 };
    });
  });
}

function areasOf(text: string | null): Area[] {
  return (text ?? "").split(/\s+/).flatMap((one) => areaOf(one) ?? []);
}

function readRules(xml: Xml, seen: Seen, looks: readonly CellLook[]): void {
  const areas = areasOf(attribute(xml, "sqref"));
  eachChild(xml, () => {
    if (xml.name !== "cfRule") return;
    const own = attribute(xml, "type") === "expression";
    const look = looks[numberOf(xml, "dxfId") ?? -1];
    const stops = isOn(xml, "stopIfTrue");
    eachChild(xml, () => {
      if (xml.name !== "formula") return;
      const formula = shownFormula(content(xml));
      if (own && look) seen.rules.push({ areas, formula, look, stops });
    });
  });
}

function readChoices(xml: Xml, seen: Seen): void {
  eachChild(xml, () => {
    const areas = areasOf(attribute(xml, "sqref"));
    const list = attribute(xml, "type") === "list";
    eachChild(xml, () => {
      if (xml.name !== "formula1") return;
      const from = shownFormula(content(xml));
      if (list) seen.choices.push({ areas, from });
    });
  });
}
