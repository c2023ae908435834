import type { Site } from "./records.ts";

/** Sites by code: each place of a large programme asks for its own, and a list is gathered once. */
const gathered = new WeakMap<readonly Site[], ReadonlyMap<string, Site>>();

/** The first site with a code, spaces around it aside. */
export function siteByCode(sites: readonly Site[], code: string): Site | undefined {
  const known = gathered.get(sites);
  if (known !== undefined) return known.get(code);
  const byCode = new Map<string, Site>();
  for (const site of sites) {
    if (!byCode.has(site.code.trim())) byCode.set(site.code.trim(), site);
  }
  gathered.set(sites, byCode);
  return byCode.get(code);
}
