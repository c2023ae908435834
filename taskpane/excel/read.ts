import {
  type Area,
  cellKey,
  type CellValue,
  type DefinedName,
  type Filter,
  type Sheet,
  type Snapshot,
  type Table,
} from "../../src/book/snapshot.ts";
import type { Told } from "../host.ts";
import { areaOf, type Block, blocksOf, MOST_CELLS } from "./area.ts";
import { hiddenIn } from "./hidden.ts";

/** Excel's number of a known day in a 1900 workbook: DATE(2000,1,1). */
const NEW_YEAR_2000 = 36526;

type Context = Excel.RequestContext;

/** What is asked of a sheet before its cells. */
interface Asked {
  readonly sheet: Excel.Worksheet;
  readonly used: Excel.Range;
  readonly tables: Excel.TableCollection;
  readonly filter: Excel.AutoFilter;
  readonly filterRange: Excel.Range;
  readonly protection: Excel.WorksheetProtection;
}

/** The whole workbook as plain data: a few round trips, then one for each block of cells. */
export async function readSnapshot(context: Context, told: Told): Promise<Snapshot> {
  const { workbook } = context;
  const sheets = workbook.worksheets.load("items/name,items/visibility");
  const names = workbook.names.load("items/name,items/formula,items/type");
  const probe = workbook.functions.date(2000, 1, 1).load("value");
  await context.sync();
  const asked = sheets.items.map(askSheet);
  await context.sync();
  const formats: string[] = ["General"];
  const cells = await readCells(context, asked, { formats, told });
  const extras = await readExtras(context, asked);
  return {
    dateSystem: probe.value === NEW_YEAR_2000 ? 1900 : 1904,
    formats,
    sheets: asked.map((one, at): Sheet => ({
      name: one.sheet.name,
      visibility: visibilityOf(one.sheet.visibility),
      protected: one.protection.protected,
      hiddenRows: extras[at]?.hiddenRows ?? new Set(),
      hiddenColumns: extras[at]?.hiddenColumns ?? new Set(),
      merges: extras[at]?.merges ?? [],
      filter: filterOf(one),
      tables: extras[at]?.tables ?? [],
      ...(cells[at] ?? { values: [], formats: [], formulas: new Map() }),
    })),
    names: names.items.map(({ name, formula }): DefinedName => ({
      name,
      sheet: null,
      refersTo: String(formula).replace(/^=/, ""),
    })),
  };
}

function askSheet(sheet: Excel.Worksheet): Asked {
  const filter = sheet.autoFilter.load("enabled,isDataFiltered");
  return {
    sheet,
    used: sheet.getUsedRangeOrNullObject(true).load("rowIndex,columnIndex,rowCount,columnCount"),
    tables: sheet.tables.load("items/name,items/showTotals"),
    filter,
    filterRange: filter.getRangeOrNullObject().load("rowIndex,columnIndex,rowCount,columnCount"),
    protection: sheet.protection.load("protected"),
  };
}

function visibilityOf(visibility: string): Sheet["visibility"] {
  if (visibility === "Hidden") return "hidden";
  return visibility === "VeryHidden" ? "veryHidden" : "visible";
}

function filterOf({ filter, filterRange }: Asked): Filter | null {
  if (!filter.enabled || filterRange.isNullObject) return null;
  return { area: areaOf(filterRange), active: filter.isDataFiltered };
}

type Cells = Pick<Sheet, "values" | "formats" | "formulas">;

interface Reading {
  /** Number formats met so far; cells point into it. */
  readonly formats: string[];
  readonly told: Told;
}

/** Values, formulas and formats of all sheets, block by block. */
async function readCells(
  context: Context,
  asked: readonly Asked[],
  { formats, told }: Reading,
): Promise<Cells[]> {
  const blocks = asked.map(({ used }) =>
    used.isNullObject ? [] : blocksOf(areaOf(used), MOST_CELLS),
  );
  const all = blocks.reduce((sum, some) => sum + some.length, 0);
  const indexes = new Map(formats.map((code, at) => [code, at]));
  const found: Cells[] = [];
  let done = 0;
  for (const [at, { sheet }] of asked.entries()) {
    const cells = {
      values: [] as CellValue[][],
      formats: [] as number[][],
      formulas: new Map<number, string>(),
    };
    for (const block of blocks[at] ?? []) {
      const range = rangeOf(sheet, block).load("values,formulas,valueTypes,numberFormat");
      await context.sync();
      takeBlock(cells, block, { range, formats, indexes });
      range.untrack();
      done += 1;
      told(done / all, `reading ${sheet.name}`);
    }
    found.push(cells);
  }
  return found;
}

function rangeOf(
  sheet: Excel.Worksheet,
  { firstRow, firstColumn, rows, columns }: Block,
): Excel.Range {
  return sheet.getRangeByIndexes(firstRow, firstColumn, rows, columns);
}

interface Taken {
  readonly range: Excel.Range;
  readonly formats: string[];
  readonly indexes: Map<string, number>;
}

function takeBlock(
  cells: { values: CellValue[][]; formats: number[][]; formulas: Map<number, string> },
  { firstRow, firstColumn, rows, columns }: Block,
  { range, formats, indexes }: Taken,
): void {
  for (let row = 0; row < rows; row += 1) {
    const values = rowAt(cells.values, firstRow + row);
    const codes = rowAt(cells.formats, firstRow + row);
    for (let column = 0; column < columns; column += 1) {
      const value = valueOf(range.values[row]?.[column], range.valueTypes[row]?.[column]);
      const formula: unknown = range.formulas[row]?.[column];
      const isFormula = typeof formula === "string" && formula.startsWith("=");
      if (value === null && !isFormula) continue;
      padded(values, firstColumn + column, null).push(value);
      if (isFormula)
        cells.formulas.set(cellKey(firstRow + row, firstColumn + column), formula.slice(1));
      const code = String(range.numberFormat[row]?.[column] ?? "General");
      if (code === "General") continue;
      const index = indexes.get(code) ?? formats.push(code) - 1;
      indexes.set(code, index);
      padded(codes, firstColumn + column, 0).push(index);
    }
  }
}

/** A row of cells, made with all rows above it where it is missing. */
function rowAt<T>(rows: T[][], row: number): T[] {
  while (rows.length <= row) rows.push([]);
  return rows[row] ?? [];
}

/** Cells up to a column, blanks put where there are none. */
function padded<T>(cells: T[], column: number, blank: T): T[] {
  while (cells.length < column) cells.push(blank);
  return cells;
}

/** A cell's value; Excel hands errors over as their text, and a blank as an empty one. */
function valueOf(value: unknown, type: Excel.RangeValueType | string | undefined): CellValue {
  if (type === "Empty") return null;
  if (type === "Error") return { error: String(value) };
  if (typeof value === "number" || typeof value === "boolean") return value;
  return typeof value === "string" ? value : null;
}

interface Extras {
  readonly tables: readonly Table[];
  readonly merges: readonly Area[];
  readonly hiddenRows: ReadonlySet<number>;
  readonly hiddenColumns: ReadonlySet<number>;
}

/** Tables with their headings, merged and hidden cells. */
async function readExtras(context: Context, asked: readonly Asked[]): Promise<Extras[]> {
  const pending = asked.map(({ used, tables }) => ({
    merged: used.isNullObject
      ? null
      : used
          .getMergedAreasOrNullObject()
          .load(
            "areas/items/rowIndex,areas/items/columnIndex,areas/items/rowCount,areas/items/columnCount",
          ),
    tables: tables.items.map((table) => ({
      table,
      range: table.getRange().load("rowIndex,columnIndex,rowCount,columnCount"),
      head: table.getHeaderRowRange().load("values"),
    })),
  }));
  await context.sync();
  const hidden = await hiddenIn(
    context,
    asked.map(({ sheet, used }) => ({ sheet, used: used.isNullObject ? null : areaOf(used) })),
  );
  return pending.map(({ merged, tables }, at) => ({
    tables: tables.map(({ table, range, head }): Table => ({
      name: table.name,
      area: areaOf(range),
      headings: (head.values[0] ?? []).map((value: unknown) => String(value)),
      totalsRow: table.showTotals,
    })),
    merges: merged === null || merged.isNullObject ? [] : merged.areas.items.map(areaOf),
    hiddenRows: hidden[at]?.rows ?? new Set(),
    hiddenColumns: hidden[at]?.columns ?? new Set(),
  }));
}
