import { DATE_SYSTEM_SHIFT, type Day, toSerial } from "../../core/day.ts";
import { type RowFacts } from "../answers/answers.ts";
import { countedFrom } from "../answers/counted-from.ts";
import { type DateDoubt, doubtfulDates, doubtsByDevice, swappedRows } from "./date-doubts.ts";
import { openFindings } from "./findings.ts";
import { type OwnColumns, ownColumns, ownLimits } from "./own-limits.ts";
import type { Doubt } from "../records/problem-kinds.ts";
import { earliest, lastColumns, partKey, positionsMissing } from "../records/positions.ts";
import type { Device, LastDone, Part } from "../records/records.ts";
import type { RegisterReading } from "../records/registers.ts";
import {
  cellAt,
  type CellValue,
  type Sheet,
  sheetNamed,
  type Snapshot,
  valueAt,
} from "../workbook/snapshot.ts";
import { eachOf, ROWS_A_STEP, type Steps } from "../workbook/steps.ts";
import { type Usage, usageOf } from "./usage.ts";
import { countsUses } from "../reading/counts/count-units.ts";
import { hasLeftBy, saysRetired } from "../records/retired-words.ts";
import { damageInCell } from "../records/finding-words.ts";
import { remembering } from "../records/remembering.ts";
import { judgedOn } from "../records/settings.ts";

/** What all computed columns need to know of a register. */
export interface Facts {
  readonly reading: RegisterReading;
  readonly sheet: Sheet;
  readonly columns: {
    readonly uses: number | null;
    readonly status: number | null;
    readonly retiredOn: number | null;
    readonly site: number | null;
  };
  /** First column right of everything in the sheet. */
  readonly firstFree: number;
  /** Usage of each device row, null when the book has no counts. */
  readonly usage: readonly Usage[] | null;
  /** Whether each device has left, and how its site wipes. */
  readonly retired: readonly boolean[];
  readonly wipes: readonly string[];
  /** Dates and limits that are not to be trusted. */
  readonly dateDoubts: readonly DateDoubt[];
  readonly columnTitled: (title: string) => number | null;
  readonly columnFor: (field: string) => number | null;
  readonly serial: (date: Day | null) => number | null;
  /** A cell as the computed columns see it: dates counted as in 1900 books. */
  readonly dated: (row: number, column: number) => CellValue;
}

/** What one part's columns need besides. */
export interface PartFacts {
  /** The one column of the register that has it. */
  readonly lastDoneColumn: number | null;
  /** Its columns where the earliest of several counts, one for each position. */
  readonly positions: readonly number[];
  /** How many of those there should be: one for a position may be missing. */
  readonly positionsDue: number;
  /** By device, the date in the register and what the logs say beside it. */
  readonly beside: readonly (LastDone | undefined)[];
  /** The register's own due dates and intervals. */
  readonly own: OwnColumns;
  readonly findingColumn: number | null;
  readonly findings: readonly (string | null)[];
  readonly doubts: readonly (Doubt | null)[];
  readonly rows: readonly RowFacts[];
}

const NO_USAGE: Usage = { uses: null, least: null, few: null, countedTo: null };

/** A register's facts, gathered once. */
export function registerFacts(snapshot: Snapshot, reading: RegisterReading): Facts {
  const { register, devices, counts, ours } = reading;
  const sheet = sheetNamed(snapshot, register.sheet);
  if (sheet === null) throw new Error(`register ${register.sheet} is not in the snapshot`);
  const fields = new Map(register.matches.map((match) => [match.field, match.column]));
  const columnFor = (field: string): number | null => fields.get(field) ?? null;
  const usage = usageOf(counts, ours.settings);
  const shift = snapshot.dateSystem === 1904 ? DATE_SYSTEM_SHIFT : 0;
  const columns = {
    uses: usesColumn(reading),
    status: columnFor("status"),
    retiredOn: columnFor("retiredOn"),
    site: columnFor("site"),
  };
  const dated = (row: number, column: number): CellValue => {
    const value = valueAt(sheet, row, column);
    return typeof value === "number" ? value + shift : value;
  };
  const isRetired = retiring({ sheet, columns, dated, reading });
  const wipes = wipesOf(reading);
  return {
    reading,
    sheet,
    columns,
    firstFree: firstFreeColumn(sheet),
    usage: counts.length === 0 ? null : devices.map((device) => usage.get(device.key) ?? NO_USAGE),
    retired: devices.map(isRetired),
    wipes: devices.map(({ row }) =>
      columns.site === null ? "" : wipes(valueAt(sheet, row, columns.site)),
    ),
    dateDoubts: doubtfulDates(reading),
    columnTitled: (title) => titledColumn(sheet, register.headerRow, title),
    columnFor,
    serial: (date) => (date === null ? null : toSerial(date, snapshot.dateSystem)),
    dated,
  };
}

/** The register's own usage, unless it counts something less than uses a month: that would lengthen intervals. */
function usesColumn({ register }: RegisterReading): number | null {
  const uses = register.matches.find(({ field }) => field === "uses");
  return uses === undefined || !countsUses(uses) ? null : uses.column;
}

function titledColumn(sheet: Sheet, headerRow: number, title: string): number | null {
  const found = (sheet.values[headerRow] ?? []).findIndex((value) => value === title);
  return found < 0 ? null : found;
}

function firstFreeColumn(sheet: Sheet): number {
  let free = 0;
  for (const row of sheet.values) {
    let last = row.length;
    while (last > free && (row[last - 1] ?? null) === null) last -= 1;
    if (last > free) free = last;
  }
  // A formula that has not been calculated yet has no value.
  for (const key of sheet.formulas.keys()) free = Math.max(free, cellAt(key).column + 1);
  return Math.max(free, ...sheet.tables.map((table) => table.area.lastColumn + 1));
}

/** The facts of one part, row by row, in steps. */
export function* partFacts(facts: Facts, part: Part): Steps<PartFacts> {
  const { reading } = facts;
  const { devices } = reading;
  const dated = lastColumns(reading.register, part).map(({ column }) => column);
  const missing = positionsMissing(reading.register, part);
  const positions = dated.length + missing > 1 ? dated : [];
  const lastDoneColumn = positions.length > 0 ? null : (dated[0] ?? null);
  const findingColumn = facts.columnFor(`finding:${part.code}`);
  // Every device of a register has its parts in the same order.
  const place = (devices[0]?.lastDone ?? []).findIndex((done) => done.part === partKey(part));
  const beside = devices.map(({ lastDone }) => lastDone[place]);
  const reportDate = judgedOn(reading.ours.settings);
  const lastDone = devices.map((device, at): CellValue => {
    if (positions.length > 0) {
      return missing > 0 ? null : earliest(positions.map((one) => numberAt(facts, device, one)));
    }
    const done = beside[at];
    if (lastDoneColumn === null || done?.fills === true) return done?.date ?? null;
    return countedFrom(facts.dated(device.row, lastDoneColumn), done?.logged ?? null, reportDate);
  });
  const own = ownColumns(part, reading.register.headings, facts.columnFor);
  const limits = [own.due, own.months?.column ?? null].filter((column) => column !== null);
  const columns = [...dated, ...limits];
  const doubts = doubtsByDevice(devices, part, { all: facts.dateDoubts, columns });
  const swapped = swappedRows(facts.dateDoubts, own.due);
  const findings = openFindings(facts.reading, part, { lastDone, doubts });
  yield;
  const damage = remembering(damageInCell);
  const rowFacts = (device: Device, at: number): RowFacts => {
    const { row } = device;
    const { uses, countedTo } = usageFacts(facts, part, device, at);
    const found = findingColumn === null ? null : valueAt(facts.sheet, row, findingColumn);
    const last = lastDone[at] ?? null;
    const doubt = doubts[at] ?? null;
    return {
      lastDone: last,
      uses,
      countedTo,
      finding: damage(found) ?? findings[at] ?? null,
      // A retirement that the book contradicts does not count until a person has settled it.
      retired: doubt === null && facts.retired[at] === true,
      doubt,
      wipes: facts.wipes[at] ?? "",
      own: ownLimits(own, last, {
        plain: (column) => valueAt(facts.sheet, row, column),
        dated: (column) => facts.dated(row, column),
        isSwapped: swapped.has(row),
      }),
    };
  };
  return {
    lastDoneColumn,
    positions,
    positionsDue: positions.length + missing,
    beside,
    own,
    findingColumn,
    findings,
    doubts,
    rows: yield* eachOf(devices, rowFacts, ROWS_A_STEP),
  };
}

function numberAt(facts: Facts, { row }: Device, column: number): number | null {
  const value = facts.dated(row, column);
  return typeof value === "number" ? value : null;
}

function usageFacts(
  facts: Facts,
  part: Part,
  device: Device,
  at: number,
): Pick<RowFacts, "uses" | "countedTo"> {
  const usage = facts.usage?.[at];
  if (usage !== undefined && !part.task) return usage;
  const { uses } = facts.columns;
  return {
    uses: uses === null ? null : valueAt(facts.sheet, device.row, uses),
    countedTo: undefined,
  };
}

/** The same test as the formulas': status words by their text, dates by the report date. */
function retiring({
  sheet,
  columns,
  reading,
  dated,
}: Pick<Facts, "sheet" | "columns" | "reading" | "dated">): (device: Device) => boolean {
  const reportDate = judgedOn(reading.ours.settings);
  const hasLeft = remembering(saysRetired);
  return ({ row }) => {
    if (columns.status !== null && hasLeft(valueAt(sheet, row, columns.status))) return true;
    const on = columns.retiredOn === null ? null : dated(row, columns.retiredOn);
    return typeof on === "number" && hasLeftBy(on, reportDate);
  };
}

/** How the site that a cell names wipes. */
function wipesOf({ ours }: RegisterReading): (site: CellValue) => string {
  const wipes = new Map(
    [...ours.sites].reverse().map((site) => [siteKey(site.code, site.numeric), site.wipes]),
  );
  return remembering((site) =>
    typeof site === "string" || typeof site === "number"
      ? (wipes.get(siteKey(String(site), typeof site === "number")) ?? "")
      : "",
  );
}

/** A number and the same digits as text are two sites to a spreadsheet. */
function siteKey(code: string, numeric: boolean): string {
  return `${numeric ? "number" : "text"} ${code.toLowerCase()}`;
}
