import { MONTHS, statedUnit } from "../../headings/own-limits.ts";
import { ownIntervalField, ownMonths } from "../../records/own-limits.ts";
import { eachPosition } from "../../records/positions.ts";
import { listed, notice } from "../../records/problems.ts";
import type { Device, Ours, Part, Problem } from "../../records/records.ts";
import { isBlank, quoted } from "../../workbook/cells.ts";
import { ownDues } from "./own-due-faults.ts";
import { isUsual } from "./own-limit-habits.ts";
import type { Found } from "../register/register.ts";

const NAMED = 6;

/**
 * Devices without a limit of their own where the fewer have one that is stricter than ours: ours counts for them, as it
 * must in a column of exceptions, and is told. Where most have one, a row without is in doubt (own-limit-habits.ts).
 */
export function blankLimits(found: Found, ours: Ours, devices: readonly Device[]): Problem[] {
  return ours.parts.flatMap((part) => [
    ...[...new Set([part, ...eachPosition(part)])].flatMap((one) =>
      blankDues(found, ours, { part: one, devices }),
    ),
    ...blankIntervals(found, part, devices),
  ]);
}

function blankDues(
  found: Found,
  ours: Ours,
  { part, devices }: { readonly part: Part; readonly devices: readonly Device[] },
): Problem[] {
  const dues = ownDues(found, ours, { part, devices });
  if (dues === null) return [];
  const { column, lasts, standing } = dues;
  const stricter = standing.filter((one) => one === "stricter").length;
  const blank = devices.filter(
    ({ row, retired }, at) =>
      !retired && (lasts[at] ?? null) !== null && isBlank(cellIn(found, row, column.column)),
  );
  return told(found, column, {
    ...{ blank, stricter, devices, what: "date" },
    others: "have one that is earlier than ours may be",
  });
}

function blankIntervals(found: Found, part: Part, devices: readonly Device[]): Problem[] {
  const column = found.columns.get(ownIntervalField(part));
  if (column === undefined) return [];
  const heading = found.register.headings[column] ?? "";
  const unit = statedUnit(heading) ?? MONTHS;
  const serving = devices.filter(({ retired }) => !retired);
  const months = serving.flatMap(({ row }) => ownMonths(cellIn(found, row, column), unit) ?? []);
  const stricter = months.filter((one) => one < (part.longest ?? Infinity)).length;
  // What is neither a number nor nothing is asked about in its cell.
  const blank = serving.filter(({ row }) => isBlank(cellIn(found, row, column)));
  const least = months.reduce((one, other) => Math.min(one, other), Infinity);
  const most = months.reduce((one, other) => Math.max(one, other), 0);
  const others = `have ${least === most ? least : `${least} to ${most}`} months`;
  return told(found, { column, heading }, { blank, stricter, devices, what: "interval", others });
}

function cellIn({ page: { sheet } }: Found, row: number, column: number) {
  return sheet.values[row]?.[column] ?? null;
}

function told(
  { page }: Found,
  { column, heading }: { readonly column: number; readonly heading: string },
  {
    blank,
    stricter,
    devices,
    what,
    others,
  }: {
    readonly blank: readonly Device[];
    /** How many are stricter than ours. */
    readonly stricter: number;
    readonly devices: readonly Device[];
    readonly what: string;
    readonly others: string;
  },
): Problem[] {
  if (blank.length === 0 || stricter === 0 || isUsual(stricter, devices)) return [];
  const place = { sheet: page.sheet.name, row: null, column, heading };
  const names = listed(
    blank.map(({ id }) => quoted(id)),
    NAMED,
  );
  const has = blank.length === 1 ? "has" : "have";
  const cause = `${names} ${has} no ${what} under ${quoted(heading)}, where others ${others}: ours counts, which may be longer.`;
  const fix = `Type the ${what}; where there is none, type a dash.`;
  return [notice("own limit missing", place, cause, fix)];
}
