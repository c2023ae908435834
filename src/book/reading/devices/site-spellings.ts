import { identifierAt } from "../../workbook/cells.ts";
import type { Ours } from "../../records/records.ts";
import type { Found } from "../register/register.ts";
import { siteKey } from "../../records/site-names.ts";

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
