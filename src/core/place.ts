import { countAbove, countQuantile, expectedAbove, type Spread } from "./count-distribution.ts";
import { InputError, NoAnswerError } from "./errors.ts";
import { type Demand, leadDemand, reorderPoint } from "./stock.ts";

/** A site that keeps spares. */
export interface Site extends Demand {
  /** Cost of one spare there, above 0. */
  readonly unitCost: number;
}

/** A spare called for less often than once in so many lead times is not bought. */
const RARELY = 1e-6;

/** Most spares looked at in all: each is weighed against every other. */
const MOST_SPARES = 1_000_000;

/** Share of a cost that rounding may have added to it. */
const NEARLY = 1e-9;

/**
 * Spares for several sites from one budget: `minimumStock` each, then one after the other where a spare
 * lowers the expected shortage most for its cost, until none that is still of use can be paid.
 *
 * The next spare of a site lowers its expected shortage by the chance that demand exceeds the spares
 * it has. Equal gains go to the site named first. The way is greedy: what is spent is spent best, but
 * another choice may use up the last of the budget better. A spare needed less than once in a million
 * lead times is not bought however much is left.
 *
 * @param sites Demand, lead time and cost of a spare at each site.
 * @param budget Money for spares, zero or more.
 * @param minimumStock Spares that each site has in any case, whole, zero or more.
 * @returns Spares of each site, in the order given.
 * @throws InputError if a number is none of these, or demand asks for over a million spares;
 *   NoAnswerError if the minimum stocks alone cost more than the budget.
 * @example
 * placeSpares([{ perMonth: 0.5, leadMonths: 2, unitCost: 100 }, { perMonth: 0.1, leadMonths: 2, unitCost: 100 }], 400, 1) // => [3, 1]
 */
export function placeSpares(
  sites: readonly Site[],
  budget: number,
  minimumStock: number,
): number[] {
  if (!(Number.isFinite(budget) && budget >= 0)) {
    throw new InputError("budget", "zero or more", budget);
  }
  if (!(Number.isInteger(minimumStock) && minimumStock >= 0)) {
    throw new InputError("minimumStock", "a whole number, zero or more", minimumStock);
  }
  const spares = sites.map(() => minimumStock);
  let spent = 0;
  for (const { unitCost } of sites) {
    if (!(Number.isFinite(unitCost) && unitCost > 0)) {
      throw new InputError("unitCost", "above 0", unitCost);
    }
    spent += minimumStock * unitCost;
  }
  const most = budget * (1 + NEARLY);
  if (spent > most) {
    throw new NoAnswerError(`needs a budget of ${spent} for the floor of every site`);
  }
  for (const { index, cost } of gains(sites, minimumStock)) {
    // One too dear now stays so, and so do all further ones of its site.
    if (spent + cost > most) continue;
    spent += cost;
    spares[index] = (spares[index] ?? 0) + 1;
  }
  return spares;
}

// Every spare of use above the minimum stocks, the best for its cost first; those of a site in their order.
function gains(
  sites: readonly Site[],
  minimumStock: number,
): readonly { readonly index: number; readonly cost: number; readonly gain: number }[] {
  const all: { index: number; cost: number; gain: number }[] = [];
  sites.forEach((site, index) => {
    const demand = leadDemand(site);
    const last = countQuantile(1 - RARELY, demand);
    if (all.length + last - minimumStock > MOST_SPARES) {
      const wanted = `few enough for ${MOST_SPARES} spares in all`;
      throw new InputError("perMonth", wanted, site.perMonth);
    }
    for (let stock = minimumStock; stock < last; stock += 1) {
      const gain = countAbove(stock, demand) / site.unitCost;
      all.push({ index, cost: site.unitCost, gain });
    }
  });
  return all.sort((one, other) => other.gain - one.gain);
}

/**
 * Stock for several sites kept at each of them, and kept together for all.
 *
 * Together is enough where a part reaches every site within a day or two: peaks of one site then
 * meet lulls of another. No minimum stock is added.
 *
 * @param demands Demand of one lead time at each site.
 * @param serviceLevel Chance that the stock lasts, 0 up to but not 1.
 * @returns Units at each site (`each`) and in one place (`pooled`).
 * @throws InputError if serviceLevel or a demand is no such number.
 * @example
 * localAndPooled([{ mean: 0.4 }, { mean: 0.4 }, { mean: 0.4 }], 0.95) // => { each: [2, 2, 2], pooled: 3 }
 */
export function localAndPooled(
  demands: readonly Spread[],
  serviceLevel: number,
): { readonly each: readonly number[]; readonly pooled: number } {
  const cover = { serviceLevel, minimumStock: 0 };
  const each = demands.map((demand) => reorderPoint(demand, cover));
  let mean = 0;
  let variance = 0;
  for (const one of demands) {
    mean += one.mean;
    variance += Math.max(one.mean, one.variance ?? 0);
  }
  return { each, pooled: reorderPoint({ mean, variance }, cover) };
}

/** A stock and the months until a unit taken from it is replaced. */
export interface Shelf {
  /** Whole units, zero or more. */
  readonly stock: number;
  /** Months to replace a unit: from the maker for the centre, from the centre for a site. */
  readonly leadMonths: number;
}

/**
 * Expected shortages at sites that a central stock fills up unit by unit.
 *
 * A site waits, besides the way from the centre, on average as long as a unit is missing there:
 * expected shortage of the centre over all calls. Its own shortage is that of a Poisson count over
 * both times together.
 *
 * @param centre The central stock.
 * @param sites Stock, way and units a month of each site, at least one of them above 0.
 * @returns Months a unit is waited for at the centre (`delay`) and expected units short at each site.
 * @throws InputError if a number is below zero or a stock is not whole, or nothing is called for.
 * @see Sherbrooke 1968, Operations Research 16, the two-level equations (from memory).
 * @example
 * twoLevelShort({ stock: 0, leadMonths: 2 }, [{ stock: 0, leadMonths: 1, perMonth: 0.5 }]) // => { delay: 2, short: [1.5] }
 */
export function twoLevelShort(
  centre: Shelf,
  sites: readonly (Shelf & { readonly perMonth: number })[],
): { readonly delay: number; readonly short: readonly number[] } {
  for (const { stock } of [centre, ...sites]) {
    if (!(Number.isInteger(stock) && stock >= 0)) {
      throw new InputError("stock", "a whole number, zero or more", stock);
    }
  }
  const perMonth = sites.reduce((sum, site) => sum + site.perMonth, 0);
  if (!(perMonth > 0)) throw new InputError("perMonth", "above 0 at one site", perMonth);
  const central = leadDemand({ perMonth, leadMonths: centre.leadMonths });
  const delay = expectedAbove(centre.stock, central) / perMonth;
  const short = sites.map(({ stock, leadMonths, ...site }) =>
    expectedAbove(stock, leadDemand({ ...site, leadMonths: leadMonths + delay })),
  );
  return { delay, short };
}
