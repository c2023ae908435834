import { InputError } from "./errors.ts";

/** What an interval follows from: the usage, the two ends, and one or both forms of the curve. */
export interface IntervalBasis {
  /** Uses of the part a month; null when unknown. */
  readonly usesPerMonth: number | null;
  /** Months between replacements under heavy use, or in doubt; at least 1. */
  readonly shortest: number;
  /** Months between replacements under light use; not below shortest. */
  readonly longest: number;
  /** Uses one part serves, above 0; null for no use budget. */
  readonly useBudget: number | null;
  /** Uses a month up to which longest holds; null for no ramp. */
  readonly lightUse: number | null;
  /** Uses a month from which shortest holds, not below lightUse; null for no ramp. */
  readonly heavyUse: number | null;
}

/** Decimals that count before rounding down, so that 4.9999999999 of an inexact division counts as 5. */
const DECIMALS = 1e9;

/**
 * Whole months between replacements of a part, by its usage.
 *
 * A use budget gives useBudget / usesPerMonth held between the two ends. A ramp gives longest up to
 * lightUse, shortest from heavyUse on and a straight line between (equal thresholds are a step).
 * With both the shorter of the two; with neither, or with usage unknown, shortest. Rounded down:
 * the interval is a limit. The curve is the programme's own setting; no public source states one.
 *
 * @param basis Usage, ends and curve.
 * @returns Whole months, at least 1.
 * @throws InputError if a number is missing its partner, out of its range or crossed.
 * @example
 * replacementInterval({ usesPerMonth: 130, shortest: 3, longest: 6, useBudget: 600, lightUse: null, heavyUse: null }) // => 4
 * replacementInterval({ usesPerMonth: 130, shortest: 6, longest: 9, useBudget: null, lightUse: 100, heavyUse: 200 }) // => 8
 * replacementInterval({ usesPerMonth: null, shortest: 3, longest: 6, useBudget: 600, lightUse: null, heavyUse: null }) // => 3
 */
export function replacementInterval(basis: IntervalBasis): number {
  requireSound(basis);
  const { shortest, longest, useBudget, lightUse, heavyUse } = basis;
  // A negative nought is a nought: dividing by it would turn the sign.
  const usesPerMonth = basis.usesPerMonth === null ? null : basis.usesPerMonth + 0;
  if (usesPerMonth === null) return Math.floor(shortest);
  const bySpending =
    useBudget === null ? null : Math.max(shortest, Math.min(longest, useBudget / usesPerMonth));
  const byRamp =
    lightUse === null || heavyUse === null
      ? null
      : longest - (longest - shortest) * climb(usesPerMonth, lightUse, heavyUse);
  const months =
    bySpending === null || byRamp === null
      ? (bySpending ?? byRamp ?? shortest)
      : Math.min(bySpending, byRamp);
  return Math.floor(Math.round(months * DECIMALS) / DECIMALS);
}

/**
 * How far a value has come from one threshold to another: 0 below, 1 above, a straight line between.
 *
 * @param value The value.
 * @param from Where the climb starts.
 * @param to Where it ends, not below `from`; where both are equal, the climb is a step.
 * @returns Share of the way, 0 to 1.
 * @example
 * climb(2.72, 2, 3) // => 0.7200000000000002
 * climb(5, 5, 5) // => 1
 */
export function climb(value: number, from: number, to: number): number {
  if (from === to) return value >= to ? 1 : 0;
  return Math.max(0, Math.min(1, (value - from) / (to - from)));
}

function requireSound(basis: IntervalBasis): void {
  const { usesPerMonth, shortest, longest, useBudget, lightUse, heavyUse } = basis;
  if (!(usesPerMonth === null || atLeast(usesPerMonth, 0))) {
    throw new InputError("usesPerMonth", "zero or more", usesPerMonth);
  }
  if (!atLeast(shortest, 1)) throw new InputError("shortest", "at least 1 month", shortest);
  if (!atLeast(longest, shortest)) {
    throw new InputError("longest", "a number of months not below shortest", longest);
  }
  if (useBudget !== null && !(atLeast(useBudget, 0) && useBudget > 0)) {
    throw new InputError("useBudget", "above 0", useBudget);
  }
  if (lightUse !== null && !atLeast(lightUse, 0)) {
    throw new InputError("lightUse", "zero or more", lightUse);
  }
  if (lightUse === null && heavyUse !== null) {
    throw new InputError("lightUse", "given together with heavyUse", lightUse);
  }
  if (lightUse !== null && !(heavyUse !== null && atLeast(heavyUse, lightUse))) {
    throw new InputError("heavyUse", "a number not below lightUse", heavyUse);
  }
}

// Whether a number is finite and not below a bound.
function atLeast(value: number, bound: number): boolean {
  return Number.isFinite(value) && value >= bound;
}
