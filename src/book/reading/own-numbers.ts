import { periodOf } from "../headings/period.ts";
import { folded } from "../languages/words-of.ts";
import { isLastDone } from "../records/positions.ts";
import { deviceKey } from "../records/device-key.ts";
import { identifierAt } from "../workbook/cells.ts";
import type { Matching } from "./register-sheet.ts";

/** No more than a number of few digits, as a site counts its devices from 1 on. */
const BARE_NUMBER = /^\d{1,3}$/;

/**
 * Whether two sheets number other devices alike: bare numbers beside which no serial number, or without those no row of
 * dates, is the same on both. Not where a name says another period, or is the other's with a word more, as those of copies.
 */
export function numbersItsOwn(one: Matching, other: Matching): boolean {
  const [name, than] = [one, other].map(({ page }) => folded(page.sheet.name));
  if (name === undefined || than === undefined) return false;
  if (name.includes(than) || than.includes(name)) return false;
  if (periodOf(name) !== null || periodOf(than) !== null) return false;
  const has = (field: string, { matches }: Matching): boolean =>
    matches.some((match) => match.field === field);
  const isSerial = has("serial", one) && has("serial", other);
  const tells = (field: string): boolean => (isSerial ? field === "serial" : isLastDone(field));
  const [own, theirs] = [said(one, tells), said(other, tells)];
  return (
    [...own.keys(), ...theirs.keys()].every((key) => BARE_NUMBER.test(key)) &&
    [...own].every(([key, text]) => theirs.get(key) !== text)
  );
}

/** By device, what the cells of these fields hold. */
function said(
  { page, heading, lastRow, matches }: Matching,
  isOne: (field: string) => boolean,
): ReadonlyMap<string, string> {
  const device = matches.find(({ field }) => field === "device")?.column ?? 0;
  const columns = matches.filter(({ field }) => isOne(field));
  const byKey = new Map<string, string>();
  for (let row = heading.last + 1; row <= lastRow; row += 1) {
    const key = deviceKey(identifierAt(page, row, device));
    if (key === "") continue;
    const cells = columns.map(({ field, column }) => [field, page.sheet.values[row]?.[column]]);
    byKey.set(key, JSON.stringify(cells.sort()));
  }
  return byKey;
}
