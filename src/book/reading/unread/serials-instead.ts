import { CERTAIN, matcherFor } from "../../headings/match.ts";
import { notice } from "../../records/problems.ts";
import type { Part, Problem } from "../../records/records.ts";
import { identifierAt, keyOf, quoted, textOf } from "../../workbook/cells.ts";
import type { CellValue } from "../../workbook/snapshot.ts";
import type { Named } from "../devices/devices.ts";
import { isNothing } from "../limits/own-limit-habits.ts";
import type { Found } from "../register/register.ts";

/** A column headed as that of the devices whose cells name none, or the same in each row, so that serial numbers stand in. */
export function serialsInstead(
  found: Found,
  named: readonly Named[],
  parts: readonly Part[],
): Problem[] {
  const matcher = matcherFor(parts);
  const { page, register, matching } = found;
  const device = register.matches.find(({ field, by }) => field === "device" && by === "heading");
  const own = matcher.fields.find(({ key }) => key === "device");
  if (device === undefined || own === undefined) return [];
  if (matcher.likeness(device.heading, own, null) >= CERTAIN) return [];
  const used = new Set(register.matches.map(({ column }) => column));
  const headed = matching.candidates.find(
    ({ column, heading }) => !used.has(column) && matcher.likeness(heading, own, null) >= CERTAIN,
  );
  if (headed === undefined) return [];
  const { column, heading } = headed;
  const cells = named.map(({ row }) => page.sheet.values[row]?.[column] ?? null);
  const names = cells.filter(isName).map((value) => keyOf(textOf(value)));
  const isOne =
    names.length === cells.length && new Set(names).size === 1 && /\d/.test(names[0] ?? "");
  if (cells.length < 2 || (!isOne && names.length * 2 > cells.length)) return [];
  const why = isOne
    ? `has ${quoted(identifierAt(page, named[0]?.row ?? 0, column))} in each row`
    : "names few or none";
  const cause = `${quoted(heading)} is headed as the column of the devices, but ${why}, so ${quoted(device.heading)} stands in for it.`;
  const place = { sheet: page.sheet.name, row: null, column, heading };
  const fix = "Type the name of each device there; if it is something else, rename it.";
  return [notice("device column", place, cause, fix)];
}

/** Whether a cell may name a device: no error, date, dash, ditto mark or zero. */
function isName(value: CellValue): boolean {
  return typeof value === "string"
    ? /[\p{L}1-9]/u.test(value) && !isNothing(value)
    : isNumber(value);
}

function isNumber(value: CellValue): boolean {
  return typeof value === "number" && value > 0;
}
