import { addMonths, type Day, isoText } from "../../core/day.ts";
import { earliestReading } from "../headings/dates.ts";
import { MONTHS, statedUnit } from "../headings/own-limits.ts";
import {
  ownDueField,
  ownIntervalField,
  ownMonths,
  type OwnUnit,
  partOfField,
} from "../records/own-limits.ts";
import { eachPosition, partKey } from "../records/positions.ts";
import { type CellPlace, fault } from "../records/problems.ts";
import type { Device, Ours, Part, Problem } from "../records/records.ts";
import { isBlank, quoted, textOf } from "../workbook/cells.ts";
import { cellKey, type CellValue } from "../workbook/snapshot.ts";
import { dateColumn } from "./devices.ts";
import type { Found } from "./register.ts";

/** What says that there is no date. */
const NOTHING = /^(?:[-\u2012-\u2015./\s]+|n\s*[/.]?\s*a\.?)$/i;

/** Cells of the register's own due dates and intervals that cannot be read, or that contradict its other dates. */
export function ownLimitFaults(found: Found, ours: Ours, devices: readonly Device[]): Problem[] {
  return ours.parts.flatMap((part) => [
    // One column for the part, or one for each position of it.
    ...[...new Set([part, ...eachPosition(part)])].flatMap((one) =>
      dueFaults(found, ours, { part: one, devices }),
    ),
    ...intervalFaults(found, { part, devices }),
  ]);
}

interface Rows {
  readonly part: Part;
  readonly devices: readonly Device[];
}

function dueFaults(found: Found, ours: Ours, { part, devices }: Rows): Problem[] {
  const column = dateColumn(found, ours, ownDueField(part));
  if (column === null) return [];
  const { sheet } = found.page;
  return devices.flatMap((device, at): Problem[] => {
    if (device.retired) return [];
    const { row } = device;
    const value = sheet.values[row]?.[column.column] ?? null;
    const place = { sheet: sheet.name, row, column: column.column, heading: column.heading };
    const swapped = column.swapped.get(at);
    // Either day may be the earlier one, and either may be met: all of them are told, to be mended together.
    if (swapped !== undefined) return [swapped];
    const last = lastOf(device, part);
    const date = column.dates[at] ?? null;
    if (date !== null) return last !== null && date <= last ? [past(place, date, last)] : [];
    if (isNothing(value)) return uncalculated(found, place);
    if (column.swapped.size === 0 && isLaterAnyway(value, last, part)) return [];
    const told = column.faults.get(at);
    return [{ ...(told ?? unread(place, value)), kind: "own limit unread" }];
  });
}

/** Whether a cell says that there is no limit. */
export function isNothing(value: CellValue): boolean {
  return isBlank(value) || (typeof value === "string" && NOTHING.test(value.trim()));
}

/** A text that is later than the longest interval allows, however it is read, changes nothing. */
function isLaterAnyway(value: CellValue, last: Day | null, { longest }: Part): boolean {
  const day = typeof value === "string" ? earliestReading(value) : null;
  return day !== null && last !== null && longest !== null && day >= addMonths(last, longest);
}

function lastOf(device: Device, part: Part): Day | null {
  const dates = device.lastDone
    .filter(({ part: key }) =>
      part.position === undefined
        ? partOfField(`last:${key}`) === part.code
        : key === partKey(part),
    )
    .flatMap(({ date }) => date ?? []);
  return dates.length === 0 ? null : (Math.min(...dates) as Day);
}

function past(place: CellPlace, date: Day, last: Day): Problem {
  const cause = `${isoText(date)} is not after the last replacement on ${isoText(last)}, so it is met, and our own due date counts.`;
  return fault("own date past", place, cause, "Type the next date, or correct the last one.");
}

/** A formula that no program has calculated. */
function uncalculated(
  { page: { sheet } }: Found,
  place: CellPlace & { row: number; column: number },
) {
  if (!sheet.formulas.has(cellKey(place.row, place.column))) return [];
  const cause = "The formula in the cell has no result, and it may be stricter than ours.";
  const fix = "Open the book in a spreadsheet program and save it.";
  return [fault("own limit unread", place, cause, fix)];
}

function unread(place: CellPlace, value: CellValue): Problem {
  const cause = `${quoted(textOf(value))} cannot be read, and it may be stricter than ours.`;
  return fault("own limit unread", place, cause, "Type it as a date, or clear the cell.");
}

function intervalFaults(found: Found, { part, devices }: Rows): Problem[] {
  const column = found.columns.get(ownIntervalField(part));
  if (column === undefined) return [];
  const { sheet } = found.page;
  const heading = found.register.headings[column] ?? "";
  const unit = statedUnit(heading);
  const valueIn = (row: number): CellValue => sheet.values[row]?.[column] ?? null;
  const isUsual = areUsuallyLonger(
    devices.map(({ row }) => ownMonths(valueIn(row), unit ?? MONTHS)),
    part,
  );
  return devices.flatMap(({ row, retired }): Problem[] => {
    if (retired) return [];
    const value = valueIn(row);
    const place = { sheet: sheet.name, row, column, heading };
    if (isNothing(value)) return uncalculated(found, place);
    const why = whyUnread(value, unit, part) ?? whyTooLong(value, unit, { part, isUsual });
    if (why === null) return [];
    const fix = "Type whole months as a number, and (months) in the heading.";
    return [fault("own limit unread", place, why, fix)];
  });
}

/** Whether most of a column's intervals are longer than ours, as those of another policy may be. */
function areUsuallyLonger(months: readonly (number | null)[], { longest }: Part): boolean {
  const known = months.flatMap((one) => one ?? []);
  const longer = known.filter((one) => one > (longest ?? Infinity) && one <= LONGEST_SENSIBLE);
  return longer.length * 2 > known.length;
}

/** Months beyond which no part is meant to be used. */
const LONGEST_SENSIBLE = 36;

/** Why an interval is hardly the one that was meant: 22 where the others are 2 or 3. */
function whyTooLong(
  value: CellValue,
  unit: OwnUnit | null,
  { part: { longest }, isUsual }: { readonly part: Part; readonly isUsual: boolean },
): string | null {
  const months = ownMonths(value, unit ?? MONTHS);
  if (months === null || longest === null || months <= longest) return null;
  if (isUsual && months <= LONGEST_SENSIBLE) return null;
  return `${quoted(textOf(value))} is longer than ours and the others of its column: it may be mistyped.`;
}

/** Why an interval cannot be read; null where it can. */
function whyUnread(value: CellValue, unit: OwnUnit | null, { longest }: Part): string | null {
  const months = ownMonths(value, unit ?? MONTHS);
  const written = quoted(textOf(value));
  if (months === null) return `${written} is no interval of whole months.`;
  // Months would hardly be so many: they may be weeks or days, and stricter than ours.
  if (unit !== null || longest === null || months <= longest) return null;
  return `${written} is longer than ours if it is months, and the heading does not say what it is.`;
}
