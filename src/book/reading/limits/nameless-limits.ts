import { addMonths } from "../../../core/day.ts";
import { ownTitles } from "../../answers/titles.ts";
import { MONTHS, statedUnit } from "../../headings/own-limits.ts";
import { knownWords, wordsOf } from "../../headings/words.ts";
import { ownMonths } from "../../records/own-limits.ts";
import { isLastDone } from "../../records/positions.ts";
import { counted, fault } from "../../records/problems.ts";
import type { Part, Problem } from "../../records/records.ts";
import { quoted, trueDate, widest } from "../../workbook/cells.ts";
import { columnLetters } from "../../workbook/snapshot.ts";
import type { Named } from "../devices/devices.ts";
import type { Found } from "../register/register.ts";

/** So many rows, and so large a share of them, are no chance. */
const FEWEST = 3;
const NEARLY_ALL = 0.8;
/** No part is meant to be used for more months. */
const LONGEST_SENSIBLE = 36;
const MONTH = 30.44;
/** Half a month: what is done sooner after a replacement belongs to it. */
const SHORTEST = 15;
/** So many days months differ by, with what is moved to a working day. */
const A_WEEKEND = 5;
const KNOWN = new Set(knownWords());

/**
 * Columns that hold a limit of the register's own whatever their heading is: dates that are nearly all as long after
 * those of a part, and whole months right beside them under no heading or a unit alone. Nothing is read from them, and
 * ours may be longer.
 */
export function namelessLimits(
  found: Found,
  named: readonly Named[],
  { parts, told }: { readonly parts: readonly Part[]; readonly told: ReadonlySet<number> },
): Problem[] {
  const { register, page } = found;
  const isOwn = ownTitles(parts)(register.headings);
  const used = new Set([...told, ...register.matches.map(({ column }) => column)]);
  const rows = named.filter(({ retired }) => !retired).map(({ row }) => row);
  const lasts = register.matches.filter(({ field }) => isLastDone(field));
  const filled = rows.map((row) => page.sheet.values[row]);
  const width = widest([register.headings, ...filled]);
  return Array.from({ length: width }, (_, column) => column).flatMap((column): Problem[] => {
    const heading = register.headings[column] ?? "";
    if (used.has(column) || (heading !== "" && isOwn(heading))) return [];
    for (const last of lasts) {
      const why =
        timeAfter(found, rows, { column, last: last.column }) ??
        (column === last.column + 1 && isUnit(heading) ? intervals(found, rows, column) : null);
      if (why === null) continue;
      const place = { sheet: page.sheet.name, row: null, column, heading };
      const name = heading === "" ? `column ${columnLetters(column)}` : quoted(heading);
      const cause = `Nothing is read from ${name}, ${why} ${quoted(last.heading)}: they may be limits of your own, stricter than ours.`;
      return [fault("unused column", place, cause, FIX)];
    }
    return [];
  });
}

const FIX =
  'If so, say so in the heading: the part\'s name with "next due", or with "interval (months)".';

/** How long the dates of a column are after those of another, if nearly all are the same; in words. */
function timeAfter(
  { page }: Found,
  rows: readonly number[],
  { column, last }: { readonly column: number; readonly last: number },
): string | null {
  const pairs = rows.flatMap((row) => {
    const [from, to] = [trueDate(page, row, last), trueDate(page, row, column)];
    return from === null || to === null ? [] : [{ from, to, days: to - from }];
  });
  const days = pairs.map((one) => one.days).sort((one, other) => one - other);
  const middle = days[Math.floor(days.length / 2)] ?? 0;
  if (middle < SHORTEST || middle > LONGEST_SENSIBLE * MONTH) return null;
  const isMost = (fit: (one: (typeof pairs)[number]) => boolean): boolean => {
    const fitting = pairs.filter(fit);
    return fitting.length >= FEWEST && fitting.length >= pairs.length * NEARLY_ALL;
  };
  const months = Math.round(middle / MONTH);
  if (months > 0 && isMost(({ from, to }) => addMonths(from, months) === to)) {
    return `whose dates are ${counted(months, "month")} after those under`;
  }
  // Work of all devices on one day is as long after that of another day.
  const first = pairs.reduce((least, { from }) => Math.min(least, from), Infinity);
  if (pairs.every(({ from }) => from - first <= 4 * A_WEEKEND)) return null;
  if (!isMost((one) => Math.abs(one.days - middle) <= A_WEEKEND)) return null;
  const time = months > 1 ? counted(months, "month") : `${middle} days`;
  return `whose dates are about ${time} after those under`;
}

/** Nothing, or a unit of time and no more; years are an age. */
function isUnit(heading: string): boolean {
  const unit = statedUnit(heading);
  const isAlone = unit !== null && unit.times < 12 && wordsOf(heading, KNOWN).length === 1;
  return heading === "" || isAlone;
}

function intervals({ page }: Found, rows: readonly number[], column: number): string | null {
  const values = rows.map((row) => page.sheet.values[row]?.[column] ?? null);
  const months = values.filter((value) => {
    const known = Number.isInteger(value) ? ownMonths(value, MONTHS) : null;
    return known !== null && known <= LONGEST_SENSIBLE;
  });
  const isAll = months.length >= FEWEST && months.length >= rows.length * NEARLY_ALL;
  // Numbers that go up row by row number the rows.
  const isFew = new Set(months).size * 2 <= months.length;
  return isAll && isFew ? "whose numbers stand right beside the dates under" : null;
}
