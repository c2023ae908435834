import { countChance, type Spread } from "./chance.ts";
import { InputError, NoAnswerError, requireNotBelowZero } from "./errors.ts";
import { wholePacks } from "./order.ts";

/** A need and the packs it is bought in. */
export interface PackNeed {
  /** Units needed, zero or more. */
  readonly need: number;
  /** Units in a pack, above 0. */
  readonly pack: number;
  /** Price of a pack today, zero or more. */
  readonly packPrice: number;
  /** Units on the shelf at the start; 0 when not given. */
  readonly onHand?: number;
  /** Units to be on the shelf at the end; 0 when not given. */
  readonly endStock?: number;
  /** Rise of the price a year, 0.04 for 4 %; 0 when not given. */
  readonly rise?: number;
  /** Years until the packs are bought; 1 when not given. */
  readonly years?: number;
}

/**
 * Packs to buy for a need, and what they cost.
 *
 * @param wanted Need, packs, stock and price.
 * @returns Whole packs, zero or more, for need + endStock − onHand; their cost, not rounded.
 * @throws InputError if a number is below zero, the pack is not above it or the rise takes it all.
 * @example
 * packCost({ need: 38, pack: 10, packPrice: 400, onHand: 6, endStock: 4, rise: 0.04 }) // => { packs: 4, cost: 1664 }
 */
export function packCost(wanted: PackNeed): { readonly packs: number; readonly cost: number } {
  const { need, pack, packPrice, onHand = 0, endStock = 0, rise = 0, years = 1 } = wanted;
  requireNotBelowZero("need", need);
  requireNotBelowZero("onHand", onHand);
  requireNotBelowZero("endStock", endStock);
  const packs = wholePacks(need + endStock - onHand, pack);
  return { packs, cost: packs * laterPrice(packPrice, rise, years) };
}

/**
 * A price after some years of the same rise.
 *
 * @param price Price today, zero or more.
 * @param rise Rise a year, above −1; 0.04 for 4 %.
 * @param years Years, zero or more.
 * @returns price · (1 + rise)^years.
 * @throws InputError if a number is none of these.
 * @example
 * Number(laterPrice(1, 0.05, 10).toFixed(4)) // => 1.6289
 */
export function laterPrice(price: number, rise: number, years: number): number {
  requireNotBelowZero("price", price);
  requireNotBelowZero("years", years);
  if (!(Number.isFinite(rise) && rise > -1)) throw new InputError("rise", "above -1", rise);
  return price * (1 + rise) ** years;
}

/**
 * Rise a year between two levels of a price or a price index.
 *
 * @param from Earlier level, above 0.
 * @param to Later level, above 0.
 * @param years Years between them, above 0; 1 when not given.
 * @returns Rise a year; 0.04 for 4 %.
 * @throws InputError if a number is none of these.
 * @example
 * Number(yearlyRise(129.9, 136).toFixed(3)) // => 0.047
 */
export function yearlyRise(from: number, to: number, years = 1): number {
  for (const [name, value] of Object.entries({ from, to, years })) {
    if (!(Number.isFinite(value) && value > 0)) throw new InputError(name, "above 0", value);
  }
  return years === 1 ? (to - from) / from : (to / from) ** (1 / years) - 1;
}

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

/** A chance so small beside the others is left out. */
const NOTHING = 1e-18;

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
  let total: Chances = { first: 0, chances: Float64Array.of(1) };
  for (const count of counts) total = added(total, onLattice(count, step, size), size);
  let reached = 0;
  const wanted = level * (1 - SLACK);
  let index = 0;
  for (; index < total.chances.length; index += 1) {
    reached += total.chances[index] ?? 0;
    if (reached >= wanted) break;
  }
  const cost = (total.first + index) * step;
  return exact ? cost / CENTS : Math.ceil(cost - SLACK * cost) / CENTS;
}

/** Cents of the unit that prices are in. */
const CENTS = 100;

/** Chances of whole numbers from `first` on. */
interface Chances {
  readonly first: number;
  readonly chances: Float64Array;
}

/** Chances of a count of things of one price, in cents. */
interface Counted extends Chances {
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
  return groups.map((group) => {
    const count = countOf(group, most);
    terms += count.chances.length;
    if (terms > MOST_TERMS) throw tooMuch();
    return count;
  });
}

function tooMuch(): NoAnswerError {
  return new NoAnswerError("needs fewer different prices and variances, or fewer units");
}

// Chances of a count from its middle outwards, as far as they are anything and their cost matters.
function countOf({ price, ...spread }: Group, most: number): Counted {
  const last = Math.floor(most / price) + 1;
  const middle = Math.min(last, Math.floor(spread.mean));
  const below = walked(spread, { from: middle, by: -1, to: 0 });
  const above = walked(spread, { from: middle + 1, by: 1, to: last });
  const chances = Float64Array.from([...below.reverse(), ...above]);
  return { price, first: middle - below.length + 1, chances };
}

function walked(spread: Spread, way: { from: number; by: 1 | -1; to: number }): number[] {
  const chances: number[] = [];
  let highest = 0;
  for (let k = way.from; way.by * (way.to - k) >= 0; k += way.by) {
    const chance = countChance(k, spread);
    highest = Math.max(highest, chance);
    if (chance < highest * NOTHING) break;
    chances.push(chance);
  }
  return chances;
}

// The step in cents: the prices' common divisor if that is coarse enough, else as fine as is bearable.
function latticeOf(
  counts: readonly Counted[],
  most: number,
): { readonly step: number; readonly exact: boolean } {
  const common = counts.reduce((divisor, { price }) => greatest(divisor, nearCent(price)), 0);
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

// The greatest common divisor; NaN where one number is none.
function greatest(one: number, other: number): number {
  return other === 0 || Number.isNaN(other) ? one + other : greatest(other, one % other);
}

// Costs of a count, rounded up to steps.
function onLattice({ price, first, chances }: Counted, step: number, size: number): Chances {
  const place = (units: number): number => Math.ceil((units * price) / step - SLACK * units);
  const start = place(first);
  const end = Math.min(size, place(first + chances.length - 1));
  const placed = new Float64Array(Math.max(1, end - start + 1));
  chances.forEach((chance, index) => {
    const at = place(first + index) - start;
    placed[at] = (placed[at] ?? 0) + chance;
  });
  return { first: start, chances: placed };
}

// Chances of the sum of two independent numbers, up to a size.
function added(one: Chances, other: Chances, size: number): Chances {
  const first = one.first + other.first;
  const length = Math.min(one.chances.length + other.chances.length - 1, size - first + 1);
  const chances = new Float64Array(Math.max(1, length));
  const few: [number, number][] = [];
  other.chances.forEach((chance, index) => {
    if (chance > 0) few.push([index, chance]);
  });
  one.chances.forEach((chance, from) => {
    if (chance < NOTHING) return;
    for (const [by, share] of few) {
      if (from + by >= length) break;
      chances[from + by] = (chances[from + by] ?? 0) + chance * share;
    }
  });
  return { first, chances };
}

/** Largest rate whose chance of nothing is still a number of full length. */
const MOST_RATE = 700;

/**
 * Chances of a total where events come by chance and each asks for one or more units.
 *
 * @param rate Expected events, 0 to 700 (Poisson).
 * @param sizes Chance that an event asks for 1, 2, 3 … units; together 1.
 * @param most Largest total asked for, whole, zero or more.
 * @returns Chances of the totals 0 to `most`.
 * @throws InputError if a number is none of these.
 * @see Panjer 1981, ASTIN Bulletin 12, the recursion (from memory).
 * @example
 * compoundChances(Math.LN2, [1], 2).map((share) => Number(share.toFixed(6))) // => [0.5, 0.346574, 0.120113]
 */
export function compoundChances(rate: number, sizes: readonly number[], most: number): number[] {
  if (!(rate >= 0 && rate <= MOST_RATE)) {
    throw new InputError("rate", `a number from 0 to ${MOST_RATE}`, rate);
  }
  if (!(Number.isInteger(most) && most >= 0)) {
    throw new InputError("most", "a whole number, zero or more", most);
  }
  const whole = sizes.reduce((sum, share) => sum + (share >= 0 ? share : NaN), 0);
  if (!(Math.abs(whole - 1) < 1e-9)) throw new InputError("sizes", "chances that add to 1", whole);
  const chances = [Math.exp(-rate)];
  for (let total = 1; total <= most; total += 1) {
    let sum = 0;
    for (let units = 1; units <= Math.min(total, sizes.length); units += 1) {
      sum += units * (sizes[units - 1] ?? 0) * (chances[total - units] ?? 0);
    }
    chances.push((rate / total) * sum);
  }
  return chances;
}
