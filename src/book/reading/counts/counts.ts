import { headingText } from "../../headings/months.ts";
import { deviceKey } from "../../records/device-key.ts";
import { type Day, isoText, monthStart } from "../../../core/day.ts";
import { identifierAt, isBlank, type Page } from "../../workbook/cells.ts";
import type { CountNote } from "./count-faults.ts";
import type { AskedOfCounts, CountDoubts } from "./count-doubts.ts";
import { inDoubt, type Met, met } from "./count-parts.ts";
import { type Line, linesOf, monthDate, monthText } from "./count-rows.ts";
import type { CountSheet } from "./count-sheets.ts";
import type { Named } from "../devices/devices.ts";
import { type MonthColumn, monthMeant, monthShift, orderOfFirsts } from "../../headings/months.ts";
import type { Found } from "../register/register.ts";
import type { Count } from "../../records/records.ts";
import type { Newer } from "./newest-counts.ts";
import { countOf, type Entry, type Identified, isPlain, lacksResult } from "./count-cells.ts";

/** All counts of the book by device key. */
export interface Counted {
  readonly byDevice: ReadonlyMap<string, readonly Count[]>;
  /** What is told of rows and cells; count-faults.ts has the words. */
  readonly notes: readonly CountNote[];
  /** Counts of a device and month that were not alone, and what became of them. */
  readonly met: readonly Met[];
}

interface Tally {
  readonly byKey: ReadonlyMap<string, Named>;
  readonly reportDate: Day;
  readonly byDevice: Map<string, Count[]>;
  readonly unknown: Set<string>;
  readonly notes: CountNote[];
  /** Counts that took the place of an earlier entry for the same month. */
  readonly replaced: Set<Count>;
  /** Of how many rows a sum is. */
  readonly parts: Map<Count, number>;
  readonly met: Met[];
  readonly corrected: Met[];
  /** Devices of which newer counts may be there that were not read. */
  readonly newer: Map<string, Newer>;
  readonly founds: readonly Found[];
  readonly doubts: CountDoubts;
}

const NONE: Counted = { byDevice: new Map(), notes: [], met: [] };

/**
 * Reads the counts of one or more sheets; what comes of two for a device and month, count-parts.ts says. Those that a
 * sheet which is not used may hold a part of (`doubting`) are in doubt. What puts them in doubt is asked for where there are any.
 */
export function readCounts(
  sheets: readonly CountSheet[],
  byKey: ReadonlyMap<string, Named>,
  reportDate: Day,
  { asked, founds = [], doubting = [] }: AskedOfCounts,
): Counted {
  if (sheets.length === 0) return NONE;
  const doubts = asked();
  const tally: Tally = {
    byKey,
    reportDate,
    byDevice: new Map(),
    unknown: new Set(),
    notes: [],
    replaced: new Set(),
    parts: new Map(),
    met: [],
    corrected: [],
    newer: new Map(),
    founds,
    doubts,
  };
  for (const sheet of sheets) {
    tally.unknown.clear();
    const told = tally.notes.length;
    if (sheet.shape === "wide") readWide(tally, sheet);
    else readLong(tally, sheet);
    doubts.sheet(tally, sheet, tally.notes.slice(told));
  }
  doubts.together(tally, sheets);
  if (doubting.length > 0) {
    doubts.beside(tally, allCounts(readCounts(doubting, byKey, reportDate, { asked })));
  }
  return tally;
}

/** The counts of all devices in one list. */
export function allCounts({ byDevice }: Counted): Count[] {
  const counts: Count[] = [];
  for (const own of byDevice.values()) for (const count of own) counts.push(count);
  return counts;
}

function readWide(tally: Tally, sheet: Extract<CountSheet, { shape: "wide" }>): void {
  const { page, heading, months } = sheet;
  const shift = monthShift(
    months.map(({ date }) => date),
    tally.reportDate,
  );
  const example = months[0]?.date;
  if (shift !== null && example !== undefined) {
    tally.notes.push(["wholeShift", page, example, shift]);
    return;
  }
  const columns = months.map(({ column, date }) => ({
    column,
    date: monthStart(date),
    title: headingText(heading.texts[column], monthStart(date)),
  }));
  const future = new Set<number>();
  const twice = new Set(columns.map(({ date }) => date)).size < columns.length;
  const lines = linesOf(tally, sheet);
  const newer = twice
    ? "newest"
    : tally.doubts.newerIn(
        sheet,
        lines.map(({ row }) => row),
      );
  for (const line of lines) {
    const key = readWideRow(tally, sheet, line, { columns, twice, future });
    if (newer !== null) tally.newer.set(key, newer);
  }
  for (const { column, date, title } of columns) {
    if (!future.has(column)) continue;
    const place = { sheet: page.sheet.name, row: null, column, heading: title };
    tally.notes.push(["futureMonth", place, date]);
  }
}

interface Months {
  readonly columns: readonly (MonthColumn & { readonly title: string })[];
  /** Whether two columns are the same month. */
  readonly twice: boolean;
  /** Columns of months after the report date that hold something. */
  readonly future: Set<number>;
}

/** Reads the counts of a row; gives the key of its device. */
function readWideRow(tally: Tally, sheet: CountSheet, line: Line, months: Months): string {
  const { row, named } = line;
  const { page, heading, device } = sheet;
  const id = deviceOf(tally, { page, row: named, column: device, heading });
  const seen = months.twice || tally.byDevice.has(id.key);
  const own = ownList(tally, id.key);
  const { name, values } = page.sheet;
  const cells = values[row] ?? [];
  const doubled: string[] = [];
  for (const { column, date, title } of months.columns) {
    const value = cells[column] ?? null;
    if (!seen && isPlain(value) && date <= tally.reportDate && !lacksResult(page, row, column)) {
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
    if (date > tally.reportDate && !isBlank(value)) {
      months.future.add(column);
      if (value !== 0) tally.newer.set(id.key, "newest");
    }
    const place = { sheet: name, row, column, heading: title };
    if (add(tally, { id, month: date, value, place, seen, sheet, line })) doubled.push(title);
  }
  if (doubled.length > 0) tally.notes.push(["countedTwice", page, row, id.name, doubled]);
  return id.key;
}

function readLong(tally: Tally, sheet: Extract<CountSheet, { shape: "long" }>): void {
  const { page, heading, device, month, count } = sheet;
  const rows = linesOf(tally, sheet);
  const texts = rows.map(({ row }) => monthText(page, row, month));
  const order = orderOfFirsts(texts);
  const dates = rows.map(({ row }) => monthDate(page, row, month));
  const shift = monthShift(
    dates.filter((date) => date !== null),
    tally.reportDate,
  );
  const example = dates.find((date) => date !== null) ?? null;
  const shifted = shift !== null && example !== null;
  if (shifted) tally.notes.push(["wholeShift", page, example, shift]);
  const [name = "", counted = ""] = [heading.texts[month], heading.texts[count]];
  const seen: { month: Day; key: string }[] = [];
  rows.forEach((line, at) => {
    const { row, named } = line;
    const text = texts[at] ?? null;
    const date = dates[at] ?? (text === null ? null : monthMeant(text, order));
    if (shifted && (dates[at] ?? null) !== null) return;
    const id = deviceOf(tally, { page, row: named, column: device, heading });
    const place = { sheet: page.sheet.name, row, column: count, heading: counted };
    const value = page.sheet.values[row]?.[count] ?? null;
    if (date === null) {
      tally.notes.push(["noMonth", page, { ...place, column: month, heading: name }, row]);
      if (!isBlank(value)) tally.newer.set(id.key, "newest");
      return;
    }
    const start = monthStart(date);
    seen.push({ month: start, key: id.key });
    if (start > tally.reportDate && !isBlank(value)) {
      tally.notes.push(["futureMonth", { ...place, column: month, heading: name }, start]);
      tally.newer.set(id.key, "newest");
    }
    if (add(tally, { id, month: start, value, place, seen: true, sheet, line })) {
      tally.notes.push(["countedTwice", page, row, id.name, [isoText(start).slice(0, 7)]]);
    }
  });
  if (tally.doubts.isOutOfOrder(seen)) for (const { key } of seen) tally.newer.set(key, "order");
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
    tally.notes.push(["unknownDevice", place, written]);
  }
  return { key, name: device?.id ?? written };
}

function ownList(tally: Tally, key: string): Count[] {
  const own = tally.byDevice.get(key) ?? [];
  if (own.length === 0) tally.byDevice.set(key, own);
  return own;
}

/** Adds one count; true when it took the place of an earlier one. */
function add(tally: Tally, entry: Entry): boolean {
  const { id, month, value, seen, sheet, line } = entry;
  const written = countOf(tally, entry);
  const own = ownList(tally, id.key);
  const before = seen ? own.findIndex((earlier) => earlier.month === month) : -1;
  const earlier = own[before];
  if (earlier !== undefined && isBlank(value)) return false;
  const isAlone = earlier === undefined || (earlier.count === null && !earlier.faulty);
  // A row without a name may be anything where nothing tells it from the one above.
  const isLoose = line.isLoose === true && !isBlank(value) && (sheet.shape === "wide" || !isAlone);
  if (isLoose) tally.met.push({ why: "beneath", count: written, other: "" });
  const count = isLoose ? inDoubt(written) : written;
  if (earlier === undefined) own.push(count);
  else if (isAlone || isLoose) own[before] = count;
  else
    return isReplaced(tally, met(earlier, count, sheet, tally.replaced.has(earlier)), {
      own,
      earlier,
    });
  return false;
}

interface Place {
  readonly own: Count[];
  readonly earlier: Count;
}

/** Puts what became of two counts in the place of the earlier; whether the later replaces it. */
function isReplaced(tally: Tally, one: Met, { own, earlier }: Place): boolean {
  own[own.indexOf(earlier)] = one.count;
  if (one.why === "added") tally.parts.set(one.count, (tally.parts.get(earlier) ?? 1) + 1);
  else tally.replaced.add(one.count);
  if (one.why === "replaced") {
    const isOther = earlier.count !== one.count.count && earlier.sheet === one.count.sheet;
    if (isOther) tally.corrected.push(one);
    return true;
  }
  tally.met.push(one);
  return false;
}
