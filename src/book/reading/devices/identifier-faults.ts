import { readDateText } from "../../headings/dates.ts";
import { type CellPlace, fault, mendable } from "../../records/problems.ts";
import type { Problem } from "../../records/records.ts";
import { identifierAt, quoted, trueDate } from "../../workbook/cells.ts";
import { type Fleet, hasStraySpaces, type Named } from "./devices.ts";
import { missingDevice } from "../dates/missing-device.ts";
import type { Found } from "../register/register.ts";
import { NO_DEVICE } from "../rows/rows.ts";
import { severalDevices } from "./several-devices.ts";

/** What is wrong with the identifiers of a register's devices. */
export function identifierFaults(found: Found, { named, placeOf }: Fleet): Problem[] {
  const device = found.columns.get("device") ?? 0;
  return [
    ...missingIds(found, device),
    ...misleadingIds(found, named, device),
    ...severalDevices(named, placeOf),
  ];
}

function missingIds({ page, register }: Found, device: number): Problem[] {
  const heading = register.headings[device] ?? "";
  const at = (row: number) => ({ sheet: page.sheet.name, row, column: device, heading });
  const left = register.leftOut.filter(({ reason }) => reason === NO_DEVICE);
  const kept = register.rows.filter((row) => identifierAt(page, row, device) === "");
  return [
    ...left.map(({ row }) => missingDevice(page, at(row))),
    ...kept.map((row) => {
      const cause = `Row ${row + 1} has no device that can be read; it is kept as "row ${row + 1}".`;
      return fault("device missing", at(row), cause, "Write the device's identifier.");
    }),
  ];
}

/** Date-like, repeated and badly spaced identifiers; one problem a cell. */
function misleadingIds(found: Found, named: readonly Named[], column: number): Problem[] {
  const { page, register } = found;
  const heading = register.headings[column] ?? "";
  const place = (row: number): CellPlace => ({ sheet: page.sheet.name, row, column, heading });
  const problems: Problem[] = [];
  for (const { row, id } of named) {
    if (isDateLike(found, row, column, id)) problems.push(dateLike(place(row), id));
    const raw = page.sheet.values[row]?.[column];
    if (typeof raw !== "string" || !hasStraySpaces(raw)) continue;
    const cause = `${quoted(id)} has spaces before, after or inside it that are easy to miss.`;
    problems.push(mendable(fault("stray spaces", place(row), cause, `Retype it as ${id}.`), id));
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
