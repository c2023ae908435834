import { evidenceOf } from "../../headings/column-profile.ts";
import { bothIn, tellApart } from "../../headings/device-column.ts";
import { matcherFor } from "../../headings/match.ts";
import { isOwnLimit } from "../../records/own-limits.ts";
import { isLastDone } from "../../records/positions.ts";
import { notice } from "../../records/problems.ts";
import type { Part, Problem } from "../../records/records.ts";
import { siteKey } from "../../records/site-names.ts";
import { keyOf, quoted, textOf } from "../../workbook/cells.ts";
import type { Named } from "./devices.ts";
import { namesParts } from "../rows/part-rows.ts";
import type { Found } from "../register/register.ts";

/** Rows from which on it shows that a column repeats itself. */
const FEWEST = 3;
/** Up to this share of different names a column is of types, or of numbers within a type, and of no devices. */
const REPEATS = 2 / 3;
/** As far as columns are looked at. */
const WIDEST = 20;
/** Fields that are no name of a device. */
const OTHERS = /^(?:site|status|note|uses|retiredOn|commissioned)$/;

/**
 * Told before all else where most devices stand in several rows under their heading ("Screener A" in three), and another
 * column names each, by itself or together with it: how to name them, so that each row is a device.
 */
export function devicePairs(
  found: Found,
  named: readonly Named[],
  parts: readonly Part[],
): Problem[] {
  const { page, register } = found;
  const device = register.matches.find(({ field }) => field === "device");
  const names = new Set(named.map(({ key }) => key));
  const isOnce = names.size > named.length * REPEATS;
  if (device === undefined || named.length < FEWEST || isOnce || areBySite(named)) return [];
  const rows = named.map(({ row }) => row);
  const others = otherColumns(found, device.column, { rows, parts });
  const alone = others.find((column) => tellApart(page, rows, [column]));
  const pair = others
    .map((column) => [column, device.column].sort((one, other) => one - other))
    .find((columns) => tellApart(page, rows, columns));
  const heading = (column = -1): string => register.headings[column] ?? "";
  const own = quoted(device.heading);
  const place = {
    sheet: page.sheet.name,
    row: null,
    column: device.column,
    heading: device.heading,
  };
  if (alone !== undefined) {
    const cause = `${own} says the same in several rows, so none of their dates can be judged; ${quoted(heading(alone))} has another text in each.`;
    const fix = `If that names the devices, give --match "device=${heading(alone)}".`;
    return [notice("device column", place, cause, fix)];
  }
  if (pair === undefined) return [];
  const [one, two] = pair;
  const cause = `${own} says the same in several rows, so none of their dates can be judged; ${quoted(heading(one))} and ${quoted(heading(two))} together say another text in each.`;
  const both = quoted(bothIn(page, rows[0] ?? 0, pair));
  const fix = `If they name the devices, write both into the cells of ${own}, such as ${both}, in the counts and in the Job log too.`;
  return [notice("device column", place, cause, fix)];
}

/** Whether site and name are another in each row: what to do then, same-device.ts says. */
function areBySite(named: readonly Named[]): boolean {
  const sites = new Set(named.map(({ site }) => siteKey(site)));
  const both = new Set(named.map(({ site, id }) => keyOf(`${site}\n${id}`)));
  return sites.size > 1 && both.size === named.length;
}

/** Columns with a heading of their own that may name things, those nobody else reads first. */
function otherColumns(
  { page, register }: Found,
  device: number,
  { rows, parts }: { readonly rows: readonly number[]; readonly parts: readonly Part[] },
) {
  const partIn = namesParts(matcherFor(parts), parts);
  const [first = 0] = rows;
  const last = rows.at(-1) ?? first;
  const fieldAt = new Map(register.matches.map(({ column, field }) => [column, field]));
  const isName = (column: number): boolean => {
    const field = fieldAt.get(column);
    if (field !== undefined && (isLastDone(field) || isOwnLimit(field) || OTHERS.test(field))) {
      return false;
    }
    // Where each row is for a part of a device, that is told for itself.
    const isOfParts = partIn(textOf(page.sheet.values[first]?.[column] ?? null)) !== null;
    return !isOfParts && evidenceOf(page, column, first, last).dates === 0;
  };
  const isAlone = (text: string): boolean =>
    register.headings.filter((other) => keyOf(other) === keyOf(text)).length === 1;
  return register.headings
    .slice(0, WIDEST)
    .flatMap((text, column) =>
      text !== "" && column !== device && isAlone(text) && isName(column) ? [column] : [],
    )
    .sort((one, other) => Number(fieldAt.has(one)) - Number(fieldAt.has(other)));
}
