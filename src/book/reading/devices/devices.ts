import type { Day } from "../../../core/day.ts";
import { isOwnDue } from "../../records/own-limits.ts";
import { isLastDone } from "../../records/positions.ts";
import { isEnglish } from "../../headings/words.ts";
import { languageOf } from "../../languages/dictionary.ts";
import { deviceKey } from "../../records/device-key.ts";
import { identifierAt } from "../../workbook/cells.ts";
import { type DateColumn, readDates } from "../dates/date-columns.ts";
import type { RowDoubt } from "../../records/problem-kinds.ts";
import { type CellPlace } from "../../records/problems.ts";
import type { Device, Ours } from "../../records/records.ts";
import type { Found } from "../register/register.ts";
import { remembering } from "../../records/remembering.ts";
import { siteKey } from "../../records/site-names.ts";
import { firstSpellings } from "./site-spellings.ts";
import { hasLeftBy, saysRetired } from "../../records/retired-words.ts";

/** A device before its last-done dates are read. */
export type Named = Omit<Device, "lastDone">;

/** The devices, with their days of commissioning and retirement. */
export interface Fleet {
  readonly named: readonly Named[];
  readonly commissioned: DateColumn | null;
  readonly retiredOn: DateColumn | null;
  /** First spelling of each site, by its key. */
  readonly spellings: ReadonlyMap<string, string>;
  /** Where a problem of a device as a whole stands. */
  readonly placeOf: (device: Named) => CellPlace;
}

/** Reads who the devices are and which are still in service. */
export function readFleet(found: Found, ours: Ours, known: ReadonlyMap<string, string>): Fleet {
  const { page, columns, register } = found;
  const dated = (field: string): DateColumn | null => dateColumn(found, ours, field);
  const commissioned = dated("commissioned");
  const retiredOn = dated("retiredOn");
  const device = columns.get("device") ?? 0;
  const site = columns.get("site");
  const status = columns.get("status") ?? -1;
  const spellings = new Map([...firstSpellings(found), ...known]);
  const spelled = remembering((text: string) => spellings.get(siteKey(text)) ?? text);
  const hasLeft = remembering(saysRetired);
  const named = register.rows.map((row, at): Named => {
    const id = identifierAt(page, row, device) || `row ${row + 1}`;
    const since = retiredOn?.dates[at] ?? null;
    const word = page.sheet.values[row]?.[status];
    return {
      sheet: page.sheet.name,
      row,
      id,
      key: deviceKey(id),
      site: spelled(
        found.siteByRow.get(row) ??
          (site === undefined ? found.site : identifierAt(page, row, site)),
      ),
      commissioned: commissioned?.dates[at] ?? null,
      retired: hasLeft(word) || (since !== null && hasLeftBy(since, ours.settings.reportDate)),
      doubt: null,
    };
  });
  const placeOf = ({ row }: Named): CellPlace => {
    const heading = register.headings[device] ?? "";
    const raw = page.sheet.values[row]?.[device];
    // Where the cell already reports its spaces, the row alone is named.
    return typeof raw === "string" && hasStraySpaces(raw)
      ? { sheet: page.sheet.name, row, column: null, heading: "" }
      : { sheet: page.sheet.name, row, column: device, heading };
  };
  return { named, commissioned, retiredOn, spellings, placeOf };
}

/** A field's column read as dates, null where the register has none. */
export function dateColumn(found: Found, ours: Ours, field: string): DateColumn | null {
  const column = found.columns.get(field);
  if (column === undefined) return null;
  const heading = found.register.headings[column] ?? "";
  const stated = ours.settings.dayOrder;
  const language = languageOf(found.register.headings, isEnglish);
  // The earlier of two days it may be is the careful one.
  const startsInterval = isLastDone(field) || isOwnDue(field);
  const { rows } = found.register;
  return readDates(found.page, { column, heading, rows, stated, language, startsInterval });
}

/** The dates of devices in service, by place. */
export function inUse({ named }: Fleet, { dates }: DateColumn): (Day | null)[] {
  return dates.map((date, at) => (named[at]?.retired === true ? null : date));
}

/**
 * The fleet with what is in doubt of a whole row: a retirement (by row, with its doubt) keeps the device in
 * service, a device in several rows is in doubt in each that has not left, and so is a row that a remark speaks against,
 * or in it the parts alone that the remark names.
 */
export function withDoubts(
  fleet: Fleet,
  {
    retirements,
    repeated,
    remarks,
    parts,
  }: {
    readonly retirements: ReadonlyMap<number, RowDoubt>;
    /** Keys of devices that stand in several rows. */
    readonly repeated: ReadonlySet<string>;
    /** Rows that a remark speaks against. */
    readonly remarks: ReadonlySet<number>;
    /** By row, parts that a remark speaks against, and nothing else of it. */
    readonly parts: ReadonlyMap<number, readonly string[]>;
  },
): Fleet {
  const named = fleet.named.map((device): Named => {
    const doubted = retirements.get(device.row);
    if (doubted !== undefined) return { ...device, retired: false, doubt: doubted };
    if (device.retired) return device;
    if (repeated.has(device.key)) return { ...device, doubt: "duplicate device" };
    if (remarks.has(device.row)) return { ...device, doubt: "remark" };
    const doubtedParts = parts.get(device.row);
    return doubtedParts === undefined ? device : { ...device, doubtedParts };
  });
  return { ...fleet, named };
}

/** Keys of the devices that stand in several rows; `first` has one row of each. */
export function repeatedKeys(
  fleets: readonly Fleet[],
  first: ReadonlyMap<string, Named>,
): ReadonlySet<string> {
  const repeated = new Set<string>();
  const rows = fleets.reduce((sum, { named }) => sum + named.length, 0);
  if (rows === first.size) return repeated;
  for (const { named } of fleets) {
    for (const device of named) if (first.get(device.key) !== device) repeated.add(device.key);
  }
  return repeated;
}

/** By key the first row in service, else the first. */
export function firstOfKey(named: readonly Named[]): ReadonlyMap<string, Named> {
  const first = new Map<string, Named>();
  for (const device of named) {
    const there = first.get(device.key);
    if (there === undefined || (there.retired && !device.retired)) first.set(device.key, device);
  }
  return first;
}

/** Whether an identifier has spaces that are easy to miss. */
export function hasStraySpaces(text: string): boolean {
  return text.trim() !== text || text.includes("\u00a0");
}
