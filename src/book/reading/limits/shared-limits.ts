import { addMonths } from "../../../core/day.ts";
import { MONTHS, statedUnit } from "../../headings/own-limits.ts";
import { isOwnLimit, ownMonths, partOfField } from "../../records/own-limits.ts";
import { isLastDone } from "../../records/positions.ts";
import { fault, listed } from "../../records/problems.ts";
import type { ColumnMatch, Part, Problem } from "../../records/records.ts";
import { quoted, trueDate } from "../../workbook/cells.ts";
import type { Named } from "../devices/devices.ts";
import type { Found } from "../register/register.ts";

/** From this share of rows on, dates so many months after a part's own are that part's. */
const NEARLY_ALL = 0.8;

/**
 * Limits whose heading names no part behind the dates of several parts: they count for the last of them alone, and may be
 * of the others too, for which some are stricter than ours.
 */
export function sharedLimits(
  found: Found,
  named: readonly Named[],
  parts: readonly Part[],
): Problem[] {
  const { matches, asked } = found.matching;
  const rows = named.filter(({ retired }) => !retired).map(({ row }) => row);
  return asked.bare.flatMap(({ kind, match }): Problem[] => {
    if (match === null) return [];
    const run = datesBefore(match, matches);
    const own = run.find(({ field }) => partOfField(field) === partOfField(match.field));
    if (own !== undefined && kind === "due" && isOf({ found, rows, match }, own)) return [];
    const others = run.flatMap((last) => {
      const part = parts.find(({ code }) => code === partOfField(last.field));
      const isIts = part !== undefined && part.code !== partOfField(match.field);
      return isIts && mayBeStricter({ found, rows, match }, { kind, last, part }) ? [last] : [];
    });
    if (others.length === 0) return [];
    const { column, heading } = match;
    const names = listed(others.map((one) => quoted(one.heading)));
    return [
      fault(
        "own limit unclear",
        { sheet: found.page.sheet.name, row: null, column, heading },
        `${quoted(heading)} counts for ${partOfField(match.field) ?? ""} alone, and may be the limit of ${names} too, for which some of it is stricter than ours.`,
        "Name the part in the heading; give each part that it is of a column.",
      ),
    ];
  });
}

/** The dates of parts that stand side by side before a column, its own part's last. */
function datesBefore({ column }: ColumnMatch, matches: readonly ColumnMatch[]): ColumnMatch[] {
  const run: ColumnMatch[] = [];
  for (let at = column - 1; at >= 0; at -= 1) {
    const match = matches.find((one) => one.column === at);
    const isLimit = match !== undefined && isOwnLimit(match.field);
    if (match !== undefined && isLastDone(match.field)) run.unshift(match);
    // A limit right before this one is the same part's; one before dates is of the dates before it.
    else if (!isLimit || run.length > 0) break;
  }
  return run;
}

interface Column {
  readonly found: Found;
  readonly rows: readonly number[];
  readonly match: ColumnMatch;
}

/** Whether nearly all due dates are whole months after those of a part, so that they are its own. */
function isOf({ found: { page }, rows, match }: Column, { column }: ColumnMatch): boolean {
  const both = rows.flatMap((row) => {
    const [from, to] = [trueDate(page, row, column), trueDate(page, row, match.column)];
    return from === null || to === null ? [] : [{ from, to }];
  });
  const whole = both.filter(({ from, to }) => {
    const months = Math.round((to - from) / 30.44);
    return months > 0 && addMonths(from, months) === to;
  });
  return both.length > 0 && whole.length >= both.length * NEARLY_ALL;
}

/** Whether a row's limit would be stricter than our longest interval, were it this part's. */
function mayBeStricter(
  { found, rows, match: { column, heading } }: Column,
  {
    kind,
    last,
    part: { longest },
  }: { readonly kind: "due" | "every"; readonly last: ColumnMatch; readonly part: Part },
): boolean {
  const { page } = found;
  const unit = statedUnit(heading) ?? MONTHS;
  return rows.some((row) => {
    if (longest === null) return false;
    if (kind === "every") {
      return (ownMonths(page.sheet.values[row]?.[column] ?? null, unit) ?? Infinity) < longest;
    }
    const [from, to] = [trueDate(page, row, last.column), trueDate(page, row, column)];
    return from !== null && to !== null && from < to && to < addMonths(from, longest);
  });
}
