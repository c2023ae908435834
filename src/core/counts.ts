import { addMonths, type Day, monthStart } from "./day.ts";
import { InputError, NoAnswerError } from "./errors.ts";

/** Days of an average month of the Gregorian calendar, 365.2425 / 12. */
export const DAYS_PER_MONTH = 30.436875;

/** How counts are read. */
export interface CountOptions {
  /** Latest months with a count that are used, whole, at least 1; 3 when not given. */
  readonly recent?: number;
  /** Whether a count of zero is a real month without use; otherwise it is passed over like a blank. */
  readonly zeroCounts?: boolean;
}

/**
 * Counts by the first day of their month. Months without a count are left out; where a month comes twice,
 * the later entry replaces the earlier.
 *
 * @param counts Uses in each month, zero or more; null where there is no count.
 * @param monthStarts A day of the month of each count, in any order.
 * @param zeroCounts Whether a count of zero is a real month without use; otherwise it is left out too.
 * @returns The counts, in the order in which their months come first.
 * @throws InputError if a count is no such number or the lists differ in length.
 * @example
 * [...countsByMonth([62, null], [day("2026-01-31"), day("2026-02-01")], false)] // => [[day("2026-01-01"), 62]]
 */
export function countsByMonth(
  counts: readonly (number | null)[],
  monthStarts: readonly Day[],
  zeroCounts: boolean,
): Map<Day, number> {
  if (counts.length !== monthStarts.length) {
    throw new InputError("monthStarts", `as long as counts (${counts.length})`, monthStarts.length);
  }
  const byMonth = new Map<Day, number>();
  counts.forEach((count, index) => {
    const date = monthStarts[index];
    if (count === null || date === undefined) return;
    if (!Number.isFinite(count) || count < 0) {
      throw new InputError("counts", "zero or more", count);
    }
    if (count > 0 || zeroCounts) byMonth.set(monthStart(date), count);
  });
  return byMonth;
}

/**
 * Uses a month from the latest monthly counts.
 *
 * Sum of the counts over sum of the days of their months, times 30.436875 days: a count from a short
 * month weighs what it should. Months without a count are passed over, never taken as zero. Where a
 * month comes twice, the later entry replaces the earlier.
 *
 * @param counts Uses in each month, zero or more; null where there is no count.
 * @param monthStarts A day of the month of each count, in any order.
 * @param options How many months to use, and whether zeros count.
 * @returns Uses a month of 30.436875 days.
 * @throws InputError if a count is no such number or the lists differ in length; NoAnswerError if no
 *   month has a count.
 * @example
 * useRate([62, 56, null], [day("2026-01-01"), day("2026-02-01"), day("2026-03-01")], {}) // => 60.87375
 */
export function useRate(
  counts: readonly (number | null)[],
  monthStarts: readonly Day[],
  options: CountOptions,
): number {
  const { recent = 3, zeroCounts = false } = options;
  if (!Number.isInteger(recent) || recent < 1) {
    throw new InputError("recent", "a whole number of at least 1", recent);
  }
  const byMonth = countsByMonth(counts, monthStarts, zeroCounts);
  const latest = [...byMonth].sort(([one], [other]) => other - one).slice(0, recent);
  if (latest.length === 0) throw new NoAnswerError("needs at least one month with a count");
  const uses = latest.reduce((sum, [, count]) => sum + count, 0);
  const days = latest.reduce((sum, [month]) => sum + addMonths(month, 1) - month, 0);
  return (uses / days) * DAYS_PER_MONTH;
}
