import { slips } from "../../headings/words.ts";
import { notice } from "../../records/problems.ts";
import type { Problem } from "../../records/records.ts";
import { siteKey } from "../../records/site-names.ts";
import { quoted } from "../../workbook/cells.ts";
import type { Fleet, Named } from "./devices.ts";

/** Letters from which on one more, or another, is taken for a slip. */
const SHORTEST = 5;

/**
 * Sites of one device whose names are a slip away from those of several: where that is one, the device is bought for
 * at a place that is none. "Ward 1" and "Ward 2", "Site A" and "Site B" are no slips.
 */
export function sitesAlike(fleets: readonly Fleet[]): Problem[] {
  const devices = new Map<string, { readonly fleet: Fleet; readonly named: Named[] }>();
  for (const fleet of fleets) {
    for (const one of fleet.named) {
      const known = devices.get(siteKey(one.site));
      if (known === undefined) devices.set(siteKey(one.site), { fleet, named: [one] });
      else known.named.push(one);
    }
  }
  return [...devices].flatMap(([key, { fleet, named }]): Problem[] => {
    const [only, ...others] = named;
    if (only === undefined || others.length > 0) return [];
    const near = [...devices].find(
      ([other, { named: many }]) => many.length > 1 && isSlip(key, other),
    );
    const meant = near?.[1].named[0]?.site;
    if (meant === undefined) return [];
    const cause = `${quoted(only.site)} may be ${quoted(meant)}; ${only.id} alone is there.`;
    const fix = `If it is, write ${meant}; it counts as a site of its own until then.`;
    return [notice("sites alike", fleet.placeOf(only), cause, fix)];
  });
}

function isSlip(one: string, other: string): boolean {
  const [words, others] = [one.split(" "), other.split(" ")];
  if (words.length !== others.length) return false;
  const differing = words.flatMap((word, at) => {
    const beside = others[at] ?? "";
    return word === beside ? [] : [[word, beside] as const];
  });
  const [pair, ...more] = differing;
  if (pair === undefined || more.length > 0) return false;
  const [word, beside] = pair;
  const shortest = Math.min(word.length, beside.length);
  return shortest >= SHORTEST && !/\d/u.test(word + beside) && slips(word, beside) === 1;
}
