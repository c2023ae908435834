import { isoText, type Day } from "../../core/day.ts";
import { cellsOf, type Mode, ourColumns, type OurColumn, type RegisterColumns } from "./columns.ts";
import { type FilterReach, filterReach } from "./filter-reach.ts";
import { staleCells } from "./stale.ts";
import { fingerprint, isFiltered } from "../workbook/expect.ts";
import { EACH_COMPUTED } from "../answers/computed.ts";
import { nameEdits, type SheetNames } from "../sheets/names.ts";
import type { ColumnCells, Edit, Expectation, Plan } from "../workbook/plan.ts";
import type { ColumnMatch, Reading, Register } from "../records/records.ts";
import { setupEdits, sheetEdits } from "../sheets/sheets-plan.ts";
import { changeEdits, makeReadMe, PURPOSES, READ_ME, readMeSheet } from "../sheets/read-me.ts";
import {
  address,
  type Area,
  type Sheet,
  sheetNamed,
  type Snapshot,
  valueAt,
} from "../workbook/snapshot.ts";
import { BookError } from "../workbook/errors.ts";
import { lastDoneTitle } from "../answers/titles.ts";
import { findSheet, freeName } from "../sheets/layout.ts";
import { SETUP } from "../sheets/setup.ts";

/** How the columns are wanted. */
export interface ColumnsRequest {
  readonly mode: Mode;
  readonly today: Day;
  /** Write over constants that stand where our formulas were. */
  readonly force: boolean;
}

/** Rows below the last device that rules and choices reach, for devices to come. */
const ROOM_BELOW = 500;

/** Characters; longer headings wrap. */
const WIDEST = 40;

/**
 * The plan that gives each register its computed columns, and the book our sheets where they are
 * missing. On a book that already has them, only what differs; nothing when nothing does.
 */
export function columnsPlan(snapshot: Snapshot, reading: Reading, request: ColumnsRequest): Plan {
  const own = ourColumns(snapshot, reading, request.mode);
  for (const { columns } of own) refuseTaken(snapshot, columns);
  const remembered = { ...reading, registers: own.map(withDateColumns) };
  const { names, edits: sheets } = sheetEdits(snapshot, remembered);
  const edits: Edit[] = [
    ...sheets,
    ...setupEdits(snapshot, remembered),
    ...nameEditsFor(snapshot, names, reading, request.mode),
    ...own.flatMap((one) => registerEdits(one, request)),
  ];
  const torn = own.map((one) => reachOf(one).told).filter((text) => text !== "");
  if (edits.length === 0) return { summary: ["nothing to change", ...torn].join("; "), edits };
  const readMe = readMeSheet(snapshot);
  const said = [summaryOf(own, edits), readMe === null ? `sheet ${READ_ME}` : "", ...torn];
  const summary = said.filter((text) => text !== "").join("; ");
  const change = `${isoText(request.today)}: ${summary}`;
  edits.push(
    ...(readMe === null
      ? makeReadMe(freeName(snapshot, READ_ME), PURPOSES[request.mode], change)
      : changeEdits(readMe, change)),
  );
  return { summary, edits };
}

function addedIn(columns: readonly OurColumn[]): OurColumn[] {
  return columns.filter(({ there }) => !there);
}

/** What one register gains, and what is no longer as it should be there. */
function registerEdits(
  { reading, sheet, columns }: RegisterColumns,
  { force }: ColumnsRequest,
): Edit[] {
  const { register } = reading;
  const added = addedIn(columns);
  const expects = expectationOf(sheet, register);
  const stale = staleCells(columns, sheet, { rows: register.rows, force });
  return [
    ...added.map((column) => addEdit(column, register, expects)),
    ...fillEdits(stale, { sheet, expects }),
    ...tableEdits(added, sheet, register),
    ...reachOf({ reading, sheet, columns }).edits,
    ...added.flatMap((column) => lookEdits(column, register)),
  ];
}

/** What becomes of a filter or a table that ends left of the columns. */
function reachOf({ reading: { register }, sheet, columns }: RegisterColumns): FilterReach {
  const tables = tableEdits(addedIn(columns), sheet, register);
  const last = Math.max(...columns.map(({ column }) => column));
  return filterReach(withGrown(sheet, tables), last, register);
}

/** The register with the date columns about to be added: Setup remembers them at once, not on the next run. */
function withDateColumns({ reading, columns }: RegisterColumns): Register {
  const { register, ours } = reading;
  const added = addedIn(columns);
  const matches = ours.parts.flatMap((part): ColumnMatch[] => {
    const found = added.find(({ title }) => title === lastDoneTitle(part));
    if (found === undefined) return [];
    const { column, title: heading } = found;
    return [{ field: `last:${part.code}`, column, heading, confidence: 1, by: "heading" }];
  });
  return { ...register, matches: [...register.matches, ...matches] };
}

/** In a book that was never ours, a heading of ours is the user's own column. */
function refuseTaken(snapshot: Snapshot, columns: readonly OurColumn[]): void {
  const taken = columns.find((column) => column.there);
  if (taken === undefined || findSheet(snapshot, SETUP) !== null) return;
  throw new BookError(
    `The heading "${taken.title}" is one that Sparespan adds itself; rename your column first.`,
  );
}

function nameEditsFor(
  snapshot: Snapshot,
  names: SheetNames,
  { ours }: Reading,
  mode: Mode,
): Edit[] {
  return mode === "values" ? [] : nameEdits(snapshot, names, ours.parts);
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

function summaryOf(own: readonly RegisterColumns[], edits: readonly Edit[]): string {
  const parts = own.flatMap(addedText);
  const registers = new Set(own.map(({ sheet }) => sheet.name));
  const filled = edits.flatMap((edit) =>
    edit.kind === "fillCells" && registers.has(edit.sheet) ? edit.blocks : [],
  );
  const cells = filled.reduce((sum, block) => sum + block.rows.length, 0);
  if (cells > 0) parts.push(`${count(cells, "cell")} of ours updated`);
  const sheets = edits.flatMap((edit) => (edit.kind === "addSheet" ? [edit.sheet] : []));
  if (sheets.length > 0) parts.push(`new sheets ${sheets.join(", ")}`);
  return parts.length === 0 ? "settings updated" : parts.join("; ");
}

function addedText({ reading: { register }, columns }: RegisterColumns): string[] {
  const added = addedIn(columns);
  const first = added[0];
  const last = added.at(-1);
  if (first === undefined || last === undefined) return [];
  const to = address(register.rows.at(-1) ?? register.headerRow, last.column);
  return [
    `${count(added.length, "column")} for ${count(register.rows.length, "row")}, ` +
      `${register.sheet}!${address(register.headerRow, first.column)}:${to}`,
  ];
}

function count(number: number, noun: string): string {
  return `${number} ${noun}${number === 1 ? "" : "s"}`;
}

/** Why the registers cannot be written to as they stand, or null; a protected one can where that is forced. */
export function writeBar(
  snapshot: Snapshot,
  { registers }: Reading,
  { force }: Pick<ColumnsRequest, "force">,
): string | null {
  for (const register of registers) {
    const sheet = sheetNamed(snapshot, register.sheet);
    const bar = sheet === null ? null : barOf(sheet, force);
    if (bar !== null) return bar;
  }
  return null;
}

function barOf(sheet: Sheet, force: boolean): string | null {
  if (isFiltered(sheet)) {
    return `${sheet.name} is filtered; clear the filter first: nothing is written into a filtered block`;
  }
  return sheet.protected && !force
    ? `${sheet.name} is protected; unprotect it first, or give --force`
    : null;
}
