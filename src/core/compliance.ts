import { betaQuantile, normalQuantile } from "./chance.ts";
import { InputError, NoAnswerError } from "./errors.ts";

/** A share with its limits, each 0 to 1. */
export interface Compliance {
  readonly share: number;
  readonly low: number;
  readonly high: number;
}

/** How limits are found. */
export interface ComplianceOptions {
  /** Chance that the limits hold the true share, above 0 and below 1; 0.95 when not given. */
  readonly level?: number;
  /** Clopper and Pearson's exact limits, wider, instead of Wilson's. */
  readonly exact?: boolean;
}

/**
 * Share of what was due that was done, with limits. Misses tend to come together, by site and by week; the
 * limits take each for itself and are therefore on the narrow side.
 *
 * @param done How many were done, whole, at most `due`.
 * @param due How many were due, whole.
 * @param options Level and kind of limits.
 * @returns The share and its limits; the low limit is 0 where none and the high limit 1 where all were done.
 * @throws InputError if an argument is no such number; NoAnswerError if nothing was due.
 * @see Newcombe, Two-sided confidence intervals for the single proportion, 1998.
 * @example
 * Number(complianceRate(18, 20).low.toFixed(4)) // => 0.699
 * @example
 * Number(complianceRate(18, 20, { exact: true }).low.toFixed(4)) // => 0.683
 */
export function complianceRate(
  done: number,
  due: number,
  options: ComplianceOptions = {},
): Compliance {
  const { level = 0.95, exact = false } = options;
  requireCounts(done, due);
  if (!(level > 0 && level < 1)) throw new InputError("level", "above 0 and below 1", level);
  if (due === 0) throw new NoAnswerError("nothing was due");
  const share = done / due;
  const tail = (1 - level) / 2;
  const { low, high } = exact ? exactLimits(done, due, tail) : wilsonLimits(share, due, tail);
  // With none or all done the share is the limit, whatever rounding makes of it.
  return {
    share,
    low: Math.max(0, Math.min(share, low)),
    high: Math.min(1, Math.max(share, high)),
  };
}

/**
 * A share as per cent for print, rounded down: 100% only when nothing is missing.
 *
 * @param done How many were done, whole, at most `due`.
 * @param due How many were due, whole.
 * @param decimals Decimals shown, 0 to 6; 1 when not given.
 * @returns Text.
 * @throws InputError if an argument is no such number; NoAnswerError if nothing was due.
 * @example
 * complianceText(271, 272) // => "99.6%"
 */
export function complianceText(done: number, due: number, decimals = 1): string {
  requireCounts(done, due);
  if (!Number.isInteger(decimals) || decimals < 0 || decimals > 6) {
    throw new InputError("decimals", "a whole number from 0 to 6", decimals);
  }
  if (due === 0) throw new NoAnswerError("nothing was due");
  // Whole numbers stay exact, so that nothing is rounded up on the way.
  const scaled = done * 100 * 10 ** decimals;
  return `${((scaled - (scaled % due)) / due / 10 ** decimals).toFixed(decimals)}%`;
}

/** Counts stay whole numbers without loss when printed to six decimals. */
const MOST = 9e7;

function requireCounts(done: number, due: number): void {
  if (!Number.isInteger(due) || due < 0 || due > MOST) {
    throw new InputError("due", `a whole number from 0 to ${MOST}`, due);
  }
  if (!Number.isInteger(done) || done < 0 || done > due) {
    throw new InputError("done", `a whole number from 0 to due (${due})`, done);
  }
}

function wilsonLimits(share: number, due: number, tail: number): { low: number; high: number } {
  const z = -normalQuantile(tail);
  const square = (z * z) / due;
  const centre = (share + square / 2) / (1 + square);
  const half = (z * Math.sqrt((share * (1 - share) + square / 4) / due)) / (1 + square);
  return { low: centre - half, high: centre + half };
}

function exactLimits(done: number, due: number, tail: number): { low: number; high: number } {
  return {
    low: done === 0 ? 0 : betaQuantile(tail, done, due - done + 1),
    high: done === due ? 1 : betaQuantile(1 - tail, done + 1, due - done),
  };
}
