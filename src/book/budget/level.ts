import { certain, convolution, type Distribution, mapped } from "../../core/distribution.ts";
import { commonDivisor } from "../../core/divisor.ts";
import { predictionAlong } from "../../core/error-mix.ts";
import type { PartCost } from "./need.ts";

/** Steps of money in which a cost is told apart at most. */
const MOST_STEPS = 200_000;

/** What the packs of a year may cost. */
export interface CostAhead {
  /** The least sum that is enough with a chance. */
  readonly at: (level: number) => number;
  /** The chance that a sum is enough. */
  readonly holds: (sum: number) => number;
}

/**
 * What the packs of a year may cost. Parts share the error in usage, and at each point of it they do not depend on each
 * other: there their costs are added up chance by chance, rounded up to a step of money where prices have no common one;
 * then they are mixed along the error. What is needed in any case is not rounded.
 */
export function costAhead(costs: readonly PartCost[]): CostAhead {
  const priced = costs.filter(({ cents }) => cents > 0);
  const points = priced.find((one) => one.points.length > 1)?.points ?? priced[0]?.points ?? [];
  if (points.length === 0) return { at: () => 0, holds: () => 1 };
  const counts = points.map((_, at) =>
    priced.map((one) => ({
      cents: one.cents,
      // A part that depends on no usage is the same at every point.
      packs: (one.points[at] ?? one.points[0])?.packs ?? certain(0),
    })),
  );
  const sure = Math.min(
    ...counts.map((parts) => parts.reduce((sum, { cents, packs }) => sum + cents * packs.least, 0)),
  );
  const widest = Math.max(...counts.map(mostOf)) - sure;
  const common = priced.reduce((divisor, { cents }) => commonDivisor(divisor, cents), 0);
  const step = Math.max(1, common, Math.ceil(widest / MOST_STEPS));
  const { quantile, atMost } = predictionAlong(counts.map((parts) => above(parts, sure, step)));
  return {
    at: (level) => (sure + quantile(level) * step) / 100,
    // A cent more or less is the rounding of a sum.
    holds: (sum) => atMost(Math.floor((Math.round(100 * sum) - sure) / step)),
  };
}

interface Priced {
  readonly cents: number;
  readonly packs: Distribution;
}

function mostOf(parts: readonly Priced[]): number {
  return parts.reduce(
    (sum, { cents, packs }) => sum + cents * (packs.least + packs.chances.length - 1),
    0,
  );
}

/** Chances of each cost above what is needed in any case, in steps of so many cents. */
function above(parts: readonly Priced[], sure: number, step: number): Distribution {
  const least = parts.reduce((sum, { cents, packs }) => sum + cents * packs.least, 0);
  const costs = parts.map(({ packs: { chances }, cents }) =>
    mapped({ least: 0, chances }, (count) => Math.ceil((count * cents) / step)),
  );
  return costs.reduce(
    (sum, one) => convolution(sum, one),
    certain(Math.ceil((least - sure) / step)),
  );
}
