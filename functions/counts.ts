import { useRate } from "../src/core/counts.ts";
import { day, type Day } from "../src/core/day.ts";
import { InputError } from "../src/core/errors.ts";
import { define } from "./define.ts";

/** Monthly counts. */
export const counts = {
  kind: "number",
  about: "Uses in each month, zero or more; blank where not known.",
  least: 0,
  takes: "range",
  blank: "kept",
} as const;

/** The months of the counts. */
export const monthStarts = {
  kind: "date",
  about: "A date in the month of each count, as many as counts, in any order.",
  takes: "range",
  blank: "kept",
  zero: "blank",
} as const;

/** Counts with their months, as they stand in cells: rows blank in both are left out. */
export function monthsOf(
  counts: readonly (number | null)[],
  monthStarts: readonly (Day | null)[],
): { dated: (number | null)[]; months: Day[] } {
  if (counts.length !== monthStarts.length) {
    const wanted = `as many cells as counts (${counts.length})`;
    throw new InputError("monthStarts", wanted, monthStarts.length);
  }
  // Rows below the list are blank in both; a count whose month is blank is a fault.
  const months: Day[] = [];
  const dated = counts.filter((count, index) => {
    const month = monthStarts[index] ?? null;
    if (month !== null) months.push(month);
    else if (count !== null && count !== 0) throw new InputError("monthStarts", "a date", null);
    return month !== null;
  });
  return { dated, months };
}

/** Usage from monthly counts. */
export const USERATE = define({
  id: "USERATE",
  about:
    "Uses a month (of 30.436875 days) from the last `recent` months that have a count, weighted by days. A blank is never zero; a zero counts only with zeroCounts TRUE. #N/A when no month has a count.",
  args: {
    counts,
    monthStarts,
    recent: {
      kind: "whole",
      about: "Latest months with a count that are used, 1 to 1200, default 3.",
      least: 1,
      most: 1200,
      optional: true,
      default: 3,
    },
    zeroCounts: {
      kind: "flag",
      about:
        "TRUE: a zero is a month without use; then leave no month blank, because some programs pass a blank as zero. Default FALSE.",
      optional: true,
      default: false,
    },
  },
  gives: { kind: "number", about: "Uses a month of 30.436875 days." },
  see: "Gregorian calendar: 365.2425 days a year, 30.436875 a month on average.",
  examples: [
    {
      cells: [
        [62, 56],
        [day("2026-01-01"), day("2026-02-01")],
      ],
      gives: 60.87375,
    },
    {
      cells: [
        [62, null],
        [day("2026-01-01"), day("2026-02-01")],
      ],
      gives: 60.87375,
    },
    {
      cells: [[null], [day("2026-01-01")]],
      gives: { error: "#N/A", message: "needs at least one month with a count" },
    },
  ],
  run: ({ counts, monthStarts, recent, zeroCounts }) => {
    const { dated, months } = monthsOf(counts, monthStarts);
    return useRate(dated, months, { recent, zeroCounts });
  },
});
