import { type Counts, countReached, expectedCount, sumOf } from "../../core/fleet.ts";
import { spanCounts } from "../year/need.ts";
import type { Year } from "../year/year.ts";
import type { FiscalYear } from "./fiscal.ts";
import type { PlaceBudget } from "./need.ts";

/** Steps of money in which a cost is told apart at most. */
const MOST_STEPS = 200_000;

/**
 * What has to be put aside so that the year's replacements can be paid with a given chance: the cost that
 * is enough with that chance, less the expected one. Numbers of replacements of different parts do not
 * depend on each other; the cost of each number is added up chance by chance, rounded up to a step of
 * money where prices have no common one.
 */
export function contingency(
  year: Year,
  fiscal: FiscalYear,
  { budgets, level }: { readonly budgets: readonly PlaceBudget[]; readonly level: number },
): number {
  const [first, last] = [fiscal.quarters[0]?.first ?? 0, fiscal.quarters.at(-1)?.last ?? 0];
  const priced = year.parts.flatMap((found) => {
    const price = unitPrice(budgets.filter(({ part }) => part.code === found.part.code));
    const counts = price > 0 ? spanCounts(found, year.horizon, [first, last]) : null;
    return counts === null ? [] : [{ counts, cents: Math.round(price * 100) }];
  });
  if (priced.length === 0) return 0;
  const most = priced.reduce(
    (sum, { counts, cents }) => sum + cents * (counts.least + counts.chances.length),
    0,
  );
  const common = priced.reduce((divisor, { cents }) => greatest(divisor, cents), 0);
  const step = Math.max(common, Math.ceil(most / MOST_STEPS));
  const cost = sumOf(priced.map(({ counts, cents }) => spread(counts, Math.ceil(cents / step))));
  const expected = priced.reduce(
    (sum, { counts, cents }) => sum + cents * expectedCount(counts),
    0,
  );
  return Math.max(0, Math.ceil(countReached(cost, level) * step - expected - 1e-6)) / 100;
}

/** What one unit costs over the year, prices before and after a rise weighed by what is used. */
function unitPrice(budgets: readonly PlaceBudget[]): number {
  let units = 0;
  let cost = 0;
  for (const { part, quarters } of budgets) {
    for (const quarter of quarters) {
      if (quarter.price === null) return 0;
      const replacements = quarter.units / part.supply.perReplacement;
      units += replacements;
      cost += (replacements * part.supply.perReplacement * quarter.price) / part.supply.pack;
    }
  }
  return units === 0 ? 0 : cost / units;
}

/** Chances of so many times a count. */
function spread({ least, chances }: Counts, times: number): Counts {
  const wide = new Float64Array((chances.length - 1) * times + 1);
  chances.forEach((chance, at) => (wide[at * times] = chance));
  return { least: least * times, chances: wide };
}

function greatest(one: number, other: number): number {
  return other === 0 ? one : greatest(other, one % other);
}
