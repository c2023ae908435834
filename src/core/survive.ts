import { firstWhole } from "./bisection.ts";
import { deviations, type Limits, requireLifetime, type Lifetime } from "./life.ts";

/** The share of parts still good from one failure to the next. */
export interface SurviveStep {
  /** Months in use at which parts failed. */
  readonly months: number;
  /** Parts in use and seen just before. */
  readonly atRisk: number;
  /** Parts that failed then. */
  readonly failures: number;
  /** Share still good from then on. */
  readonly good: number;
  /** Its standard error; null where no part is left. */
  readonly error: number | null;
  /** Its limits; null where no part is left. */
  readonly limits: Limits | null;
}

/** How parts survive, as counted. */
export interface Survival {
  readonly steps: readonly SurviveStep[];
  /** Longest time in use seen; beyond it nothing is known, unless no part was left. */
  readonly longest: number;
  /** Months by which half have failed; null where the log never gets there. */
  readonly median: number | null;
}

/**
 * Share of parts still good by months in use, counted without a shape (Kaplan and Meier). At equal
 * times failures come before other ends. Errors by Greenwood, limits on ln(−ln(share)).
 *
 * @param lifetimes Parts with their months in use.
 * @param level Chance that the limits hold the truth at one time; 0.95 when not given.
 * @returns A step for each time at which parts failed.
 * @throws InputError if a time or the level is no such number.
 * @see Kaplan and Meier, Journal of the American Statistical Association 53 (1958); Greenwood 1926.
 * @example
 * survive([2, 4, 4, 5].map((months) => ({ months, failed: months === 4 }))).median // => 4
 */
export function survive(lifetimes: readonly Lifetime[], level = 0.95): Survival {
  const width = deviations(level);
  lifetimes.forEach(requireLifetime);
  const ends = lifetimes.map(({ months }) => months).sort(ascending);
  // A part seen from its start is at risk at once, even where it failed on its first day.
  const entries = lifetimes.map(({ entryAge = -1 }) => entryAge).sort(ascending);
  const failedAt = lifetimes
    .flatMap(({ months, failed }) => (failed ? [months] : []))
    .sort(ascending);
  const steps: SurviveStep[] = [];
  let [good, greenwood] = [1, 0];
  let [entered, ended] = [0, 0];
  for (let at = 0; at < failedAt.length;) {
    const months = failedAt[at] ?? 0;
    let failures = 0;
    for (; failedAt[at] === months; at += 1) failures += 1;
    while ((entries[entered] ?? Infinity) < months) entered += 1;
    while ((ends[ended] ?? Infinity) < months) ended += 1;
    const atRisk = entered - ended;
    // Seen for no time at all, a part says nothing.
    if (atRisk < failures) continue;
    good = failures === atRisk ? 0 : good * (1 - failures / atRisk);
    greenwood += failures / (atRisk * (atRisk - failures));
    steps.push({ months, atRisk, failures, good, ...doubt(good, greenwood, width) });
  }
  const median = steps.find((step) => step.good <= HALF)?.months ?? null;
  return { steps, longest: ends.at(-1) ?? 0, median };
}

/** A product of shares that is one half but for rounding counts as one half. */
const HALF = 0.5 * (1 + 64 * Number.EPSILON);

function doubt(
  good: number,
  greenwood: number,
  width: number,
): Pick<SurviveStep, "error" | "limits"> {
  if (good === 0) return { error: null, limits: null };
  const spread = (width * Math.sqrt(greenwood)) / Math.abs(Math.log(good));
  const limits = { low: good ** Math.exp(spread), high: good ** Math.exp(-spread) };
  return { error: good * Math.sqrt(greenwood), limits };
}

/**
 * Share of parts still good after some months in use.
 *
 * @param survival How parts survive.
 * @param months Months in use, zero or more.
 * @returns Share, 0 to 1, and its limits (null where no part is left); null beyond the longest time
 *   seen.
 * @example
 * surviveAt(survive([{ months: 5, failed: false }]), 3) // => { good: 1, limits: { low: 1, high: 1 } }
 * surviveAt(survive([{ months: 5, failed: false }]), 6) // => null
 */
export function surviveAt(
  survival: Survival,
  months: number,
): Pick<SurviveStep, "good" | "limits"> | null {
  const { steps, longest } = survival;
  if (months > longest && steps.at(-1)?.good !== 0) return null;
  const past = firstWhole(0, steps.length, (at) => (steps[at]?.months ?? Infinity) > months);
  const { good, limits } = steps[past - 1] ?? ALL;
  return { good, limits };
}

const ALL = { good: 1, limits: { low: 1, high: 1 } };

function ascending(one: number, other: number): number {
  return one - other;
}
