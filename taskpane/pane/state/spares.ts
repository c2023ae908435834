import { unitsTaken } from "../../../src/book/records/positions.ts";
import type { Reading } from "../../../src/book/records/records.ts";
import { judgedShelf } from "../../../src/book/records/shelf.ts";
import { siteOf } from "../../../src/book/records/site-names.ts";

/**
 * Places that lack the spares the programme wants to have at hand: of every part that wears, enough for
 * one replacement at each site, for each device, or once for all. Null where there is no Shelf. What
 * cannot be counted on is not there.
 */
export function sparesMissing({ ours, devices }: Reading): number | null {
  const { sites, shelf, parts, settings } = ours;
  if (shelf.length === 0) return null;
  const together = settings.spares === "programme";
  const served = new Map<string, number>();
  for (const { site, retired } of devices) {
    const place = together ? "" : siteOf(sites, site);
    if (!retired) served.set(place, (served.get(place) ?? 0) + 1);
  }
  const judged = judgedShelf({ ours, devices });
  let missing = 0;
  for (const part of parts.filter(({ task }) => !task)) {
    const here = judged.filter((row) => row.part === part);
    for (const [place, inService] of served) {
      const { perReplacement } = part.supply;
      const wanted = settings.spares === "device" ? inService * unitsTaken(part) : perReplacement;
      const units = here
        .filter(({ site }) => together || site === place)
        .reduce((sum, { onHand }) => sum + onHand, 0);
      if (units < wanted) missing += 1;
    }
  }
  return missing;
}
