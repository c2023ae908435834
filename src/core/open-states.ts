import { gammaQuantile } from "./chance.ts";
import { livesOf } from "./grid.ts";
import { type FailureCount, jeffreysRate } from "./life.ts";
import type { Wear } from "./need.ts";
import {
  aheadMonths,
  type LookAhead,
  type MonthSpan,
  scheduledDays,
  type Unit,
} from "./schedule.ts";

/** Chances of each number of replacements of a part in a span. */
export type Counter = (unit: Unit, span: MonthSpan) => Float64Array;

/** A state of wear that may be the true one. */
export interface WearState {
  readonly share: number;
  readonly counts: Counter;
  /** Mean, and mean of the square, of its number in each span: the means first. */
  readonly moments: (unit: Unit, spans: readonly MonthSpan[]) => Float64Array;
  /** Failures a month of a part besides what it counts. */
  readonly rate: number;
}

/**
 * The states of wear that may be the true one.
 *
 * @param ahead The time ahead.
 * @param wear What is known of how parts wear.
 * @returns States; their shares sum to 1.
 * @example
 * statesOf({ from: day("2026-04-01"), horizon: 12 }, null).length // => 1
 */
export function statesOf(ahead: LookAhead, wear: Wear): WearState[] {
  if (wear !== null && "shape" in wear) {
    return livesOf(ahead, wear).map(({ share, parts }) => ({ share, rate: 0, ...parts }));
  }
  const scheduled = scheduledIn(ahead);
  if (wear === null) return [{ share: 1, rate: 0, ...scheduled }];
  // Groups share the rate nobody knows: each of its possible values is one state.
  return possibleRates(wear).map((rate) => ({ share: 1 / RATES, rate, ...scheduled }));
}

/** Equally likely values that stand for a rate of which few failures are known. */
const RATES = 8;

function possibleRates(wear: FailureCount): number[] {
  const rates = Array.from({ length: RATES }, (_, at) =>
    gammaQuantile((at + 0.5) / RATES, wear.failures + 0.5),
  );
  const mean = rates.reduce((sum, rate) => sum + rate, 0) / RATES;
  return rates.map((rate) => (rate / mean) * jeffreysRate(wear));
}

// A schedule has one number, which is certain.
function scheduledIn(ahead: LookAhead): Pick<WearState, "counts" | "moments"> {
  const months = aheadMonths(ahead);
  const end = months.at(-1)?.until ?? ahead.from;
  const known = new Map<Unit, readonly number[]>();
  const countIn = (unit: Unit, [first, last]: MonthSpan): number => {
    const days = known.get(unit) ?? scheduledDays(unit, ahead.from, end, ahead.calendar);
    known.set(unit, days);
    const after = first === 0 ? ahead.from - 1 : (months[first]?.after ?? end);
    const until = months[last]?.until ?? end;
    return days.filter((day) => day > after && day <= until).length;
  };
  return {
    counts: (unit, span) => {
      const count = countIn(unit, span);
      const chances = new Float64Array(count + 1);
      chances[count] = 1;
      return chances;
    },
    moments: (unit, spans) => {
      const counts = spans.map((span) => countIn(unit, span));
      return Float64Array.from([...counts, ...counts.map((count) => count ** 2)]);
    },
  };
}
