import { MONTHS, statedUnit } from "../../headings/own-limits.ts";
import { ownDays, ownIntervalField } from "../../records/own-limits.ts";
import { type CellPlace, notice } from "../../records/problems.ts";
import type { Ours, Part, Problem } from "../../records/records.ts";
import { quoted, textOf } from "../../workbook/cells.ts";
import type { CellValue } from "../../workbook/snapshot.ts";
import type { Named } from "../devices/devices.ts";
import type { Found } from "../register/register.ts";

/** Columns of the register's own intervals, some of them shorter than a month. */
export function shortIntervals(found: Found, ours: Ours, named: readonly Named[]): Problem[] {
  return ours.parts.flatMap((part) => shortOf(found, part, named));
}

function shortOf(found: Found, part: Part, named: readonly Named[]): Problem[] {
  const column = found.columns.get(ownIntervalField(part));
  if (column === undefined) return [];
  const { sheet } = found.page;
  const heading = found.register.headings[column] ?? "";
  const unit = statedUnit(heading) ?? MONTHS;
  const valueIn = (row: number): CellValue => sheet.values[row]?.[column] ?? null;
  const short = named.find(({ row, retired }) => !retired && ownDays(valueIn(row), unit) !== null);
  const whole = { sheet: sheet.name, row: null, column, heading };
  return short === undefined ? [] : [shorterThanMonth(whole, valueIn(short.row))];
}

/** Due dates count days; what looks ahead counts whole months. */
function shorterThanMonth(place: CellPlace, value: CellValue): Problem {
  const cause = `${quoted(place.heading)} has intervals shorter than a month, such as ${quoted(textOf(value))}. Due dates count them to the day; the year ahead, orders and budget reckon with one replacement a month, too few.`;
  return notice("short own interval", place, cause, "Add what is missing by hand.");
}
