import {
  certain,
  convolution,
  type Distribution,
  mapped,
  meanOf,
  quantileOf,
} from "../../core/distribution.ts";
import { commonDivisor } from "../../core/divisor.ts";
import { spanDistribution } from "../year/need.ts";
import type { Year } from "../year/year.ts";
import type { FiscalYear } from "./fiscal.ts";
import { unitsEach } from "../records/positions.ts";
import type { PlaceBudget } from "./need.ts";

/** Steps of money in which a cost is told apart at most. */
const MOST_STEPS = 1_000_000;

/**
 * What has to be put aside so that the year's replacements can be paid with a given chance: the cost that
 * is enough with that chance, less the expected one. Numbers of replacements of different parts do not
 * depend on each other; the cost of each number is added up chance by chance, rounded up to a step of
 * money where prices have no common one. What is needed in any case is not rounded.
 */
export function contingency(
  year: Year,
  fiscal: FiscalYear,
  { budgets, level }: { readonly budgets: readonly PlaceBudget[]; readonly level: number },
): number {
  const [first, last] = [fiscal.quarters[0]?.first ?? 0, fiscal.quarters.at(-1)?.last ?? 0];
  const priced = year.parts.flatMap((found) => {
    const price = unitPrice(budgets.filter(({ part }) => part.code === found.part.code));
    const counts = price > 0 ? spanDistribution(found, year.horizon, [first, last]) : null;
    return counts === null ? [] : [{ counts, cents: Math.round(price * 100) }];
  });
  const sure = priced.reduce((sum, { counts, cents }) => sum + cents * counts.least, 0);
  const expected = priced.reduce((sum, { counts, cents }) => sum + cents * meanOf(counts), 0);
  const { step, costs } = costsAbove(priced);
  const reached = sure + quantileOf(costs, level) * step;
  return Math.max(0, Math.ceil(reached - expected - 1e-6)) / 100;
}

interface Priced {
  readonly counts: Distribution;
  readonly cents: number;
}

/** Chances of each cost above what is needed in any case, in steps of so many cents. */
function costsAbove(priced: readonly Priced[]): { step: number; costs: Distribution } {
  const most = priced.reduce(
    (sum, { counts, cents }) => sum + cents * (counts.chances.length - 1),
    0,
  );
  const common = priced.reduce((divisor, { cents }) => commonDivisor(divisor, cents), 0);
  const step = Math.max(1, common, Math.ceil(most / MOST_STEPS));
  const costs = priced.map(({ counts: { chances }, cents }) =>
    mapped({ least: 0, chances }, (count) => Math.ceil((count * cents) / step)),
  );
  return { step, costs: costs.reduce((sum, one) => convolution(sum, one), certain(0)) };
}

/** What one unit costs over the year, prices before and after a rise weighed by what is used. */
function unitPrice(budgets: readonly PlaceBudget[]): number {
  let units = 0;
  let cost = 0;
  for (const { part, quarters } of budgets) {
    for (const quarter of quarters) {
      if (quarter.price === null) return 0;
      units += quarter.units / unitsEach(part);
      cost += (quarter.units * quarter.price) / part.supply.pack;
    }
  }
  return units === 0 ? 0 : cost / units;
}
