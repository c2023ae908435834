import { keyOf } from "../workbook/cells.ts";
import type { Site } from "./records.ts";

/** What spellings of a site have in common: letter case and runs of spaces do not matter. */
export function siteKey(text: string): string {
  return keyOf(text);
}

/** The code of the site meant by a code, a name or an earlier name; the text itself where none fits. */
export function siteOf(sites: readonly Site[], text: string): string {
  const key = siteKey(text);
  if (key === "") return "";
  return codesOf(sites).get(key) ?? text.trim();
}

/** The first site with a code, spaces around it aside. */
export function siteByCode(sites: readonly Site[], code: string): Site | undefined {
  const known = byCodes.get(sites);
  if (known !== undefined) return known.get(code);
  const byCode = new Map<string, Site>();
  for (const site of sites) {
    if (!byCode.has(site.code.trim())) byCode.set(site.code.trim(), site);
  }
  byCodes.set(sites, byCode);
  return byCode.get(code);
}

/** Sites by their codes: each place of a large programme asks for its own. */
const byCodes = new WeakMap<readonly Site[], ReadonlyMap<string, Site>>();

/** Codes by every name of a list of sites: it is asked once a device, and gathered once a list. */
const gathered = new WeakMap<readonly Site[], ReadonlyMap<string, string>>();

function codesOf(sites: readonly Site[]): ReadonlyMap<string, string> {
  const known = gathered.get(sites);
  if (known !== undefined) return known;
  const codes = new Map<string, string>();
  // A code goes before a name, a name before an earlier one; among equals the first row.
  const name = (text: string, { code }: Site): void => {
    const key = siteKey(text);
    if (!codes.has(key)) codes.set(key, code.trim());
  };
  for (const site of sites) name(site.code, site);
  for (const site of sites) name(site.name, site);
  for (const site of sites) for (const earlier of site.earlierNames) name(earlier, site);
  gathered.set(sites, codes);
  return codes;
}
