import { unitsEach } from "../records/positions.ts";
import type { Part } from "../records/records.ts";

/** What a scheduled and an unplanned replacement cost; null while a price is missing. */
export function costsOf(part: Part): { scheduled: number; unplanned: number } | null {
  const { packPrice, pack, earlyCost } = part.supply;
  if (packPrice === null || earlyCost === null) return null;
  return { scheduled: (packPrice / pack) * unitsEach(part), unplanned: earlyCost };
}
