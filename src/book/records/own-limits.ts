import { isDay, type Day } from "../../core/day.ts";
import type { CellValue } from "../workbook/snapshot.ts";
import { fieldOfPart, isLastDone, positionField } from "./positions.ts";
import type { Part } from "./records.ts";

/**
 * Limits a programme keeps in its own register: the day a part is next due, and the months between its
 * replacements. Local policy goes before ours where it is stricter: the earlier date and the shorter interval
 * count, and never the later or longer one.
 */
export interface OwnLimits {
  readonly due: Day | null;
  readonly months: number | null;
  /** Days of an interval shorter than a month; its months are one then. */
  readonly days: number | null;
}

const DUE = "due:";
const EVERY = "every:";

/** The field of the days when a part, or a position of it, is next due by the register itself. */
export function ownDueField({ code, position }: Pick<Part, "code" | "position">): string {
  return position === undefined ? `${DUE}${code}` : positionField(`${DUE}${code}`, position.name);
}

/** The field of the register's own interval of a part. */
export function ownIntervalField({ code }: Pick<Part, "code">): string {
  return `${EVERY}${code}`;
}

export function isOwnDue(field: string): boolean {
  return field.startsWith(DUE);
}

export function isOwnInterval(field: string): boolean {
  return field.startsWith(EVERY);
}

/** Whether a field is a limit of the register's own. */
export function isOwnLimit(field: string): boolean {
  return isOwnDue(field) || isOwnInterval(field);
}

/** The code of the part that a field of its dates or limits belongs to; null for any other field. */
export function partOfField(field: string): string | null {
  return isLastDone(field) || isOwnLimit(field)
    ? fieldOfPart(field).slice(field.indexOf(":") + 1)
    : null;
}

/** What months a number of an interval's column is: whole ones, so many of its units to a month. */
export interface OwnUnit {
  readonly times: number;
  readonly by: number;
}

/** Whole months of a cell, one where it holds fewer days; null where it holds none. */
export function ownMonths(value: CellValue, unit: OwnUnit): number | null {
  if (typeof value !== "number") return null;
  const months = Math.floor((value * unit.times) / unit.by);
  if (months >= 1) return months;
  return ownDays(value, unit) === null ? null : 1;
}

/** Whole days of a cell in days or weeks that is shorter than a month; null for any other. */
export function ownDays(value: CellValue, { times, by }: OwnUnit): number | null {
  if (typeof value !== "number" || by === 1) return null;
  const days = Math.floor(value * times);
  return days >= 1 && days < by ? days : null;
}

/** The day of a cell, as 1900 books count; null where it holds none, or one that the last replacement has met. */
export function ownDue(value: CellValue, lastDone: CellValue): Day | null {
  if (typeof value !== "number" || typeof lastDone !== "number") return null;
  const day = Math.floor(value);
  return isDay(day) && day > Math.floor(lastDone) ? day : null;
}
