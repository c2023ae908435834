import { deviceKey } from "../records/device-key.ts";
import { identifierAt, type Page, quoted, trueDate } from "../workbook/cells.ts";
import { readDateText } from "../headings/dates.ts";
import { cellError, type DateColumn, readDates } from "./date-columns.ts";
import { type CellPlace, fault, mendable } from "../records/problems.ts";
import type { Device, Ours, Problem } from "../records/records.ts";
import type { Found } from "./register.ts";
import { NO_DEVICE } from "./rows.ts";
import { siteKey } from "../records/site-names.ts";
import { firstSpellings } from "./site-spellings.ts";
import { isCellError } from "../workbook/snapshot.ts";
import { RETIRED_WORDS } from "../records/retired-words.ts";

/** A device before its last-done dates are read. */
export type Named = Omit<Device, "lastDone">;

/** The devices, what their identifiers and their commissioning dates get wrong. */
export interface Fleet {
  readonly named: readonly Named[];
  /** First device of each key. */
  readonly byKey: ReadonlyMap<string, Named>;
  readonly commissioned: DateColumn | null;
  readonly retiredOn: DateColumn | null;
  /** First spelling of each site, by its key. */
  readonly spellings: ReadonlyMap<string, string>;
  readonly problems: readonly Problem[];
}

/** Reads who the devices are and which are still in service. */
export function readFleet(found: Found, ours: Ours): Fleet {
  const { page, columns, register } = found;
  const dated = (field: string): DateColumn | null => dateColumn(found, ours, field);
  const commissioned = dated("commissioned");
  const retiredOn = dated("retiredOn");
  const device = columns.get("device") ?? 0;
  const site = columns.get("site");
  const status = columns.get("status");
  const spellings = firstSpellings(found);
  const spelled = (text: string): string => spellings.get(siteKey(text)) ?? text;
  const byKey = new Map<string, Named>();
  const named = register.rows.map((row, at): Named => {
    const id = identifierAt(page, row, device);
    const since = retiredOn?.dates[at] ?? null;
    const word = status === undefined ? null : page.sheet.values[row]?.[status];
    const one: Named = {
      row,
      id,
      key: deviceKey(id),
      site: site === undefined ? "" : spelled(identifierAt(page, row, site)),
      commissioned: commissioned?.dates[at] ?? null,
      retired: saysRetired(word) || (since !== null && since <= ours.settings.reportDate),
    };
    if (!byKey.has(one.key)) byKey.set(one.key, one);
    return one;
  });
  return {
    named,
    byKey,
    commissioned,
    retiredOn,
    spellings,
    problems: [...missingIds(found, device), ...identifierFaults(found, named, device)],
  };
}

/** A field's column read as dates, null where the register has none. */
export function dateColumn(found: Found, ours: Ours, field: string): DateColumn | null {
  const column = found.columns.get(field);
  if (column === undefined) return null;
  const heading = found.register.headings[column] ?? "";
  const stated = ours.settings.dayOrder;
  return readDates(found.page, { column, heading, rows: found.register.rows, stated });
}

/** The same words as in the formulas; ordinary spaces around them do not matter. */
function saysRetired(value: unknown): boolean {
  if (typeof value !== "string") return false;
  const word = value.replaceAll(/ +/g, " ").replaceAll(/^ | $/g, "").toLowerCase();
  return RETIRED_WORDS.some((retired) => retired === word);
}

function missingIds({ page, register }: Found, device: number): Problem[] {
  const heading = register.headings[device] ?? "";
  return register.leftOut
    .filter(({ reason }) => reason === NO_DEVICE)
    .map(({ row }) =>
      missingDevice(page, { sheet: page.sheet.name, row, column: device, heading }),
    );
}

/** A row with entries and no device that can be read: left out, and told. */
export function missingDevice(
  page: Page,
  place: CellPlace & { row: number; column: number },
): Problem {
  const value = page.sheet.values[place.row]?.[place.column] ?? null;
  if (isCellError(value)) return cellError(place, value.error);
  const cause = `Row ${place.row + 1} has entries but no device; it is left out.`;
  return fault("device missing", place, cause, "Write the device's identifier, or clear the row.");
}

/** Date-like, repeated and badly spaced identifiers; one problem a cell. */
function identifierFaults(found: Found, named: readonly Named[], column: number): Problem[] {
  const { page, register } = found;
  const heading = register.headings[column] ?? "";
  const place = (row: number): CellPlace => ({ sheet: page.sheet.name, row, column, heading });
  const problems: Problem[] = [];
  const spaced = new Set<number>();
  for (const { row, id } of named) {
    if (isDateLike(found, row, column, id)) problems.push(dateLike(place(row), id));
    const raw = page.sheet.values[row]?.[column];
    if (typeof raw !== "string" || (raw.trim() === raw && !raw.includes("\u00a0"))) continue;
    spaced.add(row);
    const cause = `${quoted(id)} has spaces before, after or inside it that are easy to miss.`;
    problems.push(mendable(fault("stray spaces", place(row), cause, `Retype it as ${id}.`), id));
  }
  return [...problems, ...duplicates(named, spaced, place)];
}

/** Reported on the later row, or on the first one where the later row's cell already reports its spaces. */
function duplicates(
  named: readonly Named[],
  spaced: ReadonlySet<number>,
  place: (row: number) => CellPlace,
): Problem[] {
  const first = new Map<string, number>();
  const told = new Set<number>();
  const problems: Problem[] = [];
  for (const { row, id, key } of named) {
    const before = first.get(key);
    if (before === undefined) {
      first.set(key, row);
      continue;
    }
    const at = spaced.has(row) && !spaced.has(before) ? before : row;
    if (told.has(at)) continue;
    told.add(at);
    const other = at === row ? before : row;
    const where = spaced.has(at) ? { ...place(at), column: null, heading: "" } : place(at);
    const cause = `${quoted(id)} is also in row ${other + 1}.`;
    problems.push(fault("duplicate device", where, cause, "Keep one row for each device."));
  }
  return problems;
}

const LONGEST_DATE_LIKE = 12;
const NUMBERS_LIKE_A_DATE = /^\d{1,2}[-/]\d{1,2}(?:[-/]\d{2,4})?$/;
const NAME_AND_NUMBER =
  /^(?:\d{1,4}[-/ ]?(?:jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]*|(?:jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]*[-/ ]?\d{1,4})$/i;
const MONTH_NAMES =
  /^(?:jan(?:uary)?|feb(?:ruary)?|mar(?:ch)?|apr(?:il)?|may|june?|july?|aug(?:ust)?|sept?(?:ember)?|oct(?:ober)?|nov(?:ember)?|dec(?:ember)?)$/i;

function isDateLike({ page }: Found, row: number, column: number, id: string): boolean {
  if (trueDate(page, row, column) !== null) return true;
  const value = page.sheet.values[row]?.[column];
  if (typeof value !== "string" || id.length > LONGEST_DATE_LIKE) return false;
  if (NUMBERS_LIKE_A_DATE.test(id)) return true;
  if (NAME_AND_NUMBER.test(id)) return MONTH_NAMES.test(id.replaceAll(/[^a-z]/gi, ""));
  // Eight digits may be a date and may just as well be an asset number.
  return !/^\d+$/.test(id) && readDateText(id)?.kind === "day";
}

function dateLike(place: CellPlace, id: string): Problem {
  return fault(
    "date-like device",
    place,
    `${quoted(id)} looks like a date, and spreadsheets turn such identifiers into dates.`,
    "Format the cell as text and retype the identifier, or better, choose one that cannot be read as a date.",
  );
}
