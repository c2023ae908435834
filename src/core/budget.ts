import { countDistribution } from "./count-distribution.ts";
import { certain, convolution, type Distribution, mapped, quantileOf } from "./distribution.ts";
import { commonDivisor } from "./divisor.ts";
import { InputError, NoAnswerError, requireNotBelowZero } from "./errors.ts";

/** Units that will probably be bought at a price. */
export interface BudgetLine {
  /** Expected units, zero or more. */
  readonly expected: number;
  /** Price of a unit, zero or more. */
  readonly price: number;
  /** Variance of the units; Poisson when null or not above expected. */
  readonly variance?: number | null;
}

/** Lines of one price and one spread joined, which their counts may be exactly. */
interface Group {
  readonly price: number;
  readonly mean: number;
  readonly variance: number;
}

/** Points a cost is told apart in at most. */
const MOST_POINTS = 2 ** 17;

/** Products of two chances added up at most: about a second. */
const MOST_WORK = 5e8;

/** Points for each group below which rounding up might add half a percent. */
const LEAST_POINTS = 200;

/** Chances of counts worked out at most. */
const MOST_TERMS = 500_000;

/** Units expected in all, and variance over mean, above which no answer is given. */
const MOST_UNITS = 1_000_000;
const MOST_RATIO = 1_000;

/** The level is reached within this share of itself. */
const SLACK = 1e-12;

/**
 * The cost that is enough with a given chance, units being counts that do not depend on each other.
 *
 * Lines are Poisson, or negative binomial where the variance is above the expected units. Their
 * costs are added up chance by chance. Where the prices have a common divisor in cents large enough
 * for 131,072 steps to reach past the answer, the result is exact. Else the cost of each price is
 * rounded up to such steps, or fewer where the sum would take long: never too little, and too much by
 * less than a step for each different price, which together stay under half a percent.
 *
 * @param lines Expected units, prices and variances.
 * @param level Chance that the cost is enough, 0 up to but not 1.
 * @returns Cost, in the unit of the prices, rounded up to a hundredth.
 * @throws InputError if a number is none of these, more than a million units are expected or a
 *   variance is over 1,000 times its mean; NoAnswerError if there are too many different prices and
 *   spreads to keep the rounding under half a percent.
 * @example
 * budgetAt([{ expected: 1, price: 100 }], 0.8) // => 200
 * budgetAt([{ expected: 1.25, price: 400 }, { expected: 3, price: 41.5 }], 0.9) // => 1283
 */
export function budgetAt(lines: readonly BudgetLine[], level: number): number {
  if (!(level >= 0 && level < 1)) throw new InputError("level", "0 up to but not 1", level);
  const groups = grouped(lines);
  if (groups.length === 0) return 0;
  let mean = 0;
  let variance = 0;
  for (const group of groups) {
    mean += group.price * group.mean;
    variance += group.price ** 2 * group.variance;
  }
  // Cantelli's inequality: no distribution of this mean and variance has its quantile above.
  const most = mean + Math.sqrt((variance * level) / (1 - level));
  const counts = countsOf(groups, most);
  const { step, exact } = latticeOf(counts, most);
  const size = Math.ceil(most / step) + groups.length + 1;
  let total = certain(0);
  for (const count of counts) total = convolution(total, costOf(count, step), size);
  const cost = (level === 0 ? total.least : quantileOf(total, level)) * step;
  return exact ? cost / CENTS : Math.ceil(cost - SLACK * cost) / CENTS;
}

/** Cents of the unit that prices are in. */
const CENTS = 100;

/** How many things of one price, in cents, there may be. */
interface Counted extends Distribution {
  readonly price: number;
}

// Counts of one price add up to a count of the same kind where variance over mean is the same.
function grouped(lines: readonly BudgetLine[]): Group[] {
  const groups = new Map<string, Group>();
  let units = 0;
  for (const { expected, price, variance } of lines) {
    requireNotBelowZero("expected", expected);
    requireNotBelowZero("price", price);
    requireNotBelowZero("variance", variance ?? 0);
    units += expected;
    if (units > MOST_UNITS) {
      throw new InputError("expected", `at most ${MOST_UNITS} units in all`, units);
    }
    if (expected === 0 || price === 0) continue;
    const ratio = Math.max(1, (variance ?? 0) / expected);
    if (ratio > MOST_RATIO) {
      throw new InputError("variance", `at most ${MOST_RATIO} times expected`, variance);
    }
    const key = `${price} ${ratio}`;
    const mean = (groups.get(key)?.mean ?? 0) + expected;
    groups.set(key, { price: price * CENTS, mean, variance: mean * ratio });
  }
  return [...groups.values()];
}

function countsOf(groups: readonly Group[], most: number): Counted[] {
  let terms = 0;
  return groups.map(({ price, ...spread }) => {
    const count = countDistribution(spread, Math.floor(most / price) + 1);
    terms += count.chances.length;
    if (terms > MOST_TERMS) throw tooMuch();
    return { price, ...count };
  });
}

function tooMuch(): NoAnswerError {
  return new NoAnswerError("needs fewer different prices and variances, or fewer units");
}

// The step in cents: the prices' common divisor if that is coarse enough, else as fine as is bearable.
function latticeOf(
  counts: readonly Counted[],
  most: number,
): { readonly step: number; readonly exact: boolean } {
  const common = counts.reduce((divisor, { price }) => commonDivisor(divisor, nearCent(price)), 0);
  for (let points = MOST_POINTS; points >= LEAST_POINTS; points /= 2) {
    const exact = common > 0 && most / common <= points;
    if (!exact && points < LEAST_POINTS * counts.length) break;
    const step = exact ? common : most / points;
    let places = 0;
    for (const { price, chances } of counts) {
      places += Math.min(chances.length, Math.ceil((chances.length * price) / step));
    }
    if (counts.length === 1 || places * (most / step) <= MOST_WORK) return { step, exact };
  }
  throw tooMuch();
}

// Whole cents of a price; NaN where it has none.
function nearCent(price: number): number {
  const cents = Math.round(price);
  return Math.abs(cents - price) <= price * SLACK ? cents : NaN;
}

// Costs of a count, rounded up to steps.
function costOf({ price, ...count }: Counted, step: number): Distribution {
  return mapped(count, (units) => Math.ceil((units * price) / step - SLACK * units));
}
