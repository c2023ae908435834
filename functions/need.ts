import { day, type Day } from "../src/core/day.ts";
import { needAhead, needLimits } from "../src/core/need.ts";
import { InputError, NoAnswerError } from "../src/core/errors.ts";
import type { Life } from "../src/core/life.ts";
import type { Unit } from "../src/core/schedule.ts";
import { define } from "./define.ts";

const lastDone = {
  kind: "date",
  about:
    "Date each part was last replaced, one row a part; rows blank in both columns are passed over.",
  takes: "range",
  blank: "kept",
} as const;

const months = {
  kind: "whole",
  about: "Whole months between replacements, 1 to 120, one row a part or one cell for all.",
  least: 1,
  most: 120,
  takes: "range",
  blank: "kept",
  zero: "blank",
} as const;

const from = { kind: "date", about: "The day to look ahead from." } as const;

const horizon = {
  kind: "whole",
  about: "Whole months to look ahead, 1 to 120.",
  least: 1,
  most: 120,
} as const;

const shape = {
  kind: "number",
  about:
    "Weibull shape of the life, 0.05 to 1000, from LIFEFIT; blank for no wear. Only together with scale.",
  least: 0.05,
  most: 1000,
  optional: true,
} as const;

const scale = {
  kind: "number",
  about:
    "Weibull scale of the life in months, 0.01 to 1000000, from LIFEFIT. Only together with shape.",
  least: 0.01,
  most: 1e6,
  optional: true,
} as const;

const see =
  "Feller, An Introduction to Probability Theory and Its Applications, volume I, chapter XIII, renewal equation.";

const yearOf = [
  [day("2026-01-12"), day("2026-02-20"), day("2025-12-01")],
  [3, 6, 4],
  day("2026-03-16"),
] as const;

/** Replacements month by month. */
export const REPLACEAHEAD = define({
  id: "REPLACEAHEAD",
  about:
    "Expected replacements by calendar month: month start, planned, early, expected. Without shape and scale by due date alone, with overdue parts in the first month; with them early ones too, found at inspections every 3.5 days.",
  args: { lastDone, months, from, horizon, shape, scale },
  gives: {
    kind: "rows",
    about: "One row a month, one more than horizon: the first and last are part months.",
    columns: [
      { name: "month start", kind: "date" },
      { name: "planned", kind: "number" },
      { name: "early", kind: "number" },
      { name: "expected", kind: "number" },
    ],
  },
  see,
  examples: [
    {
      cells: [...yearOf, 2],
      gives: [
        [day("2026-03-01"), 0, 0, 0],
        [day("2026-04-01"), 2, 0, 2],
        [day("2026-05-01"), 0, 0, 0],
      ],
    },
    {
      cells: [[day("2025-01-12")], 3, day("2026-03-16"), 1],
      gives: [
        [day("2026-03-01"), 1, 0, 1],
        [day("2026-04-01"), 0, 0, 0],
      ],
    },
  ],
  run: ({ lastDone, months, from, horizon, shape, scale }) =>
    needAhead(unitsOf(lastDone, months), { from, horizon }, lifeOf(shape, scale)).map(
      ({ month, scheduled, unplanned }) => [month, scheduled, unplanned, scheduled + unplanned],
    ),
});

/** Replacements in a year. */
export const YEARNEED = define({
  id: "YEARNEED",
  about:
    "Replacements of the fleet in horizon (default 12) months: expected, low, high, the limits holding with chance level (default 0.9) if the fitted life is right. Without shape and scale all three are the count of due dates.",
  args: {
    lastDone,
    months,
    from,
    horizon: {
      ...horizon,
      about: "Whole months to look ahead, 1 to 120, default 12.",
      optional: true,
      default: 12,
    },
    shape,
    scale,
    level: {
      kind: "number",
      about: "Chance that the number lies within the limits, 0.01 to 0.9999, default 0.9.",
      least: 0.01,
      most: 0.9999,
      optional: true,
      default: 0.9,
    },
  },
  gives: {
    kind: "rows",
    about: "One row; a life from a fit is uncertain itself, so the true limits are wider.",
    columns: [
      { name: "expected", kind: "number" },
      { name: "low", kind: "number" },
      { name: "high", kind: "number" },
    ],
  },
  see,
  examples: [{ cells: yearOf, gives: [[9, 9, 9]] }],
  run: ({ lastDone, months, from, horizon, shape, scale, level }) =>
    needLimits(unitsOf(lastDone, months), { from, horizon }, lifeOf(shape, scale), { level }).map(
      ({ expected, low, high }) => [expected, low, high],
    ),
});

/** The rows that are filled; one filled in part is a fault, for a part must not be lost. */
function unitsOf(lastDone: readonly (Day | null)[], months: readonly (number | null)[]): Unit[] {
  const [every] = months;
  const one = months.length === 1;
  if (!one && months.length !== lastDone.length) {
    const wanted = `one cell or as many cells as lastDone (${lastDone.length})`;
    throw new InputError("months", wanted, months.length);
  }
  const units = lastDone.flatMap((date, index): Unit[] => {
    const interval = (one ? every : months[index]) ?? null;
    if (date === null && (one || interval === null)) return [];
    if (date === null) throw new InputError("lastDone", "a date wherever months is given", null);
    if (interval === null) throw new InputError("months", "given wherever lastDone is", null);
    return [{ lastDone: date, months: interval }];
  });
  if (units.length === 0) throw new NoAnswerError("needs at least one part with a date");
  return units;
}

function lifeOf(shape: number | null, scale: number | null): Life | null {
  if (shape === null && scale === null) return null;
  if (shape === null) throw new InputError("shape", "given together with scale", null);
  if (scale === null) throw new InputError("scale", "given together with shape", null);
  return { shape, scale };
}
