import { deviceKey } from "../records/device-key.ts";
import { type Day, fromSerial, isoText, monthStart } from "../../core/day.ts";
import { identifierAt, isBlank, type Page, quoted } from "../workbook/cells.ts";
import {
  countedTwice,
  countFault,
  futureMonth,
  headingText,
  noMonth,
  wholeShift,
} from "./count-faults.ts";
import type { CountSheet } from "./count-sheets.ts";
import { type DateText, readDateText } from "../headings/dates.ts";
import { missingDevice, type Named } from "./devices.ts";
import { type MonthColumn, monthMeant, monthShift, orderOfFirsts } from "../headings/months.ts";
import { type CellPlace, fault } from "../records/problems.ts";
import type { Count, Problem } from "../records/records.ts";
import { NO_DEVICE, sortRows } from "./rows.ts";
import type { CellValue } from "../workbook/snapshot.ts";

/** All counts of the book by device key. */
export interface Counted {
  readonly byDevice: ReadonlyMap<string, readonly Count[]>;
  readonly problems: readonly Problem[];
}

interface Tally {
  readonly byKey: ReadonlyMap<string, Named>;
  readonly reportDate: Day;
  readonly byDevice: Map<string, Count[]>;
  readonly unknown: Set<string>;
  readonly problems: Problem[];
  /** Counts that took the place of an earlier entry for the same month. */
  readonly replaced: Set<Count>;
}

/** Reads the counts of one or more sheets; the later entry for a device and month replaces. */
export function readCounts(
  sheets: readonly CountSheet[],
  byKey: ReadonlyMap<string, Named>,
  reportDate: Day,
): Counted {
  const tally: Tally = {
    byKey,
    reportDate,
    byDevice: new Map(),
    unknown: new Set(),
    problems: [],
    replaced: new Set(),
  };
  for (const sheet of sheets) {
    tally.unknown.clear();
    if (sheet.shape === "wide") readWide(tally, sheet);
    else readLong(tally, sheet);
  }
  return tally;
}

/** The counts of all devices in one list. */
export function allCounts({ byDevice }: Counted): Count[] {
  const counts: Count[] = [];
  for (const own of byDevice.values()) for (const count of own) counts.push(count);
  return counts;
}

/** The rows of a sheet of counts that name a device; the others are reported. */
function deviceRows(
  tally: Tally,
  { page, heading, lastRow, device }: CountSheet,
): readonly number[] {
  const columns = new Map([["device", device]]);
  const sorted = sortRows(page, heading, { lastRow, columns });
  // A last row of totals is how such sheets are kept; one inside the data is worth a word.
  for (const problem of sorted.problems) if (problem.row !== lastRow) tally.problems.push(problem);
  for (const { row, reason } of sorted.leftOut) {
    if (reason !== NO_DEVICE) continue;
    const name = heading.texts[device] ?? "";
    const place = { sheet: page.sheet.name, row, column: device, heading: name };
    tally.problems.push(missingDevice(page, place));
  }
  return sorted.rows;
}

function readWide(tally: Tally, sheet: Extract<CountSheet, { shape: "wide" }>): void {
  const { page, heading, months } = sheet;
  const shift = monthShift(
    months.map(({ date }) => date),
    tally.reportDate,
  );
  const example = months[0]?.date;
  if (shift !== null && example !== undefined) {
    tally.problems.push(wholeShift(page, example, shift));
    return;
  }
  const columns = months.map(({ column, date }) => ({
    column,
    date: monthStart(date),
    title: headingText(heading.texts[column], monthStart(date)),
  }));
  const future = new Set<number>();
  const twice = new Set(columns.map(({ date }) => date)).size < columns.length;
  for (const row of deviceRows(tally, sheet)) {
    readWideRow(tally, sheet, row, { columns, twice, future });
  }
  tally.problems.push(...futureColumns(sheet, columns, future));
}

interface Months {
  readonly columns: readonly (MonthColumn & { readonly title: string })[];
  /** Whether two columns are the same month. */
  readonly twice: boolean;
  /** Columns of months after the report date that hold something. */
  readonly future: Set<number>;
}

function readWideRow(tally: Tally, sheet: CountSheet, row: number, months: Months): void {
  const { page, heading, device } = sheet;
  const id = deviceOf(tally, { page, row, column: device, heading });
  const seen = months.twice || tally.byDevice.has(id.key);
  const own = ownList(tally, id.key);
  const cells = page.sheet.values[row] ?? [];
  const name = page.sheet.name;
  const doubled: string[] = [];
  for (const { column, date, title } of months.columns) {
    const value = cells[column] ?? null;
    if (!seen && isPlain(value) && date <= tally.reportDate) {
      // Nearly every cell of a large book goes this way.
      own.push({
        device: id.name,
        deviceKey: id.key,
        month: date,
        count: value,
        faulty: false,
        sheet: name,
        row,
        column,
      });
      continue;
    }
    if (date > tally.reportDate && !isBlank(value)) months.future.add(column);
    const place = { sheet: name, row, column, heading: title };
    if (add(tally, { id, month: date, value, place, seen })) doubled.push(title);
  }
  if (doubled.length > 0) tally.problems.push(countedTwice(page, row, id.name, doubled));
}

function futureColumns(
  { page }: CountSheet,
  columns: Months["columns"],
  future: ReadonlySet<number>,
): Problem[] {
  return columns
    .filter(({ column }) => future.has(column))
    .map(({ column, date, title }) =>
      futureMonth({ sheet: page.sheet.name, row: null, column, heading: title }, date),
    );
}

function readLong(tally: Tally, sheet: Extract<CountSheet, { shape: "long" }>): void {
  const { page, heading, device, month, count } = sheet;
  const rows = deviceRows(tally, sheet);
  const texts = rows.map((row) => monthText(page, row, month));
  const order = orderOfFirsts(texts);
  const dates = rows.map((row) => monthDate(page, row, month));
  const shift = monthShift(
    dates.filter((date) => date !== null),
    tally.reportDate,
  );
  const example = dates.find((date) => date !== null) ?? null;
  const shifted = shift !== null && example !== null;
  if (shifted) tally.problems.push(wholeShift(page, example, shift));
  const name = heading.texts[month] ?? "";
  const counted = heading.texts[count] ?? "";
  rows.forEach((row, at) => {
    const text = texts[at] ?? null;
    const date = dates[at] ?? (text === null ? null : monthMeant(text, order));
    if (shifted && (dates[at] ?? null) !== null) return;
    const id = deviceOf(tally, { page, row, column: device, heading });
    const place = { sheet: page.sheet.name, row, column: count, heading: counted };
    const value = page.sheet.values[row]?.[count] ?? null;
    if (date === null) {
      tally.problems.push(noMonth(page, { ...place, column: month, heading: name }, row));
      return;
    }
    const start = monthStart(date);
    if (start > tally.reportDate && !isBlank(value)) {
      tally.problems.push(futureMonth({ ...place, column: month, heading: name }, start));
    }
    if (add(tally, { id, month: start, value, place, seen: true })) {
      tally.problems.push(countedTwice(page, row, id.name, [isoText(start).slice(0, 7)]));
    }
  });
}

function monthDate(page: Page, row: number, column: number): Day | null {
  const value = page.sheet.values[row]?.[column] ?? null;
  return typeof value === "number" ? fromSerial(value, page.dateSystem) : null;
}

function monthText(page: Page, row: number, column: number): DateText | null {
  const value = page.sheet.values[row]?.[column] ?? null;
  return typeof value === "string" ? readDateText(value) : null;
}

interface Identified {
  readonly key: string;
  /** As the register writes it. */
  readonly name: string;
}

interface Cell {
  readonly page: Page;
  readonly row: number;
  readonly column: number;
  readonly heading: CountSheet["heading"];
}

/** The device of a row; one the register does not know is reported once per sheet. */
function deviceOf(tally: Tally, { page, row, column, heading }: Cell): Identified {
  const written = identifierAt(page, row, column);
  const key = deviceKey(written);
  const device = tally.byKey.get(key);
  if (device === undefined && !tally.unknown.has(key)) {
    tally.unknown.add(key);
    const place = { sheet: page.sheet.name, row, column, heading: heading.texts[column] ?? "" };
    const cause = `${quoted(written)} is not in the register.`;
    const fix = "Write the device as it is in the register, or add it there.";
    tally.problems.push(fault("unknown device", place, cause, fix));
  }
  return { key, name: device?.id ?? written };
}

function ownList(tally: Tally, key: string): Count[] {
  const own = tally.byDevice.get(key) ?? [];
  if (own.length === 0) tally.byDevice.set(key, own);
  return own;
}

/** A count as it should be, or a blank. */
function isPlain(value: CellValue): value is number | null {
  return value === null || (typeof value === "number" && value >= 0 && Number.isInteger(value));
}

interface Entry {
  readonly id: Identified;
  readonly month: Day;
  readonly value: CellValue;
  readonly place: CellPlace & { readonly row: number; readonly column: number };
  /** Whether an earlier entry for the same month may be there. */
  readonly seen: boolean;
}

/** Adds one count; true when it took the place of an earlier one. */
function add(tally: Tally, { id, month, value, place, seen }: Entry): boolean {
  const problem = countFault(value, place);
  if (problem !== null) tally.problems.push(problem);
  const late = month > tally.reportDate && !isBlank(value);
  const count: Count = {
    device: id.name,
    deviceKey: id.key,
    month,
    count: typeof value === "number" && problem === null && !late ? value : null,
    faulty: problem !== null || late,
    sheet: place.sheet,
    row: place.row,
    column: place.column,
  };
  const own = ownList(tally, id.key);
  const before = seen ? own.findIndex((earlier) => earlier.month === month) : -1;
  const earlier = own[before];
  if (earlier === undefined) {
    own.push(count);
    return false;
  }
  if (isBlank(value)) return false;
  // A third entry, or a smaller one, may be a part of the month: then no figure can be trusted.
  const doubtful = tally.replaced.has(earlier) || (earlier.count ?? 0) > (count.count ?? Infinity);
  const kept = doubtful ? { ...count, count: null, faulty: true } : count;
  tally.replaced.add(kept);
  own[before] = kept;
  return earlier.count !== null || earlier.faulty;
}
