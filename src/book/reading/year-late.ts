import { addMonths, isoText } from "../../core/day.ts";
import { eachPosition } from "../records/positions.ts";
import { notice } from "../records/problems.ts";
import type { Device, Ours, Problem } from "../records/records.ts";
import { quoted } from "../workbook/cells.ts";
import { ownDues } from "./own-due-faults.ts";
import { isUsual } from "./own-limit-habits.ts";
import type { Found } from "./register.ts";

const A_YEAR = 12;

/**
 * Columns of own due dates that are a year beyond such as would be stricter than ours in most rows: the year of all of
 * them may be mistyped, and ours, which counts, would then be calmer than what was meant.
 */
export function yearLate(found: Found, ours: Ours, devices: readonly Device[]): Problem[] {
  const units = ours.parts.flatMap((part) => [...new Set([part, ...eachPosition(part)])]);
  return units.flatMap((part): Problem[] => {
    const dues = ownDues(found, ours, { part, devices });
    const { longest } = part;
    if (dues === null || longest === null) return [];
    const late = devices.flatMap((device, at) => {
      const [date, last] = [dues.column.dates[at] ?? null, dues.lasts[at] ?? null];
      if (device.retired || date === null || last === null) return [];
      const meant = addMonths(date, -A_YEAR);
      return meant > addMonths(last, 1) && meant < addMonths(last, longest)
        ? [{ device, date }]
        : [];
    });
    const [first] = late;
    if (first === undefined || !isUsual(late.length, devices)) return [];
    const { column, heading } = dues.column;
    return [
      notice(
        "own limit unclear",
        { sheet: found.page.sheet.name, row: null, column, heading },
        `${quoted(heading)} has days more than a year after the last replacement, such as ${isoText(first.date)} for ${first.device.id}; ours are earlier and count, but a year less would be stricter than ours.`,
        "See whether the year is right; if not, correct it.",
      ),
    ];
  });
}
