import { isoText, type Day } from "../../core/day.ts";
import { cellsOf, type Mode, ourColumns, type OurColumn } from "./columns.ts";
import { filterReach } from "./filter-reach.ts";
import { staleCells } from "./stale.ts";
import { fingerprint, isFiltered } from "../workbook/expect.ts";
import { EACH_COMPUTED } from "../answers/computed.ts";
import { nameEdits, type SheetNames } from "../sheets/names.ts";
import type { ColumnCells, Edit, Expectation, Plan } from "../workbook/plan.ts";
import type { ColumnMatch, Reading } from "../records/records.ts";
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
 * The plan that gives the register its computed columns, and the book our sheets where they are
 * missing. On a book that already has them, only what differs; nothing when nothing does.
 */
export function columnsPlan(snapshot: Snapshot, reading: Reading, request: ColumnsRequest): Plan {
  const sheet = sheetNamed(snapshot, reading.register.sheet);
  if (sheet === null) throw new Error(`register ${reading.register.sheet} is not in the snapshot`);
  const columns = ourColumns(snapshot, reading, request.mode);
  const added = columns.filter((column) => !column.there);
  refuseTaken(snapshot, columns);
  const remembered = withDateColumns(reading, added);
  const { names, edits: sheets } = sheetEdits(snapshot, remembered);
  const expects = expectationOf(sheet, reading);
  const tables = tableEdits(added, sheet, reading);
  const last = Math.max(...columns.map(({ column }) => column));
  const reach = filterReach(withGrown(sheet, tables), last, reading);
  const edits: Edit[] = [
    ...sheets,
    ...setupEdits(snapshot, remembered),
    ...nameEditsFor(snapshot, names, reading, request.mode),
    ...added.map((column) => addEdit(column, reading, expects)),
    ...fillEdits(
      staleCells(columns, sheet, { rows: reading.register.rows, force: request.force }),
      {
        sheet,
        expects,
      },
    ),
    ...tables,
    ...reach.edits,
    ...added.flatMap((column) => lookEdits(column, reading)),
  ];
  if (edits.length === 0) {
    return { summary: ["nothing to change", reach.told].filter(Boolean).join("; "), edits };
  }
  const readMe = readMeSheet(snapshot);
  const said = [
    summaryOf(added, edits, reading),
    readMe === null ? `sheet ${READ_ME}` : "",
    reach.told,
  ];
  const summary = said.filter((text) => text !== "").join("; ");
  const change = `${isoText(request.today)}: ${summary}`;
  edits.push(
    ...(readMe === null
      ? makeReadMe(freeName(snapshot, READ_ME), PURPOSES[request.mode], change)
      : changeEdits(readMe, change)),
  );
  return { summary, edits };
}

/** The reading with the date columns about to be added: Setup remembers them at once, not on the next run. */
function withDateColumns(reading: Reading, added: readonly OurColumn[]): Reading {
  const { register, ours } = reading;
  const matches = ours.parts.flatMap((part): ColumnMatch[] => {
    const found = added.find(({ title }) => title === lastDoneTitle(part));
    if (found === undefined) return [];
    const { column, title: heading } = found;
    return [{ field: `last:${part.code}`, column, heading, confidence: 1, by: "heading" }];
  });
  return { ...reading, register: { ...register, matches: [...register.matches, ...matches] } };
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

function expectationOf(sheet: Sheet, { register }: Reading): Expectation {
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

function addEdit(column: OurColumn, reading: Reading, expects: Expectation): Edit {
  const { register } = reading;
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
function tableEdits(added: readonly OurColumn[], sheet: Sheet, { register }: Reading): Edit[] {
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

function lookEdits(column: OurColumn, { register }: Reading): readonly Edit[] {
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

function summaryOf(added: readonly OurColumn[], edits: readonly Edit[], reading: Reading): string {
  const { register } = reading;
  const first = added[0];
  const last = added.at(-1);
  const parts: string[] = [];
  if (first && last) {
    const to = address(register.rows.at(-1) ?? register.headerRow, last.column);
    parts.push(
      `${count(added.length, "column")} for ${count(register.rows.length, "row")}, ` +
        `${register.sheet}!${address(register.headerRow, first.column)}:${to}`,
    );
  }
  const filled = edits.flatMap((edit) =>
    edit.kind === "fillCells" && edit.sheet === register.sheet ? edit.blocks : [],
  );
  const cells = filled.reduce((sum, block) => sum + block.rows.length, 0);
  if (cells > 0) parts.push(`${count(cells, "cell")} of ours updated`);
  const sheets = edits.flatMap((edit) => (edit.kind === "addSheet" ? [edit.sheet] : []));
  if (sheets.length > 0) parts.push(`new sheets ${sheets.join(", ")}`);
  return parts.length === 0 ? "settings updated" : parts.join("; ");
}

function count(number: number, noun: string): string {
  return `${number} ${noun}${number === 1 ? "" : "s"}`;
}

/** Why the register's sheet cannot be written to as it stands, or null. */
export function writeBar(sheet: Sheet): string | null {
  if (isFiltered(sheet)) {
    return `${sheet.name} is filtered; clear the filter first: nothing is written into a filtered block`;
  }
  return sheet.protected ? `${sheet.name} is protected; unprotect it first, or give --force` : null;
}
