import { identifierAt, quoted } from "../workbook/cells.ts";
import { counted, listed, notice } from "../records/problems.ts";
import type { Device, Ours, Problem } from "../records/records.ts";
import type { Found } from "./register.ts";
import { siteKey } from "../records/site-names.ts";

/** The first spelling of every site of the register, by what all its spellings have in common. */
export function firstSpellings({ page, columns, register }: Found): ReadonlyMap<string, string> {
  const first = new Map<string, string>();
  const column = columns.get("site");
  if (column === undefined) return first;
  for (const row of register.rows) {
    const text = identifierAt(page, row, column);
    const key = siteKey(text);
    if (!first.has(key)) first.set(key, text);
  }
  return first;
}

/** Our sheets with the Shelf's sites spelled as in the register; what was given where nothing differs. */
export function spelledShelf(ours: Ours, spellings: ReadonlyMap<string, string>): Ours {
  const shelf = ours.shelf.map((item) => {
    const site = spellings.get(siteKey(item.site)) ?? item.site;
    return site === item.site ? item : { ...item, site };
  });
  return shelf.every((item, at) => item === ours.shelf[at]) ? ours : { ...ours, shelf };
}

/** A device whose site is spelled as in its first row. */
type Spelled = Pick<Device, "row" | "id" | "site">;

/** Every further spelling of a site, told once at its first cell. */
export function spellingNotices(found: Found, named: readonly Spelled[]): Problem[] {
  const { page, columns, register, siteByRow } = found;
  const column = columns.get("site");
  if (column === undefined) return [];
  const heading = register.headings[column] ?? "";
  const others = new Map<string, Spelled[]>();
  for (const device of named) {
    const written = siteByRow.get(device.row) ?? identifierAt(page, device.row, column);
    if (written === device.site) continue;
    const same = others.get(written);
    if (same === undefined) others.set(written, [device]);
    else same.push(device);
  }
  return [...others].map(([written, devices]) => {
    const site = devices[0]?.site ?? "";
    const row = devices[0]?.row ?? null;
    const ids = listed(devices.map(({ id }) => id));
    return notice(
      "site spelled twice",
      { sheet: page.sheet.name, row, column, heading },
      `${quoted(written)} is taken to be ${quoted(site)}, as spelled in an earlier row: ${counted(devices.length, "device")}, ${ids}.`,
      `Write ${site} there.`,
    );
  });
}
