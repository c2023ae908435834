import { isPosition } from "../records/positions.ts";
import { registerKey } from "../records/registers.ts";
import { toSerial } from "../../core/day.ts";
import type { SheetNames } from "./names.ts";
import type { ColumnCells, Edit } from "../workbook/plan.ts";
import type { Reading, Site } from "../records/records.ts";
import { HOLIDAYS } from "./holidays.ts";
import { findSheet, freeName, headingColumn, headingRow, type Layout, textOf } from "./layout.ts";
import { readRows } from "./our-rows.ts";
import { makeSheet } from "./make-sheet.ts";
import { partRows, PARTS } from "./parts.ts";
import { matchLabel, SETUP } from "./setup.ts";
import { matchRow, setupRows } from "./setup-rows.ts";
import { SHELF } from "./shelf.ts";
import { bareSite, siteRows, SITES } from "./sites.ts";
import { JOB_LOG } from "./job-log.ts";
import { siteOf } from "../records/site-names.ts";
import {
  cellKey,
  type CellValue,
  type Sheet,
  type Snapshot,
  valueAt,
} from "../workbook/snapshot.ts";
import { type Settings, SETTINGS, defaultSettings, eachSetting } from "../records/settings.ts";

/** Our sheets the book does not have yet, and what each of ours is called in it. */
export function sheetEdits(
  snapshot: Snapshot,
  reading: Reading,
): { readonly names: SheetNames; readonly edits: readonly Edit[] } {
  const edits: Edit[] = [];
  const place = (layout: Layout, rows: () => CellValue[][]): string => {
    const there = findSheet(snapshot, layout);
    if (there) return there.name;
    const name = freeName(snapshot, layout.name);
    edits.push(...makeSheet(layout, name, rows()));
    return name;
  };
  const { parts } = reading.ours;
  const names = {
    setup: place(SETUP, () =>
      setupRows({ ...usualSettings(reading), matches: remembered(reading) }, snapshot),
    ),
    parts: place(PARTS, () => partRows(parts)),
    sites: place(SITES, () => siteRows(sitesOf(reading))),
    holidays: place(HOLIDAYS, () => []),
  };
  place(JOB_LOG, () => []);
  place(SHELF, () => shelfRows(reading));
  edits.push(...newColumns(snapshot, PARTS), ...newColumns(snapshot, SITES));
  return { names, edits };
}

/** What Setup holds unless something else is set: what is given for one run only is not kept there. */
function usualSettings({ ours }: Reading): Settings {
  return defaultSettings(ours.settings.reportDate);
}

/** A row for every wearing part at every site, still to be counted. */
function shelfRows(reading: Reading): CellValue[][] {
  const parts = reading.ours.parts.filter(({ task }) => !task);
  const sites = sitesOf(reading);
  const each = sites.filter(({ code }) => siteOf(sites, code) === code.trim());
  return each.flatMap((site) =>
    parts.map((part) => [part.code, site.numeric ? Number(site.code) : site.code]),
  );
}

/** Columns a sheet of ours has gained since it was made; they start blank, which means their default. */
function newColumns(snapshot: Snapshot, layout: Layout): Edit[] {
  const sheet = findSheet(snapshot, layout);
  if (sheet === null) return [];
  const missing = layout.columns.filter(({ heading }) => headingColumn(sheet, heading) === null);
  // Only what is wholly new: a heading that was renamed is for people to put back.
  const table = sheet.tables.find(({ area }) => area.firstRow === headingRow(sheet));
  if (missing.length === 0 || table === undefined) return [];
  const first = table.area.lastColumn + 1;
  const edits: Edit[] = missing.map(({ heading, width }, at) => ({
    kind: "addColumn",
    sheet: sheet.name,
    headerRow: headingRow(sheet),
    title: heading,
    cells: { column: first + at, rows: [], values: [] },
    like: table.area.lastColumn,
    width: Math.max(width, heading.length + 3),
    expects: {},
  }));
  const area = { ...table.area, lastColumn: table.area.lastColumn + missing.length };
  const columns = missing.map(({ heading }) => ({ title: heading }));
  edits.push({ kind: "growTable", sheet: sheet.name, table: table.name, area, columns });
  return edits;
}

/**
 * What Setup should remember of where the registers and their columns are. A column that the registers
 * call differently is found by its heading in each, and so are those of a part's positions.
 */
function remembered({ registers, ours }: Reading): ReadonlyMap<string, string> {
  const [first, ...others] = registers;
  const shared = first?.matches.filter(
    ({ field, heading }) =>
      !isPosition(field) &&
      others.every(({ matches }) =>
        matches.every((match) => (match.field === field) === (match.heading === heading)),
      ),
  );
  return new Map([
    ...ours.settings.matches,
    ...registers.map(({ sheet }, at) => [registerKey(at), sheet] as const),
    ...(shared ?? []).map(({ field, heading }) => [`column ${field}`, heading] as const),
  ]);
}

function sitesOf({ devices, ours }: Reading): readonly Site[] {
  if (ours.sites.length > 0) return ours.sites;
  const codes = [...new Set(devices.map((device) => device.site).filter((site) => site !== ""))];
  return codes.sort().map(bareSite);
}

/** Brings an existing Setup up to date: the report date, blanks that formulas read, remembered choices. */
export function setupEdits(snapshot: Snapshot, reading: Reading): Edit[] {
  const sheet = findSheet(snapshot, SETUP);
  if (sheet === null) return [];
  const rows = rowsByLabel(sheet);
  const usual = setupRows(usualSettings(reading), snapshot);
  const wanted = new Map<string, CellValue>([
    ...blanksRead(rows, usual),
    [SETTINGS.reportDate.label, toSerial(reading.ours.settings.reportDate, snapshot.dateSystem)],
    ...[...remembered(reading)].map(([key, value]) => [matchLabel(key), value] as const),
  ]);
  const changed: [number, CellValue][] = [];
  // Settings that came after this Setup was made; one that was lost stays in doubt until people write it again.
  const fresh: (readonly CellValue[])[] = usual.filter(
    ([label]) => LATER.has(textOf(label)) && !rows.has(textOf(label).toLowerCase()),
  );
  for (const [label, value] of wanted) {
    const there = rows.get(label.toLowerCase());
    if (there === undefined) {
      if (label !== SETTINGS.reportDate.label) fresh.push(matchRow(label, textOf(value)));
    } else if (textOf(there.value) !== textOf(value)) changed.push([there.row, value]);
  }
  return [...changedEdit(sheet, changed), ...freshEdits(sheet, fresh)];
}

interface SettingRow {
  readonly row: number;
  readonly value: CellValue;
  /** A formula that has not been calculated yet has no value, but is not blank. */
  readonly isFormula: boolean;
}

function rowsByLabel(sheet: Sheet): ReadonlyMap<string, SettingRow> {
  const column = headingColumn(sheet, "Value");
  return new Map(
    readRows(sheet, SETUP).map(({ row, values }) => [
      textOf(values.get("Setting")).toLowerCase(),
      {
        row,
        value: values.get("Value") ?? null,
        isFormula: column !== null && sheet.formulas.has(cellKey(row, column)),
      },
    ]),
  );
}

/** A blank means the default, but a formula would read it as 0: the default is written down. */
function blanksRead(
  rows: ReadonlyMap<string, SettingRow>,
  usual: readonly (readonly CellValue[])[],
): [string, CellValue][] {
  return usual.flatMap(([name, value = null]): [string, CellValue][] => {
    const label = textOf(name);
    const there = rows.get(label.toLowerCase());
    const isBlank = there?.value === null && !there.isFormula;
    return isBlank && READ_LABELS.has(label) ? [[label, value]] : [];
  });
}

const READ_LABELS: ReadonlySet<string> = new Set(
  eachSetting().flatMap(([, { label, name }]) => (name === undefined ? [] : label)),
);

const LATER: ReadonlySet<string> = new Set(
  eachSetting().flatMap(([, { label, later }]) => (later === true ? label : [])),
);

function changedEdit(sheet: Sheet, changed: readonly (readonly [number, CellValue])[]): Edit[] {
  if (changed.length === 0) return [];
  const block: ColumnCells = {
    column: 1,
    rows: changed.map(([row]) => row),
    values: changed.map(([, value]) => value),
  };
  return [{ kind: "fillCells", sheet: sheet.name, blocks: [block], expects: setupHeadings(sheet) }];
}

function freshEdits(sheet: Sheet, fresh: readonly (readonly CellValue[])[]): Edit[] {
  if (fresh.length === 0) return [];
  let first = headingRow(sheet) + 1;
  while ((valueAt(sheet, first, 0) ?? "") !== "") first += 1;
  const rows = fresh.map((_, at) => first + at);
  const blocks = SETUP.columns.map((_, column) => ({
    column,
    rows,
    values: fresh.map((values) => values[column] ?? null),
  }));
  const table = sheet.tables.find(({ area }) => area.firstRow === headingRow(sheet));
  const edits: Edit[] = [
    { kind: "fillCells", sheet: sheet.name, blocks, expects: setupHeadings(sheet) },
  ];
  if (table && table.area.lastRow < (rows.at(-1) ?? 0)) {
    const area = { ...table.area, lastRow: rows.at(-1) ?? table.area.lastRow };
    edits.push({ kind: "growTable", sheet: sheet.name, table: table.name, area, columns: [] });
  }
  return edits;
}

function setupHeadings(sheet: Sheet) {
  const headers = SETUP.columns.flatMap(({ heading }, column) =>
    valueAt(sheet, headingRow(sheet), column) === heading
      ? [{ row: headingRow(sheet), column, text: heading }]
      : [],
  );
  return { headers };
}
