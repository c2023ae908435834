import { DATE_SYSTEM_SHIFT, type Day, isoText } from "../../core/day.ts";
import { CAUTIONS } from "../records/cautions.ts";
import type { AddChart, ColumnCells, Edit } from "../workbook/plan.ts";
import {
  type CellValue,
  cellKey,
  type Sheet,
  type Snapshot,
  valueAt,
} from "../workbook/snapshot.ts";
import {
  findSheet,
  freeName,
  headingColumn,
  headingRow,
  type Layout,
  NOTE_LINES,
  NOTE_ROW,
  TITLE_ROW,
} from "./layout.ts";
import { chartRows, type TablePlace } from "./chart-place.ts";
import { keptRows } from "./kept-rows.ts";
import { makeSheet } from "./make-sheet.ts";
import { onPaper } from "./paper.ts";
import { type Head, headLines, tableWidth } from "./shape.ts";

/** A sheet of results, complete: it is made when missing and brought up to date when there. */
export interface Result {
  readonly layout: Layout;
  readonly reportDate: Day;
  /** What the sheet answers, in one line, such as how much is to be ordered now. */
  readonly answer?: string;
  /** What the reader must know, one sentence each; the first caution follows of itself. */
  readonly notes: readonly string[];
  /** Cells in the order of the layout's columns; dates as days, whatever the book's date system. */
  readonly rows: readonly (readonly CellValue[])[];
  /** Headings whose values tell a row again, so that what was typed into it stays with it. */
  readonly keys?: readonly string[];
  /** Charts above the table, redrawn with it. */
  readonly charts?: (place: TablePlace) => readonly AddChart[];
}

/** Where the table stands in a sheet that is made for it. */
export function newPlace(result: Result, sheet: string): TablePlace {
  const lines = headLines(headOf(result), result.layout.columns);
  const said = lines.filter((line) => line !== "").length;
  const chartsFrom = NOTE_ROW + Math.max(said, NOTE_LINES);
  // How many there are does not depend on where they stand.
  const { length } = result.charts?.({ sheet, headingRow: chartsFrom, chartsFrom }) ?? [];
  return { sheet, headingRow: NOTE_ROW + lines.length + chartRows(length), chartsFrom };
}

/** Where the table of a result stands in a book: in the sheet that is there, or in the one that is made. */
export function placeOf(snapshot: Snapshot, result: Result): TablePlace {
  const there = findSheet(snapshot, result.layout);
  return there === null ? newPlace(result, freeName(snapshot, result.layout.name)) : placeIn(there);
}

/** The edits that make a sheet of results, or change what differs in the one that is there. */
export function resultEdits(snapshot: Snapshot, result: Result): Edit[] {
  const { layout } = result;
  const rows = result.rows.map((row) => datedRow(layout, row, snapshot.dateSystem));
  const there = findSheet(snapshot, layout);
  if (there !== null) return refreshEdits(there, { ...result, rows });
  const place = placeOf(snapshot, result);
  const charts = result.charts?.(place) ?? [];
  const dressing = {
    ...headOf(result),
    footer: footerOf(result),
    characters: paperWidth(layout, charts),
    chartRows: chartRows(charts.length),
  };
  return [...makeSheet(layout, place.sheet, rows, dressing), ...charts];
}

/** What stands under the title: the answer, as of when, what it is, and the caution that goes with it. */
function headOf({ answer = "", reportDate, notes }: Result): Head {
  return { answer, notes: [`As of ${isoText(reportDate)}.`, ...notes, CAUTIONS.planningAid] };
}

/** Characters in a column of the usual width, which charts beside a table stand over. */
const USUAL_WIDTH = 9;

function paperWidth({ columns }: Layout, charts: readonly AddChart[]): number {
  const beside = Math.max(0, ...charts.map(({ at }) => at.lastColumn + 1 - columns.length));
  return tableWidth(columns) + beside * USUAL_WIDTH;
}

function footerOf({ reportDate }: Result): string {
  return `&L&A&CReport date ${isoText(reportDate)}&RPage &P of &N`;
}

/** Days counted as the book counts them, in the columns that show dates. */
function datedRow(
  layout: Layout,
  row: readonly CellValue[],
  system: Snapshot["dateSystem"],
): readonly CellValue[] {
  if (system === 1900) return row;
  return row.map((value, at) => {
    const format = layout.columns[at]?.format;
    const isDate = typeof format === "string" && format.includes("yy");
    return isDate && typeof value === "number" ? value - DATE_SYSTEM_SHIFT : value;
  });
}

function refreshEdits(sheet: Sheet, result: Result): Edit[] {
  const { layout } = result;
  const first = headingRow(sheet) + 1;
  const kept = keptRows(sheet, result);
  const table = sheet.tables.find(({ area }) => area.firstRow === headingRow(sheet));
  const last = Math.max(first + result.rows.length - 1, table?.area.lastRow ?? first);
  const blocks = layout.columns.flatMap(
    ({ heading, format, input, formula }, at): ColumnCells[] => {
      const column = headingColumn(sheet, heading);
      if (column === null) return [];
      const rows: number[] = [];
      const values: CellValue[] = [];
      for (let row = first; row <= last; row += 1) {
        const fresh = result.rows[row - first];
        // A formula of its own row stays; its value changes with what is typed.
        if (formula !== undefined && fresh && sheet.formulas.has(cellKey(row, column))) continue;
        const value = input === true && fresh ? (kept(fresh, at) ?? null) : (fresh?.[at] ?? null);
        if (value === valueAt(sheet, row, column)) continue;
        rows.push(row);
        values.push(value);
      }
      return rows.length === 0
        ? []
        : [
            {
              column,
              rows,
              values,
              ...(typeof format === "string" ? { format } : {}),
              ...(formula === undefined ? {} : { formula: { text: formula, live: false } }),
            },
          ];
    },
  );
  blocks.push(...titleBlocks(sheet, result));
  if (blocks.length === 0) return [];
  const edits: Edit[] = [
    { kind: "fillCells", sheet: sheet.name, blocks, expects: headingsOf(sheet, layout) },
  ];
  if (table !== undefined && last > table.area.lastRow) {
    const area = { ...table.area, lastRow: last };
    edits.push({ kind: "growTable", sheet: sheet.name, table: table.name, area, columns: [] });
  }
  // Charts point at rows and tell figures: both are new.
  const place = placeIn(sheet);
  const count = result.charts?.(place).length ?? 0;
  const isRoomy =
    place.chartsFrom !== null && place.headingRow - place.chartsFrom >= chartRows(count);
  const charts = result.charts?.(isRoomy ? place : { ...place, chartsFrom: null }) ?? [];
  edits.push(...charts.map((chart, nth) => ({ ...chart, nth })));
  const heading = { first: headingRow(sheet), last: headingRow(sheet) };
  edits.push(
    onPaper(sheet.name, paperWidth(layout, charts), {
      titleRows: heading,
      footer: footerOf(result),
    }),
  );
  return edits;
}

/** Where the table stands in a sheet that is there: more blank rows above it than people leave hold its charts. */
function placeIn(sheet: Sheet): TablePlace {
  const head = headingRow(sheet);
  let last = head - 1;
  while (last > NOTE_ROW && (valueAt(sheet, last, 0) ?? "") === "") last -= 1;
  const chartsFrom = Math.max(last + 1, NOTE_ROW + NOTE_LINES);
  const hasRoom = head - chartsFrom >= chartRows(1) - NOTE_LINES;
  return { sheet: sheet.name, headingRow: head, chartsFrom: hasRoom ? chartsFrom : null };
}

/** The title and the lines under it, where they are no longer true. */
function titleBlocks(sheet: Sheet, result: Result): ColumnCells[] {
  const { chartsFrom } = placeIn(sheet);
  const room = (chartsFrom ?? headingRow(sheet)) - NOTE_ROW;
  if (room < NOTE_LINES) return [];
  const lines = headLines(headOf(result), result.layout.columns, room);
  while (lines.length < room) lines.push("");
  const wanted = [
    [TITLE_ROW, result.layout.title] as const,
    ...lines.map((note, at) => [NOTE_ROW + at, note] as const),
  ];
  return wanted.flatMap(([row, text]) =>
    (valueAt(sheet, row, 0) ?? "") === text
      ? []
      : [{ column: 0, rows: [row], values: [text === "" ? null : text] }],
  );
}

function headingsOf(sheet: Sheet, layout: Layout) {
  return {
    headers: layout.columns.flatMap(({ heading }) => {
      const column = headingColumn(sheet, heading);
      const text = column === null ? null : valueAt(sheet, headingRow(sheet), column);
      return column !== null && typeof text === "string"
        ? [{ row: headingRow(sheet), column, text }]
        : [];
    }),
  };
}
