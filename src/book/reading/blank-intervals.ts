import { MONTHS, statedUnit } from "../headings/own-limits.ts";
import { ownIntervalField, ownMonths } from "../records/own-limits.ts";
import { fault, listed, notice } from "../records/problems.ts";
import type { Ours, Part, Problem } from "../records/records.ts";
import { quoted } from "../workbook/cells.ts";
import type { Named } from "./devices.ts";
import { isNothing } from "./own-limit-faults.ts";
import type { Found } from "./register.ts";

/** So many times as many cells with an interval show that a cell without one was forgotten. */
const FORGOTTEN = 4;
const NAMED = 6;

/**
 * Devices without an interval of their own where most others have one, and a stricter one than ours may be: ours counts for
 * them, and nobody would see it. A column of exceptions is blank in most rows.
 */
export function blankIntervals(found: Found, ours: Ours, named: readonly Named[]): Problem[] {
  return ours.parts.flatMap((part) => blanksOf(found, part, named));
}

function blanksOf({ columns, page, register }: Found, part: Part, named: readonly Named[]) {
  const column = columns.get(ownIntervalField(part));
  if (column === undefined) return [];
  const heading = register.headings[column] ?? "";
  const unit = statedUnit(heading) ?? MONTHS;
  const serving = named.filter(({ retired }) => !retired);
  const own = serving.map(({ row }) => page.sheet.values[row]?.[column] ?? null);
  const months = own.flatMap((value) => ownMonths(value, unit) ?? []);
  // What is neither a number nor nothing is asked about in its cell.
  const blank = serving.filter((_, at) => isNothing(own[at] ?? null));
  const isStricter = months.some((one) => one < (part.longest ?? Infinity));
  if (blank.length === 0 || blank.length >= months.length || !isStricter) return [];
  const place = { sheet: page.sheet.name, row: null, column, heading };
  const cause = `${listed(
    blank.map(({ id }) => quoted(id)),
    NAMED,
  )} ${blank.length === 1 ? "has" : "have"} no interval under ${quoted(heading)}, where others have ${Math.min(...months)} to ${Math.max(...months)} months: ours counts, which may be longer.`;
  const say = blank.length * FORGOTTEN <= months.length ? fault : notice;
  return [say("own limit missing", place, cause, "Type the interval, where there is one.")];
}
