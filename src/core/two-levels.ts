import { countAbove } from "./count-distribution.ts";
import { InputError, requireNotBelowZero } from "./errors.ts";
import { twoLevelShort } from "./place.ts";

/** A site that a central store fills up. */
export interface Supplied {
  /** Units called for a month, zero or more. */
  readonly perMonth: number;
  /** Months that a unit is on its way from the store. */
  readonly leadMonths: number;
}

/** Where spares lie, and what they leave to be expected. */
export interface SharedOut {
  readonly store: number;
  /** Units at each site, in the order given. */
  readonly sites: readonly number[];
  /** Expected units short at all sites together, and what they would be with all units in the store. */
  readonly short: number;
  readonly inStore: number;
}

/** Numbers kept in the store that are tried at most. */
const MOST_TRIES = 40;

/** A unit at a site that is called for more rarely than this lies better in the store. */
const RARELY = 1e-6;

/**
 * So many spares shared out between a store and its sites that the least is expected to be short.
 *
 * For each number in the store the wait for it follows from the two-level equations (`twoLevelShort`); the others go
 * one after the other where one more lowers the shortage most, which is the chance that calls exceed those there: the
 * best there is, for it falls with every unit. Of more than 40 numbers some are passed over.
 *
 * @param units Spares in all, whole, zero or more.
 * @param leadMonths Months until a unit has come to the store, above 0.
 * @param sites The sites, at least one of which calls.
 * @returns Spares in the store and at the sites; those that are of no use at a site stay in the store.
 * @throws InputError if a number is none of these.
 * @see Sherbrooke 1968, Operations Research 16, the two-level equations and marginal analysis (from memory).
 * @example
 * shareOut(5, 1.5, [{ perMonth: 1, leadMonths: 0.1 }, { perMonth: 0.2, leadMonths: 0.1 }]).sites // => [2, 1]
 */
export function shareOut(units: number, leadMonths: number, sites: readonly Supplied[]): SharedOut {
  requireNotBelowZero("units", units);
  if (!Number.isInteger(units)) throw new InputError("units", "a whole number", units);
  if (!(leadMonths > 0)) throw new InputError("leadMonths", "above 0", leadMonths);
  const step = Math.max(1, Math.ceil((units + 1) / MOST_TRIES));
  const all = withStore(units, 0, leadMonths, sites);
  let best = all;
  for (let store = units - step; store >= 0; store -= step) {
    const one = withStore(store, units - store, leadMonths, sites);
    // The fewer at sites the better where it makes no difference.
    if (one.short < best.short * (1 - 1e-9)) best = one;
  }
  return { ...best, inStore: all.short };
}

function withStore(
  store: number,
  others: number,
  leadMonths: number,
  sites: readonly Supplied[],
): Omit<SharedOut, "inStore"> {
  const centre = { stock: store, leadMonths };
  const { delay } = twoLevelShort(
    centre,
    sites.map((site) => ({ ...site, stock: 0 })),
  );
  const gains = sites.flatMap(({ perMonth, leadMonths: way }, site) => {
    const mean = perMonth * (way + delay);
    const own: { readonly site: number; readonly gain: number }[] = [];
    for (let stock = 0; stock < others; stock += 1) {
      const gain = countAbove(stock, { mean });
      if (gain < RARELY) break;
      own.push({ site, gain });
    }
    return own;
  });
  const taken = gains.sort((one, other) => other.gain - one.gain).slice(0, others);
  const there = sites.map(() => 0);
  for (const { site } of taken) there[site] = (there[site] ?? 0) + 1;
  const left = store + others - taken.length;
  const { short } = twoLevelShort(
    { ...centre, stock: left },
    sites.map((site, at) => ({ ...site, stock: there[at] ?? 0 })),
  );
  return { store: left, sites: there, short: short.reduce((sum, one) => sum + one, 0) };
}
