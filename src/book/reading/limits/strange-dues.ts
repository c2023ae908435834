import { addMonths, type Day, isoText } from "../../../core/day.ts";
import { eachPosition } from "../../records/positions.ts";
import { counted, notice } from "../../records/problems.ts";
import type { Device, Ours, Part, Problem } from "../../records/records.ts";
import { quoted } from "../../workbook/cells.ts";
import { steadyStep } from "./idle-limits.ts";
import { areCopied, type Dues, ownDues } from "./own-due-faults.ts";
import { isUsual } from "./own-limit-habits.ts";
import type { Found } from "../register/register.ts";

/** Days, on the average. */
const A_YEAR = 365.2425;
/** So many years are looked at, and the days between the two date systems, which are four. */
const YEARS = [1, 2, 3, 4, 5];
const DATE_SYSTEMS = 1462;
/** So many rows, and so large a share of them, are no chance. */
const FEWEST = 3;
const MANY = 1 / 3;

/** What is told of columns of own due dates that stand strangely to the last replacements. */
export function strangeDues(found: Found, ours: Ours, devices: readonly Device[]): Problem[] {
  const units = ours.parts.flatMap((part) => [...new Set([part, ...eachPosition(part)])]);
  return units.flatMap((part) => {
    const dues = ownDues(found, ours, { part, devices });
    if (dues === null) return [];
    const rows = { found, dues, devices };
    return [...yearsLate(rows, part), ...metByMany(rows), ...filledDown(rows)];
  });
}

interface Rows {
  readonly found: Found;
  readonly dues: Dues;
  readonly devices: readonly Device[];
}

/**
 * Columns of own due dates that are years beyond such as would be stricter than ours in most rows: the year of all of
 * them may be mistyped, and ours, which counts, would then be calmer than what was meant.
 */
function yearsLate({ found, dues, devices }: Rows, { longest }: Part): Problem[] {
  if (longest === null) return [];
  const isStricter = (date: number, last: Day): boolean =>
    date > addMonths(last, 1) && date < addMonths(last, longest);
  const late = devices.flatMap((device, at) => {
    const [date, last] = [dues.column.dates[at] ?? null, dues.lasts[at] ?? null];
    if (device.retired || date === null || last === null) return [];
    const meant = [...YEARS.map((years) => date - Math.round(years * A_YEAR)), date - DATE_SYSTEMS];
    return meant.some((one) => isStricter(one, last)) ? [{ device, date }] : [];
  });
  const [first] = late;
  if (first === undefined || !isUsual(late.length, devices)) return [];
  const { column, heading } = dues.column;
  return [
    notice(
      "own limit unclear",
      { sheet: found.page.sheet.name, row: null, column, heading },
      `${quoted(heading)} has days more than a year after the last replacement, such as ${isoText(first.date)} for ${first.device.id}; ours are earlier and count, but with an earlier year they would be stricter than ours.`,
      "See whether the year is right; if not, correct it.",
    ),
  ];
}

/**
 * Own due dates of many rows that are not after the last replacement. In one row it was met; a column of them may be old or
 * mistyped, and what was meant stricter than ours.
 */
function metByMany({ found, dues, devices }: Rows): Problem[] {
  const both = dues.standing.filter((one) => one !== null).length;
  const met = devices.filter((_, at) => dues.standing[at] === "met");
  const stricter = dues.standing.filter((one) => one === "stricter").length;
  // Those rows are in doubt already.
  if (areCopied(dues) || isUsual(stricter, devices)) return [];
  if (met.length < FEWEST || met.length < both * MANY) return [];
  const { column, heading } = dues.column;
  const [first] = met;
  return [
    notice(
      "own limit unclear",
      { sheet: found.page.sheet.name, row: null, column, heading },
      `${met.length} of ${both} days under ${quoted(heading)} are not after the last replacement, such as that of ${first?.id ?? ""}, so ours count there, which may be later than was meant.`,
      "Type the next dates, or correct their years.",
    ),
  ];
}

/** Own due dates that go on by the same step where the last replacements do not: a cell was dragged down over them. */
function filledDown({ found, dues, devices }: Rows): Problem[] {
  const { column, heading, dates } = dues.column;
  const serving = devices.flatMap(({ retired }, at) => (retired ? [] : [at]));
  const step = steadyStep(serving.map((at) => dates[at] ?? null));
  if (step === null || steadyStep(serving.map((at) => dues.lasts[at] ?? null)) !== null) return [];
  return [
    notice(
      "own limit unclear",
      { sheet: found.page.sheet.name, row: null, column, heading },
      `The days under ${quoted(heading)} go on by ${counted(step, "day")} from row to row, as a cell that is dragged down fills them: some of them may be later than was meant.`,
      "Type the due dates as they were.",
    ),
  ];
}
