import { type Day, toSerial } from "../../core/day.ts";
import { commentsIn, doubtedDate, doubtOfDate } from "./doubted-cells.ts";
import { latestTick, notTicks, type Ticks } from "../reading/counts/month-marks.ts";
import { lastDoneTitle } from "../answers/titles.ts";
import type { PartRow } from "../reading/rows/part-rows.ts";
import { deviceKey } from "../records/device-key.ts";
import { counted, listed } from "../records/problems.ts";
import { partKey } from "../records/positions.ts";
import type { Device, Part } from "../records/records.ts";
import type { RegisterReading } from "../records/registers.ts";
import { freeName, type Layout } from "../sheets/layout.ts";
import { makeSheet } from "../sheets/make-sheet.ts";
import { REGISTER_HEADINGS, registerLayout } from "../sheets/new-register.ts";
import { isBlank, type Page, pageNamed, quoted, textOf } from "../workbook/cells.ts";
import type { Plan } from "../workbook/plan.ts";
import {
  address,
  cellKey,
  type CellValue,
  type Sheet,
  type Snapshot,
  valueAt,
} from "../workbook/snapshot.ts";

/** A register whose rows are parts, with the column of their last replacements; null where a log has them. */
export interface PartSource {
  readonly reading: RegisterReading;
  readonly rows: readonly PartRow[];
  readonly dates: number | null;
  /** Columns that name the part, and the side of it. */
  readonly naming: readonly number[];
  /** The months whose ticks are its replacements, and until when; null where a column or a log has the dates. */
  readonly ticks: Ticks | null;
}

/** A register made of the rows of parts of other sheets, which stay as they are. */
export interface ByDevice {
  readonly plan: Plan;
  /** Name of the new sheet. */
  readonly sheet: string;
  /** What of the rows was not taken, or only with care. */
  readonly told: readonly string[];
}

/** Fields whose cells are taken as they are, where the rows of a device agree. */
export const TAKEN = ["model", "serial", "commissioned", "status", "retiredOn"] as const;
/** Fields by which a device is out of service. */
const LEAVING = new Set(["status", "retiredOn"]);

/** A row of a part with the sheet it stands on. */
interface Placed extends PartRow, Omit<PartSource, "rows"> {
  readonly sheet: Sheet;
  readonly page: Page;
}

/**
 * A register with a row for each device, of one with a row for each part: cells as they are, so that what is to be
 * asked about them is asked of the new sheet. Where rows of a device disagree its cell stays blank; of several dates
 * of one part the earliest counts; a date that a formula gives may move, and is not taken. All that is told.
 */
export function byDevice(snapshot: Snapshot, sources: readonly PartSource[]): ByDevice {
  const rows = sources.flatMap((source) => placed(snapshot, source));
  const known = sources[0]?.reading.ours.parts ?? [];
  const named = known.flatMap((part) => unitsNamed(rows, part));
  const parts = named.length > 0 ? named : known;
  const layout = layoutFor(snapshot, parts);
  const told = [...strangers(rows), ...untaken(rows)];
  const table = [...grouped(rows).values()].map((group) => {
    const cells = new Map<string, CellValue>([
      ...ownCells(group, told),
      ...parts.map((part): [string, CellValue] => [lastDoneTitle(part), doneOf(group, part, told)]),
    ]);
    return layout.columns.map(({ heading }) => cells.get(heading) ?? null);
  });
  const sheet = freeName(snapshot, layout.name);
  const from = listed(sources.map(({ reading }) => reading.register.sheet));
  const summary = `sheet ${sheet} with ${counted(table.length, "device")}, made from the rows of ${from}`;
  return { plan: { summary, edits: makeSheet(layout, sheet, table) }, sheet, told };
}

/** What rows name of a part: the part, or each of its positions where one of them does. */
function unitsNamed(rows: readonly Placed[], { code }: Part): readonly Part[] {
  const named = new Map<string, Part>();
  for (const { part } of rows) if (part?.code === code) named.set(partKey(part), part);
  const units = [...named.values()];
  const pieces = units.filter(({ position }) => position !== undefined);
  return pieces.length === 0 ? units : pieces;
}

function layoutFor({ sheets }: Snapshot, parts: readonly Part[]): Layout {
  const layout = registerLayout(parts);
  const isTaken = sheets.some(({ tables }) =>
    tables.some(({ name }) => name.toLowerCase() === layout.table.toLowerCase()),
  );
  return isTaken ? { ...layout, table: "SpareDevices" } : layout;
}

function placed(snapshot: Snapshot, { rows, ...source }: PartSource): Placed[] {
  const page = pageNamed(snapshot, source.reading.register.sheet);
  return page === null ? [] : rows.map((row) => ({ ...row, ...source, page, sheet: page.sheet }));
}

function grouped(rows: readonly Placed[]): Map<string, Placed[]> {
  const groups = new Map<string, Placed[]>();
  for (const row of rows) {
    const key = deviceKey(row.device);
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [row]);
    else group.push(row);
  }
  return groups;
}

/** Rows whose text names no part: they stay where they are. */
function strangers(rows: readonly Placed[]): string[] {
  const said = new Set(rows.flatMap(({ part, said: text }) => (part === null && text ? text : [])));
  return said.size === 0
    ? []
    : [`Not taken, because no part on Parts has this name: ${listed([...said].map(quoted), 10)}.`];
}

/** Cells under months that are no ticks, or of months to come. */
function untaken(rows: readonly Placed[]): string[] {
  const cells = rows.flatMap(({ page, sheet, row, part, ticks }) =>
    ticks === null || part === null
      ? []
      : notTicks(page, row, ticks).map((column) => `${sheet.name}!${address(row, column)}`),
  );
  return cells.length === 0
    ? []
    : [
        `Not taken, because they are no plain ticks of a month up to the report date: ${listed(cells, 10)}.`,
      ];
}

/** What is said of the device itself, in the words of its rows. */
function ownCells(group: readonly Placed[], told: string[]): [string, CellValue][] {
  const device = group[0]?.device ?? "";
  const cellsOf = (field: string): CellValue[] => {
    const cells = group.map(({ reading, sheet, row }) => {
      const column = reading.register.matches.find((match) => match.field === field)?.column;
      return column === undefined ? null : valueAt(sheet, row, column);
    });
    // A device leaves by a word in each row that names it: one row alone may speak of its part.
    const isBare =
      LEAVING.has(field) && cells.some((cell, at) => isBlank(cell) && group[at]?.isNamed);
    const filled = cells.filter((cell) => !isBlank(cell));
    return [...new Set(isBare && filled.length > 0 ? [null, ...filled] : filled)];
  };
  const one = (heading: string, cells: readonly CellValue[]): [string, CellValue] => {
    if (cells.length > 1) {
      const said = cells.map((cell) => (cell === null ? "blank" : quoted(textOf(cell))));
      told.push(`${device}: its rows disagree on ${heading}, ${listed(said)}; it stays blank.`);
    }
    return [heading, cells.length === 1 ? (cells[0] ?? null) : null];
  };
  return [
    [REGISTER_HEADINGS.device, device],
    one(REGISTER_HEADINGS.site, sitesOf(group)),
    ...TAKEN.map((field) => one(REGISTER_HEADINGS[field], cellsOf(field))),
    [REGISTER_HEADINGS.note, notesOf(group, cellsOf("note")) || null],
  ];
}

/** The notes of a device, and what comments in its rows say: a remark there as here. */
function notesOf(group: readonly Placed[], notes: readonly CellValue[]): string {
  const comments = group.flatMap((row) => commentsIn(row.page, row.row, dateCell(row)));
  return [...notes.map(textOf), ...new Set(comments)].join("; ");
}

/** Where a row has the date of its part; null where a log or months have it. */
function dateCell({ row, dates, reading }: Placed): Parameters<typeof commentsIn>[2] {
  return dates === null ? null : { row, column: dates, headerRow: reading.register.headerRow };
}

/** The sites of a device as they were read: from a column, a title or the sheet. */
function sitesOf(group: readonly Placed[]): string[] {
  const key = deviceKey(group[0]?.device ?? "");
  const isOne = (device: Device): boolean => device.key === key && device.site !== "";
  const sites = group.flatMap(({ reading }) => reading.devices.filter(isOne));
  return [...new Set(sites.map(({ site }) => site))];
}

/** The rows of a device for a part, or for a position; a row that names the part alone is for each of its positions. */
function rowsOf(group: readonly Placed[], unit: Part): Placed[] {
  const { code } = unit;
  const keys = new Set([partKey(unit), code]);
  return group.filter(({ part }) => part?.code === code && keys.has(partKey(part)));
}

/** The last replacement of a part of a device, the earliest where several rows name it. */
function doneOf(group: readonly Placed[], part: Part, told: string[]): CellValue {
  const rows = rowsOf(group, part);
  const dated = rows.flatMap((row) => (row.dates === null ? [] : { ...row, dates: row.dates }));
  const moving = dated.filter(({ sheet, row, dates }) => sheet.formulas.has(cellKey(row, dates)));
  for (const { sheet, row, dates } of moving) {
    told.push(`${sheet.name}!${address(row, dates)} is a formula, which may move: type its date.`);
  }
  const ticked = rows.flatMap(({ page, row, ticks }) =>
    ticks === null ? [] : (latestTick(page, row, ticks) ?? []),
  );
  if (ticked.length > 0)
    return toSerial(Math.max(...ticked) as Day, rows[0]?.page.dateSystem ?? 1900);
  const cells = dated.map((row) => dateOf(row, told));
  if (moving.length > 0 || cells.length === 0) return null;
  if (cells.length === 1) return cells[0] ?? null;
  const about = `${group[0]?.device ?? ""}: ${part.name} is in several rows`;
  if (!cells.every((cell) => typeof cell === "number")) {
    told.push(`${about}, and not all have a date; no date was taken.`);
    return null;
  }
  told.push(`${about}; the earliest date was taken.`);
  return Math.min(...cells);
}

/** The date of a row as it stands; one in doubt as text with its doubt, so that it stays in doubt. */
function dateOf(row: Placed & { readonly dates: number }, told: string[]): CellValue {
  const { sheet, page, dates, reading } = row;
  const cell = { row: row.row, column: dates, headerRow: reading.register.headerRow };
  const doubt = doubtOfDate(page, cell);
  if (doubt === null) return valueAt(sheet, row.row, dates);
  told.push(
    `${sheet.name}!${address(row.row, dates)} is in doubt (${doubt}): its date stands as text until you type the one that holds.`,
  );
  return doubtedDate(page, cell, doubt);
}
