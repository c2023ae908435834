import { DAYS_PER_MONTH } from "../../core/counts.ts";
import { shareOut } from "../../core/two-levels.ts";
import { unitsEach } from "../records/positions.ts";
import type { Settings } from "../records/settings.ts";
import type { OrderPlace } from "./place.ts";

/** Days from the store to a site; own choice, no source. */
const WAY = 2;

/** Share of what would be short with all in the store below which it is told where else they lie; own choice, no source. */
const WORTH = 0.8;

/**
 * Where the spares of a store lie best, in a sentence: at the sites as far as the calls there ask for them, for they
 * wait longest that wait for the store. "" for a place that is no store, and where it makes little difference. In
 * simulation (docs/simulation.md) calls waited half as long for as many spares.
 */
export function sharedOutText(place: OrderPlace, { reviewDays }: Settings): string {
  const { part, store, safetyStock, callsAMonth } = place;
  const sites = [...callsAMonth].filter(([site, calls]) => site !== "" && calls > 0);
  if (!store || sites.length < 2) return "";
  const each = unitsEach(part);
  const found = shareOut(
    Math.floor(safetyStock / each),
    (part.supply.leadDays + reviewDays / 2) / DAYS_PER_MONTH,
    sites.map(([, perMonth]) => ({ perMonth, leadMonths: WAY / DAYS_PER_MONTH })),
  );
  if (found.short > WORTH * found.inStore) return "";
  const byUnits = new Map<number, string[]>();
  sites.forEach(([site], at) => {
    const units = (found.sites[at] ?? 0) * each;
    if (units > 0) byUnits.set(units, [...(byUnits.get(units) ?? []), site]);
  });
  const left = safetyStock - found.sites.reduce((sum, one) => sum + one * each, 0);
  const there = [...byUnits].map(
    ([units, codes]) => `${units}${codes.length > 1 ? " each" : ""} at ${codes.join(", ")}`,
  );
  return ` So that calls wait least, keep ${left} of the spares in the store; ${there.join("; ")}.`;
}
