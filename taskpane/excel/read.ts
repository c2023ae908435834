import {
  type Area,
  type DefinedName,
  type Filter,
  isCellError,
  type Sheet,
  type Snapshot,
  type Table,
} from "../../src/book/workbook/snapshot.ts";
import type { Told } from "../host.ts";
import { areaOf, type Looked } from "./area.ts";
import { askComments, commentsIn } from "./comments.ts";
import { hiddenIn } from "./hidden.ts";
import { mergedIn } from "./merged.ts";
import { type Cells, readCells } from "./read-cells.ts";
import { struckIn } from "./struck.ts";

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

const NAMES = "items/name,items/formula";

/** The whole workbook as plain data: a few round trips, then one for each block of cells. */
export async function readSnapshot(context: Context, told: Told): Promise<Snapshot> {
  const { workbook } = context;
  const sheets = workbook.worksheets.load("items/name,items/visibility");
  const names = workbook.names.load(NAMES);
  const probe = workbook.functions.date(2000, 1, 1).load("value");
  const protection = workbook.protection.load("protected");
  const application = workbook.application.load("calculationMode");
  await context.sync();
  const asked = sheets.items.map(askSheet);
  await context.sync();
  const formats: string[] = ["General"];
  const used = asked.map((one) => ({
    sheet: one.sheet,
    used: one.used.isNullObject ? null : areaOf(one.used),
  }));
  const cells = await readSettled(context, used, { formats, told });
  const extras = await readExtras(context, asked, used);
  return {
    dateSystem: probe.value === NEW_YEAR_2000 ? 1900 : 1904,
    formats,
    ...(protection.protected ? { fixedSheets: true } : {}),
    ...(application.calculationMode === "Manual" ? { calculation: "manual" as const } : {}),
    sheets: asked.map((one, at): Sheet => ({
      name: one.sheet.name,
      visibility: visibilityOf(one.sheet.visibility),
      protected: one.protection.protected,
      hiddenRows: extras[at]?.hiddenRows ?? new Set(),
      hiddenColumns: extras[at]?.hiddenColumns ?? new Set(),
      merges: extras[at]?.merges ?? [],
      filter: filterOf(one, extras[at]?.tables ?? []),
      tables: extras[at]?.tables ?? [],
      ...someOf("struck", extras[at]?.struck),
      ...someOf("comments", extras[at]?.comments),
      ...(cells[at] ?? { values: [], formats: [], formulas: new Map() }),
    })),
    names: namesOf(names),
  };
}

/** Milliseconds to wait for functions that are still being worked out, and how often. */
const BUSY_REST = 250;
const BUSY_RESTS = 12;

/** The cells, read once more while functions are still being worked out in them; what stays busy is read so. */
async function readSettled(
  context: Context,
  used: readonly Looked[],
  reading: { readonly formats: string[]; readonly told: Told },
): Promise<Cells[]> {
  const cells = await readCells(context, used, reading);
  for (let rests = 0; rests < BUSY_RESTS; rests += 1) {
    const busy = cells.flatMap((one, at) => (isBusy(one) ? [at] : []));
    if (busy.length === 0) break;
    await new Promise((resolve) => setTimeout(resolve, BUSY_REST));
    const again = await readCells(
      context,
      busy.flatMap((at) => used[at] ?? []),
      reading,
    );
    busy.forEach((at, index) => {
      const one = again[index];
      if (one !== undefined) cells[at] = one;
    });
  }
  return cells;
}

function isBusy({ values }: Cells): boolean {
  return values.some((line) => line.some((cell) => isCellError(cell) && cell.error === "#BUSY!"));
}

function askSheet(sheet: Excel.Worksheet): Asked {
  const filter = sheet.autoFilter.load("enabled,isDataFiltered");
  return {
    sheet,
    used: sheet.getUsedRangeOrNullObject(true).load("rowIndex,columnIndex,rowCount,columnCount"),
    tables: sheet.tables.load(
      "items/name,items/showTotals,items/autoFilter/enabled,items/autoFilter/isDataFiltered",
    ),
    filter,
    filterRange: filter.getRangeOrNullObject().load("rowIndex,columnIndex,rowCount,columnCount"),
    protection: sheet.protection.load("protected"),
  };
}

/**
 * Names of the workbook that people can see: what Excel keeps for itself (print titles, filters) is left out.
 * A sheet's own names are not asked for: Excel on a Mac refuses that while another workbook is looked at.
 */
function namesOf(names: Excel.NamedItemCollection): DefinedName[] {
  return names.items
    .filter(({ name }) => !name.startsWith("_xlnm."))
    .map(({ name, formula }) => ({
      name,
      sheet: null,
      refersTo: String(formula).replace(/^=/, ""),
    }));
}

function visibilityOf(visibility: string): Sheet["visibility"] {
  if (visibility === "Hidden") return "hidden";
  return visibility === "VeryHidden" ? "veryHidden" : "visible";
}

/** The sheet's own filter or a table's; one that hides rows goes before those that do not. */
function filterOf({ filter, filterRange, tables }: Asked, read: readonly Table[]): Filter | null {
  const found: Filter[] = [];
  if (filter.enabled && !filterRange.isNullObject) {
    found.push({ area: areaOf(filterRange), active: filter.isDataFiltered });
  }
  tables.items.forEach(({ autoFilter }, at) => {
    const table = read[at];
    if (!autoFilter.enabled || table === undefined) return;
    const lastRow = table.area.lastRow - (table.totalsRow ? 1 : 0);
    found.push({ area: { ...table.area, lastRow }, active: autoFilter.isDataFiltered });
  });
  return found.find(({ active }) => active) ?? found[0] ?? null;
}

interface Extras {
  readonly tables: readonly Table[];
  readonly merges: readonly Area[];
  readonly hiddenRows: ReadonlySet<number>;
  readonly hiddenColumns: ReadonlySet<number>;
  readonly struck: ReadonlySet<number>;
  readonly comments: ReadonlyMap<number, string>;
}

/** Absent where there are none. */
function someOf<K extends "struck" | "comments">(
  key: K,
  found: Extras[K] | undefined,
): Partial<Pick<Extras, K>> {
  return found === undefined || found.size === 0 ? {} : ({ [key]: found } as Pick<Extras, K>);
}

/** Tables with their headings, merged, hidden and struck cells, and what was written to cells. */
async function readExtras(
  context: Context,
  asked: readonly Asked[],
  used: readonly Looked[],
): Promise<Extras[]> {
  const pending = asked.map(({ tables }) => ({
    tables: tables.items.map((table) => ({
      table,
      range: table.getRange().load("rowIndex,columnIndex,rowCount,columnCount"),
      head: table.getHeaderRowRange().load("values"),
    })),
  }));
  const written = askComments(used);
  await context.sync();
  const merged = await mergedIn(context, used);
  const hidden = await hiddenIn(context, used);
  const struck = await struckIn(context, used);
  const comments = await commentsIn(context, written);
  return pending.map(({ tables }, at) => ({
    tables: tables.map(({ table, range, head }): Table => ({
      name: table.name,
      area: areaOf(range),
      headings: (head.values[0] ?? []).map((value: unknown) => String(value)),
      totalsRow: table.showTotals,
    })),
    merges: merged[at] ?? [],
    hiddenRows: hidden[at]?.rows ?? new Set(),
    hiddenColumns: hidden[at]?.columns ?? new Set(),
    struck: struck[at] ?? new Set(),
    comments: comments[at] ?? new Map(),
  }));
}
