import { usageAhead } from "../src/core/ahead.ts";
import { day } from "../src/core/day.ts";
import { counts, monthsOf, monthStarts } from "./counts.ts";
import { define } from "./define.ts";

/** Usage in the months to come. */
export const USEAHEAD = define({
  id: "USEAHEAD",
  about:
    "Uses expected in the months after the last count: mean of smoothed level, last 12 counts and last year's month, season apart. Spills month start, low, expected, high; limits blank below 6 past forecasts. Blank or zero is no count. #N/A below 3 counts.",
  args: {
    counts: { ...counts, zero: "blank", most: 1e9 },
    monthStarts,
    months: {
      kind: "whole",
      about: "Months to come, 1 to 60.",
      least: 1,
      most: 60,
    },
    level: {
      kind: "number",
      about: "Chance that a month lies within its limits, 0.5 to 0.999, default 0.8.",
      least: 0.5,
      most: 0.999,
      optional: true,
      default: 0.8,
    },
  },
  gives: {
    kind: "rows",
    about: "Month start, low, expected, high, one row a month.",
    columns: [
      { name: "month start", kind: "date" },
      { name: "low", kind: "number" },
      { name: "expected", kind: "number" },
      { name: "high", kind: "number" },
    ],
  },
  see: "Our own default, measured on open data; methods as in the NIST/SEMATECH e-Handbook, 6.4.",
  examples: [
    {
      cells: [
        [31, 28, null, 30],
        [day("2026-01-01"), day("2026-02-01"), day("2026-03-01"), day("2026-04-01")],
        2,
      ],
      gives: [
        [day("2026-05-01"), "", 31, ""],
        [day("2026-06-01"), "", 30, ""],
      ],
    },
    {
      cells: [[31, 28, null], [day("2026-01-01"), day("2026-02-01"), day("2026-03-01")], 1],
      gives: { error: "#N/A", message: "needs at least 3 months with a count" },
    },
  ],
  run: ({ counts, monthStarts, months, level }) => {
    const { dated, months: known } = monthsOf(counts, monthStarts);
    return usageAhead(dated, known, { months, level }).map(({ month, low, expected, high }) => [
      month,
      low ?? "",
      expected,
      high ?? "",
    ]);
  },
});
