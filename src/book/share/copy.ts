import { type Day, isoText } from "../../core/day.ts";
import { columnsPlan } from "../columns/columns-plan.ts";
import { modeOf } from "../columns/mode.ts";
import { BookError } from "../workbook/errors.ts";
import type { ColumnCells, Edit, Plan } from "../workbook/plan.ts";
import { counted } from "../records/problems.ts";
import type { Reading } from "../records/records.ts";
import { resultEdits } from "../sheets/result.ts";
import { selfTestSheet } from "./self-test.ts";
import { readFirstEdits, readFirstName } from "./share-sheet.ts";
import { changeEdits, PURPOSES, readMeSheet } from "../sheets/read-me.ts";
import {
  address,
  cellKey,
  type CellValue,
  isCellError,
  type Sheet,
  sheetInFormula,
  type Snapshot,
  valueAt,
} from "../workbook/snapshot.ts";
import { callsUs } from "../workbook/calls.ts";

/** How a copy is wanted. */
export interface CopyRequest {
  /** Our columns and sheets hold values, no formulas at all. */
  readonly values: boolean;
  /** File name of the book. */
  readonly book: string;
  readonly today: Day;
}

/** A copy that needs no add-in, as a plan on the book it is made of. */
export interface Copy {
  readonly plan: Plan;
  /** How our columns stand in it; null where the register has none. */
  readonly columns: "portable" | "values" | null;
  /** Cells outside our columns that called the add-in and hold what they last showed. */
  readonly fixed: readonly string[];
  /** Those of them that showed an error, for the add-in had not answered. */
  readonly unanswered: readonly string[];
}

/**
 * The plan of a copy: our columns as native formulas or values, brought up to date; every other call of
 * the add-in as the value it last showed; a sheet that says what the copy is.
 *
 * Throws a BookError where a name calls the add-in: names hold no value that could stay.
 */
export function copyPlan(snapshot: Snapshot, reading: Reading, request: CopyRequest): Copy {
  refuseNames(snapshot);
  const mode = modeOf(snapshot, reading);
  const columns =
    mode === null ? null : request.values || mode === "values" ? "values" : "portable";
  const own = columns === null ? [] : columnEdits(snapshot, reading, { columns, request });
  const written = writtenCells(own);
  const sheets = snapshot.sheets.map((sheet) =>
    fixedCells(sheet, {
      all:
        request.values &&
        !reading.registers.some((register) => register.sheet === sheet.name) &&
        isOurs(sheet),
      written: written.get(sheet.name) ?? new Set(),
    }),
  );
  const fixed = sheets.flatMap(({ called }) => called);
  const unanswered = sheets.flatMap(({ failed }) => failed);
  const lines = statement(snapshot, reading, { request, columns, fixed, unanswered });
  const summary = `copy of ${request.book} as of ${isoText(reading.ours.settings.reportDate)}, without the add-in`;
  return {
    columns,
    fixed,
    unanswered,
    plan: {
      summary,
      edits: [
        ...own,
        ...sheets.flatMap(({ edit }) => (edit === null ? [] : [edit])),
        ...(columns === "portable" ? selfTestEdits(snapshot, reading) : []),
        ...readFirstEdits(snapshot, lines),
        ...readMeEdits(snapshot, { columns, line: `${isoText(request.today)}: ${summary}` }),
      ],
    },
  };
}

/** Computed results beside those of the native formulas, for whoever inherits the book. */
function selfTestEdits(snapshot: Snapshot, reading: Reading): Edit[] {
  const sheet = selfTestSheet(snapshot, reading);
  return sheet === null ? [] : resultEdits(snapshot, sheet);
}

function refuseNames({ names }: Snapshot): void {
  const calling = names.filter(({ refersTo }) => callsUs(refersTo)).map(({ name }) => name);
  if (calling.length === 0) return;
  throw new BookError(
    `No copy was made: it would need the add-in for the names ${calling.join(", ")}. Remove the add-in functions from them, then copy again.`,
  );
}

/** Our columns updated; what would be stated on Read me is stated in the copy itself. */
function columnEdits(
  snapshot: Snapshot,
  reading: Reading,
  { columns, request }: { readonly columns: "portable" | "values"; readonly request: CopyRequest },
): Edit[] {
  const { edits } = columnsPlan(snapshot, reading, {
    mode: columns,
    today: request.today,
    force: false,
  });
  const readMe = readMeSheet(snapshot)?.name;
  return edits.filter(
    (edit) => readMe === undefined || !("sheet" in edit) || edit.sheet !== readMe,
  );
}

/** Cells a plan writes, by sheet. */
function writtenCells(edits: readonly Edit[]): Map<string, Set<number>> {
  const cells = new Map<string, Set<number>>();
  for (const edit of edits) {
    if (edit.kind !== "fillCells") continue;
    const keys = cells.get(edit.sheet) ?? new Set<number>();
    cells.set(edit.sheet, keys);
    for (const { column, rows } of edit.blocks) {
      for (const row of rows) keys.add(cellKey(row, column));
    }
  }
  return cells;
}

function isOurs({ tables }: Sheet): boolean {
  return tables.some(({ name }) => /^spare/i.test(name));
}

interface Fixed {
  readonly edit: Edit | null;
  readonly called: readonly string[];
  readonly failed: readonly string[];
}

/** Formulas that call the add-in, or all where wanted, replaced by what the cells show. */
function fixedCells(
  sheet: Sheet,
  { all, written }: { readonly all: boolean; readonly written: ReadonlySet<number> },
): Fixed {
  const byColumn = new Map<number, { rows: number[]; values: CellValue[] }>();
  const called: string[] = [];
  const failed: string[] = [];
  for (const [key, text] of sheet.formulas) {
    const calls = callsUs(text);
    if ((!calls && !all) || written.has(key)) continue;
    const row = Math.floor(key / cellKey(1, 0));
    const column = key % cellKey(1, 0);
    const value = valueAt(sheet, row, column);
    const place = `${sheetInFormula(sheet.name)}!${address(row, column)}`;
    if (calls) called.push(place);
    if (calls && isCellError(value)) failed.push(place);
    const block = byColumn.get(column) ?? { rows: [], values: [] };
    byColumn.set(column, block);
    block.rows.push(row);
    block.values.push(value);
  }
  const blocks: ColumnCells[] = [...byColumn].map(([column, block]) => ({ column, ...block }));
  return {
    called,
    failed,
    edit:
      blocks.length === 0 ? null : { kind: "fillCells", sheet: sheet.name, blocks, expects: {} },
  };
}

interface Stated extends Omit<Copy, "plan"> {
  readonly request: CopyRequest;
}

const MOST_NAMED = 20;

function statement(
  snapshot: Snapshot,
  reading: Reading,
  { request, columns, fixed, unanswered }: Stated,
): (readonly [string, string])[] {
  const { settings } = reading.ours;
  const leftOut = reading.registers.reduce((sum, register) => sum + register.leftOut.length, 0);
  const names = snapshot.names.some(({ name }) => /^spare/i.test(name));
  return [
    [
      "What this is",
      `A copy of ${request.book} that works without any add-in, made on ${isoText(request.today)}. Every other sheet is as in the original workbook.`,
    ],
    [
      "As of",
      `Report date ${isoText(settings.reportDate)}; states and due dates are judged as of that day.`,
    ],
    ["Computed columns", COLUMNS_ARE[columns ?? "none"]],
    [
      "Values instead of calls",
      fixed.length === 0
        ? "No other cell called the add-in."
        : `Values replace the add-in calls in ${counted(fixed.length, "cell")}, as last shown: ${listed(fixed)}.`,
    ],
    ...(unanswered.length === 0
      ? []
      : [["No value", `The add-in had not answered in ${listed(unanswered)}.`] as const]),
    ...(names
      ? [
          [
            "Names",
            "The names beginning with Spare refer to cells of this workbook only; the formulas read settings through them.",
          ] as const,
        ]
      : []),
    [
      "Rows",
      `${counted(reading.devices.length, "device")}; ${counted(leftOut, "row")} of the register left out; ${counted(reading.problems.filter(({ severity }) => severity === "fault").length, "fault")} in the rows.`,
    ],
  ];
}

const COLUMNS_ARE = {
  portable:
    "Native formulas of the spreadsheet program: they follow when a date or a setting changes.",
  values: "Values: they do not follow when a date or a setting changes.",
  none: "The register has none.",
} as const;

function listed(places: readonly string[]): string {
  const more = places.length - MOST_NAMED;
  return `${places.slice(0, MOST_NAMED).join(", ")}${more > 0 ? ` and ${more} more` : ""}`;
}

/** A line on Read me, and its purpose where it spoke of another way the columns are written. */
function readMeEdits(
  snapshot: Snapshot,
  { columns, line }: { readonly columns: Copy["columns"]; readonly line: string },
): Edit[] {
  const sheet = readMeSheet(snapshot);
  if (sheet === null) return [];
  const purposes = new Set<CellValue>([PURPOSES.live, PURPOSES.portable, PURPOSES.values]);
  const row = sheet.values.findIndex((cells) => purposes.has(cells[1] ?? null));
  const wanted = columns === null ? null : PURPOSES[columns];
  const changed = wanted !== null && row >= 0 && valueAt(sheet, row, 1) !== wanted;
  const told = `${line}; see ${sheetInFormula(readFirstName(snapshot))}`;
  return [
    ...(changed
      ? [
          {
            kind: "fillCells" as const,
            sheet: sheet.name,
            blocks: [{ column: 1, rows: [row], values: [wanted] }],
            expects: {},
          },
        ]
      : []),
    ...changeEdits(sheet, told),
  ];
}
