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
import { quoted, textOf } from "../workbook/cells.ts";
import { cellKey, type CellValue, isCellError } from "../workbook/snapshot.ts";
import { cellError } from "./date-columns.ts";
import { dateColumn } from "./devices.ts";
import { isMergedAbove, isNothing, isUsual } from "./own-limit-habits.ts";
import type { Found } from "./register.ts";

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

/** A column of own due dates with how each stands to its row's last replacement; null where it cannot be compared. */
export function ownDues(found: Found, ours: Ours, { part, devices }: Rows) {
  const column = dateColumn(found, ours, ownDueField(part));
  if (column === null) return null;
  const lasts = devices.map((device) => lastOf(device, part));
  const standing = devices.map(({ retired }, at): Standing | null => {
    const [date, last] = [column.dates[at] ?? null, lasts[at] ?? null];
    return retired || date === null || last === null ? null : standingOf(date, last, part);
  });
  return { column, lasts, standing };
}

type Dues = NonNullable<ReturnType<typeof ownDues>>;

function dueFaults(found: Found, ours: Ours, { part, devices }: Rows): Problem[] {
  const dues = ownDues(found, ours, { part, devices });
  if (dues === null) return [];
  const isHabit = isUsual(dues.standing.filter((one) => one === "stricter").length, devices);
  return devices.flatMap(({ row, retired }, at): Problem[] => {
    if (retired) return [];
    const { column, heading, swapped, dates } = dues.column;
    const place = { sheet: found.page.sheet.name, row, column, heading };
    const told = swapped.get(at);
    // Either day may be the earlier one, and either may be met: all of them are told, to be mended together.
    if (told !== undefined) return [told];
    const date = dates[at] ?? null;
    if (date === null) return noDue(found, place, { dues, at, part, isHabit });
    const [last, stands] = [dues.lasts[at] ?? null, dues.standing[at]];
    if (last !== null && stands === "met") return [past(place, { date, last, isHabit })];
    return stands === "far" && isHabit ? [far(place, date)] : [];
  });
}

/** A cell that has no due date: nothing, where nothing is lost, or what it has instead. */
function noDue(
  found: Found,
  place: Cell,
  {
    dues: { column, lasts },
    at,
    part,
    isHabit,
  }: { readonly dues: Dues; readonly at: number; readonly part: Part; readonly isHabit: boolean },
): Problem[] {
  const value = found.page.sheet.values[place.row]?.[place.column] ?? null;
  const last = lasts[at] ?? null;
  if (isNothing(value)) {
    const isLost = last !== null && (isHabit || isMergedAbove(found.page, place));
    return isLost ? missing(found, place) : uncalculated(found, place);
  }
  if (column.swapped.size === 0 && !isHabit && isLaterAnyway(value, last, part)) return [];
  return [{ ...(column.faults.get(at) ?? unread(place, value)), kind: "own limit unread" }];
}

interface Cell extends CellPlace {
  readonly row: number;
  readonly column: number;
}

/** How an own due date stands to the last replacement and to our longest interval. */
type Standing = "met" | "stricter" | "later" | "far";

function standingOf(date: Day, last: Day, { longest }: Part): Standing {
  if (date <= last) return "met";
  if (longest === null || date < addMonths(last, longest)) return "stricter";
  // A day or two more are those of a weekend.
  return date < addMonths(last, longest + 1) ? "later" : "far";
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

function past(
  place: CellPlace,
  { date, last, isHabit }: { readonly date: Day; readonly last: Day; readonly isHabit: boolean },
): Problem {
  const [then, counts] = isHabit
    ? (["may be mistyped", "others' are stricter than ours"] as const)
    : (["is met", "our own due date counts"] as const);
  const cause = `${isoText(date)} is not after the last replacement on ${isoText(last)}, so it ${then}, and ${counts}.`;
  const kind = isHabit ? "own limit unread" : "own date past";
  return fault(kind, place, cause, "Type the next date, or correct the last one.");
}

function far(place: CellPlace, date: Day): Problem {
  const cause = `${isoText(date)} is later than ours, where most others are stricter: it may be mistyped.`;
  return fault("own limit unread", place, cause, "Correct the date.");
}

/** A cell without a limit where its column says that there is one. */
function missing(found: Found, place: Cell): Problem[] {
  const told = uncalculated(found, place);
  const cause = "It holds no limit, where most others are stricter than ours, or it is merged.";
  const fix = "Type the limit of this device in its own cell.";
  return told.length > 0 ? told : [fault("own limit unread", place, cause, fix)];
}

/** A formula that no program has calculated. */
function uncalculated({ page: { sheet } }: Found, place: Cell) {
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
  const months = devices.map(({ row, retired }) =>
    retired ? null : ownMonths(valueIn(row), unit ?? MONTHS),
  );
  const known = months.filter((one) => one !== null);
  const others: Others = {
    part,
    isLonger: areUsuallyLonger(known, part),
    least: known.reduce((least, one) => Math.min(least, one), Infinity),
  };
  const isHabit = isUsual(known.filter((one) => one < (part.longest ?? 0)).length, devices);
  return devices.flatMap(({ row, retired }): Problem[] => {
    if (retired) return [];
    const value = valueIn(row);
    const place = { sheet: sheet.name, row, column, heading };
    if (isNothing(value)) {
      const isLost = isHabit || isMergedAbove(found.page, place);
      return isLost ? missing(found, place) : uncalculated(found, place);
    }
    if (isCellError(value)) {
      return [{ ...cellError(place, value.error), kind: "own limit unread" }];
    }
    const why = whyUnread(value, unit, part) ?? whyDoubtful(value, unit, others);
    if (why === null) return [];
    const fix = "Type whole months as a number, and (months) in the heading.";
    return [fault("own limit unread", place, why, fix)];
  });
}

/** What the other intervals of a column are. */
interface Others {
  readonly part: Part;
  /** Most of them are longer than ours. */
  readonly isLonger: boolean;
  /** The shortest, in months. */
  readonly least: number;
}

/** Whether most of a column's intervals are longer than ours, as those of another policy may be. */
function areUsuallyLonger(known: readonly number[], { longest }: Part): boolean {
  const longer = known.filter((one) => one > (longest ?? Infinity) && one <= LONGEST_SENSIBLE);
  return longer.length * 2 > known.length;
}

/** Months beyond which no part is meant to be used. */
const LONGEST_SENSIBLE = 36;

/** Why an interval is hardly the one that was meant: 22 or 3.6 where the others are 2 or 3. */
function whyDoubtful(
  value: CellValue,
  unit: OwnUnit | null,
  { part: { longest }, isLonger, least }: Others,
): string | null {
  const months = ownMonths(value, unit ?? MONTHS);
  if (months === null || longest === null) return null;
  const written = quoted(textOf(value));
  // One and a half months are read as one: careful beside any other.
  const isFraction = value !== Math.floor(Number(value)) && (unit ?? MONTHS).by === 1;
  if (isFraction && months > least && months < longest) {
    return `${written} is no interval of whole months, and longer than others of its column.`;
  }
  if (months <= longest || (isLonger && months <= LONGEST_SENSIBLE)) return null;
  return `${written} is longer than ours and the others of its column: it may be mistyped.`;
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
