import { addMonths, day } from "../../core/day.ts";
import type { ShelfRow } from "../sheets/shelf.ts";
import type { Chance } from "./chance.ts";

const COUNTED = day("2026-07-01");

/** Spares at each site on the day they were counted; two sites are short, one waits for a delivery. */
export function shelfOf(sites: readonly string[], random: Chance): ShelfRow[] {
  return sites.flatMap((site, at): ShelfRow[] => {
    const expiry = addMonths(COUNTED, 6 + random.below(15));
    const lot = (): string => `L${String(2400 + random.below(90))}`;
    const sets = at === 2 ? 0 : 1 + random.below(2);
    const cushions = at === 5 ? 0 : 1 + random.below(3);
    const ordered = at === 2 ? 2 : null;
    return [
      ["SET", site, sets, COUNTED, ordered, ordered && day("2026-07-20"), lot(), expiry],
      ["CUSHION", site, cushions, COUNTED, null, null, lot(), addMonths(expiry, 12)],
    ];
  });
}
