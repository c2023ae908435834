import { periodOf } from "../../headings/period.ts";
import { folded } from "../../languages/words-of.ts";
import { isLastDone } from "../../records/positions.ts";
import { deviceKey } from "../../records/device-key.ts";
import { identifierAt } from "../../workbook/cells.ts";
import type { Matching } from "./register-sheet.ts";

/** No more than a number of few digits, as a site counts its devices from 1 on, or a word with a number or letter. */
const OWN_NUMBER = /^(?:#?\d{1,3}|(?:\p{L}+[.º°]?[ #]+)+(?:\d{1,3}|\p{L}))$/u;

/**
 * Whether two sheets number other devices alike: each is at another site, or they are numbers ("1", "Unit 1") beside
 * which no serial number, or without those no row of dates, is the same on both. Not where a name says another period,
 * or is the other's with a word more, as those of copies.
 */
export function numbersItsOwn(one: Matching, other: Matching): boolean {
  const [name, than] = [one, other].map(({ page }) => folded(page.sheet.name));
  if (name === undefined || than === undefined) return false;
  if (name.includes(than) || than.includes(name)) return false;
  if (periodOf(name) !== null || periodOf(than) !== null) return false;
  const has = (field: string, { matches }: Matching): boolean =>
    matches.some((match) => match.field === field);
  const both = (field: string): boolean => has(field, one) && has(field, other);
  const isSerial = both("serial");
  const differ = (tells: (field: string) => boolean, isOne: (key: string) => boolean): boolean => {
    const [own, theirs] = [said(one, tells), said(other, tells)];
    return (
      [...own.keys(), ...theirs.keys()].every(isOne) &&
      [...own].every(([key, text]) => theirs.get(key) !== text)
    );
  };
  if (
    both("site") &&
    differ(
      (field) => field === "site",
      () => true,
    )
  )
    return true;
  return differ(
    (field) => (isSerial ? field === "serial" : isLastDone(field)),
    (key) => OWN_NUMBER.test(key),
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
