import { EACH_COMPUTED } from "../answers/computed.ts";
import type { Register } from "../records/records.ts";
import { fingerprint } from "../workbook/expect.ts";
import type { ColumnCells, Edit, Expectation } from "../workbook/plan.ts";
import { type Area, type Sheet, valueAt } from "../workbook/snapshot.ts";
import type { RegisterColumns } from "./columns.ts";
import { type FilterReach, filterReach } from "./filter-reach.ts";
import { cellsOf, type OurColumn } from "./our-column.ts";
import { staleCells } from "./stale.ts";

/** Rows below the last device that rules and choices reach, for devices to come. */
const ROOM_BELOW = 500;

/** Characters; longer headings wrap. */
const WIDEST = 40;

/** The columns that are not there yet. */
export function addedIn(columns: readonly OurColumn[]): OurColumn[] {
  return columns.filter(({ there }) => !there);
}

/** What one register gains, and what is no longer as it should be there; told is what the summary must say of it. */
export function registerEdits(
  { reading, sheet, columns }: RegisterColumns,
  { force }: { readonly force: boolean },
): FilterReach {
  const { register } = reading;
  const added = addedIn(columns);
  const expects = expectationOf(sheet, register);
  const stale = staleCells(columns, sheet, { rows: register.rows, force });
  const tables = tableEdits(added, sheet, register);
  const last = Math.max(...columns.map(({ column }) => column));
  const reach = filterReach(withGrown(sheet, tables), last, register);
  const edits = [
    ...added.map((column) => addEdit(column, register, expects)),
    ...fillEdits(stale, { sheet, expects }),
    ...tables,
    ...reach.edits,
    ...added.flatMap((column) => lookEdits(column, register)),
  ];
  return { edits, told: reach.told };
}

function expectationOf(sheet: Sheet, register: Register): Expectation {
  const key = register.matches.find((match) => match.field === "device");
  const headers = register.matches.flatMap(({ column }) => {
    const text = valueAt(sheet, register.headerRow, column);
    return typeof text === "string" ? [{ row: register.headerRow, column, text }] : [];
  });
  return {
    headers,
    unfiltered: true,
    ...(key === undefined
      ? {}
      : {
          key: {
            column: key.column,
            rows: register.rows,
            fingerprint: fingerprint(register.rows.map((row) => valueAt(sheet, row, key.column))),
          },
        }),
  };
}

function addEdit(column: OurColumn, register: Register, expects: Expectation): Edit {
  const last = Math.max(register.headerRow, register.rows.at(-1) ?? 0);
  const empty = {
    firstRow: register.headerRow,
    firstColumn: column.column,
    lastRow: last,
    lastColumn: column.column,
  };
  return {
    kind: "addColumn",
    sheet: register.sheet,
    headerRow: register.headerRow,
    title: column.title,
    cells: cellsOf(column, register.rows, column.values),
    like: Math.max(...register.matches.map((match) => match.column)),
    width: widthOf(column),
    expects: { ...expects, empty },
  };
}

/** Wide enough for the heading on one line: the height of the user's heading row stays as it is. */
function widthOf({ width, title }: OurColumn): number {
  return Math.min(Math.max(width, title.length + 2), WIDEST);
}

function fillEdits(
  blocks: readonly ColumnCells[],
  { sheet, expects }: { readonly sheet: Sheet; readonly expects: Expectation },
): Edit[] {
  return blocks.length === 0 ? [] : [{ kind: "fillCells", sheet: sheet.name, blocks, expects }];
}

/** A table takes the new columns in when they touch its right edge. */
function tableEdits(added: readonly OurColumn[], sheet: Sheet, register: Register): Edit[] {
  const table = sheet.tables.find(({ area }) => area.firstRow === register.headerRow);
  const first = added[0];
  if (table === undefined || first?.column !== table.area.lastColumn + 1) return [];
  return [
    {
      kind: "growTable",
      sheet: sheet.name,
      table: table.name,
      area: { ...table.area, lastColumn: table.area.lastColumn + added.length },
      columns: added.map(({ title }) => ({ title })),
    },
  ];
}

/** The sheet with its tables as they will be. */
function withGrown(sheet: Sheet, edits: readonly Edit[]): Sheet {
  const grown = new Map(
    edits.flatMap((edit) => (edit.kind === "growTable" ? [[edit.table, edit.area] as const] : [])),
  );
  const tables = sheet.tables.map((one) => ({ ...one, area: grown.get(one.name) ?? one.area }));
  return { ...sheet, tables };
}

function lookEdits(column: OurColumn, register: Register): readonly Edit[] {
  const declared = EACH_COMPUTED.find(([key]) => key === column.computed)?.[1];
  const first = register.rows[0];
  const last = register.rows.at(-1);
  if (first === undefined || last === undefined) return [];
  const area: Area = {
    firstRow: first,
    firstColumn: column.column,
    lastRow: last + ROOM_BELOW,
    lastColumn: column.column,
  };
  return declared?.looks?.(register.sheet, area) ?? [];
}
