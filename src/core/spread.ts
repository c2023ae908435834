import { combinedPlain } from "./ahead.ts";
import { withoutSeason } from "./season.ts";
import { PERIOD, type Series } from "./smooth.ts";

/** How far a forecast of usage was off, each number of months ahead. */
export interface Tried {
  /** Sum of the squared errors, as shares of the use expected; one for each month ahead from 1. */
  readonly squares: readonly number[];
  /** How many there were. */
  readonly tries: readonly number[];
}

/** Latest times from which it is looked ahead once more. */
const ORIGINS = 24;

/** Months by which an interval goes. */
const WINDOW = 3;

/**
 * Errors that the usual forecast would have made for the uses an interval goes by: the mean of three months
 * that ends so many months ahead, of which those already counted are known. A season that is evident by now is no
 * error of the forecasts to come, so it is taken out before looking back.
 *
 * @param counted Uses per day in each month, oldest first; null where there is no count.
 * @param months Months ahead, whole, at least 1.
 * @returns Squares and numbers of the errors; no tries below a year of counts and the months ahead.
 * @example
 * triedAhead(Array.from({ length: 30 }, () => 5), 2) // => { squares: [0, 0], tries: [18, 17] }
 */
export function triedAhead(counted: Series, months: number): Tried {
  const { series } = withoutSeason(counted);
  const squares = Array.from({ length: months }, () => 0);
  const tries = Array.from({ length: months }, () => 0);
  let known = 0;
  series.forEach((value, at) => {
    if (value !== null) known += 1;
    if (value === null || known < PERIOD || at < series.length - 1 - ORIGINS) return;
    const reach = Math.min(months, series.length - 1 - at);
    if (reach < 1) return;
    const expected = combinedPlain(series.slice(0, at + 1), reach);
    for (let step = 0; step < reach; step += 1) {
      const error = errorAt(series.slice(at + 1), expected, step);
      if (error === null) continue;
      squares[step] = (squares[step] ?? 0) + error ** 2;
      tries[step] = (tries[step] ?? 0) + 1;
    }
  });
  return { squares, tries };
}

// The error of the three months that end at a step, as a share of them; null where a count is missing.
function errorAt(came: Series, said: Series, step: number): number | null {
  let [off, level, there] = [0, 0, 0];
  for (let at = Math.max(0, step - WINDOW + 1); at <= step; at += 1) {
    const [one, other] = [came[at] ?? null, said[at] ?? null];
    if (one === null || other === null) return null;
    off += one - other;
    level += other;
    there += 1;
  }
  return level > 0 ? off / ((WINDOW * level) / there) : null;
}

/**
 * How uncertain usage is each number of months ahead, as a standard deviation of its logarithm: the errors of
 * earlier forecasts, beside a stated spread that weighs like one independent look of the kind. Looks from one
 * month to the next overlap, so that so many months ahead as many of them count once.
 *
 * @param tried Errors of earlier forecasts, of one series or of several that are alike.
 * @param stated Spread over a year where nothing is known; it grows with the root of time.
 * @returns One share for each month ahead from 1.
 * @see Gelman and others, Bayesian Data Analysis, 3rd ed., section 2.6, scaled inverse-χ² (from memory).
 * @example
 * spreadAhead([{ squares: [0.02], tries: [1] }], 0.1).map((share) => share.toFixed(4)) // => ["0.1021"]
 */
export function spreadAhead(tried: readonly Tried[], stated: number): number[] {
  const months = Math.max(0, ...tried.map(({ tries }) => tries.length));
  return Array.from({ length: months }, (_, step) => {
    const ahead = step + 1;
    let [squares, looks] = [stated ** 2 * (ahead / PERIOD), 1];
    for (const one of tried) {
      squares += (one.squares[step] ?? 0) / ahead;
      looks += (one.tries[step] ?? 0) / ahead;
    }
    return Math.sqrt(squares / looks);
  });
}
