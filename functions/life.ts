import { bestInterval, weibullAgeing } from "../src/core/age.ts";
import { InputError } from "../src/core/errors.ts";
import { fitLimits, lifeFit } from "../src/core/fit.ts";
import type { Lifetime } from "../src/core/life.ts";
import { survive, surviveAt } from "../src/core/survive.ts";
import { define } from "./define.ts";

const monthsInUse = {
  kind: "number",
  about:
    "Months each part was in use, or has been so far; preferably only parts fitted since the log began.",
  least: 0,
  most: 1200,
  takes: "range",
  blank: "kept",
} as const;

const worn = {
  kind: "flag",
  about:
    "TRUE or 1 where wear or damage ended it; FALSE, 0 or blank where it was replaced as planned, withdrawn or still in use.",
  takes: "range",
  blank: "kept",
  zero: "blank",
} as const;

const level = 0.95;

const log = [
  [2, 4, 5, 6, 6, 3],
  [true, true, true, false, false, false],
] as const;

/** A life from the log. */
export const LIFEFIT = define({
  id: "LIFEFIT",
  about:
    "Weibull life fitted to the log by maximum likelihood: shape, scale (months), shape low and high (95%), records used, worn ends. Shape above 1: wear grows with age. #N/A with fewer than 3 worn ends.",
  args: { monthsInUse, worn },
  gives: {
    kind: "rows",
    about: "One row; records with no time in use are left out.",
    columns: [
      { name: "shape", kind: "number" },
      { name: "scale", kind: "number" },
      { name: "shape low", kind: "number" },
      { name: "shape high", kind: "number" },
      { name: "records used", kind: "number" },
      { name: "worn ends", kind: "number" },
    ],
  },
  see: "Lawless, Statistical Models and Methods for Lifetime Data, Weibull distribution with censoring.",
  examples: [
    {
      cells: [...log],
      gives: [[2.4041153590424393, 6.2289272713141255, 0.902777980535322, 6.402206061956136, 6, 3]],
    },
    {
      cells: [
        [3, 5, 6],
        [true, true, false],
      ],
      gives: { error: "#N/A", message: "needs at least 3 worn ends, got 2" },
    },
  ],
  run: ({ monthsInUse, worn }) => {
    const fit = lifeFit(lifetimesOf(monthsInUse, worn));
    const { low, high } = fitLimits(fit, level).shape;
    return [[fit.shape, fit.scale, low, high, fit.used, fit.failures]];
  },
});

/** The share still good. */
export const SURVIVE = define({
  id: "SURVIVE",
  about:
    "Share of parts still good after `at` months in use, with 95% limits, counted from the log without a shape (Kaplan-Meier). Blank beyond the longest time in use.",
  args: {
    monthsInUse,
    worn,
    at: {
      kind: "number",
      about: "Months in use asked for, one cell or several, 0 to 1200.",
      least: 0,
      most: 1200,
      takes: "range",
      blank: "kept",
    },
  },
  gives: {
    kind: "rows",
    about: "One row for each cell of at; limits by Greenwood on the log-log scale.",
    columns: [
      { name: "good", kind: "share" },
      { name: "low", kind: "share" },
      { name: "high", kind: "share" },
    ],
  },
  see: "Kaplan and Meier, Journal of the American Statistical Association 53 (1958), 457-481.",
  examples: [
    {
      cells: [...log, [1, 5, 7]],
      gives: [
        [1, 1, 1],
        [0.41666666666666674, 0.05599186485205285, 0.7665222195505802],
        ["", "", ""],
      ],
    },
  ],
  run: ({ monthsInUse, worn, at }) => {
    const survival = survive(lifetimesOf(monthsInUse, worn), level);
    return at.map((months) => {
      const share = months === null ? null : surviveAt(survival, months);
      return [share?.good ?? "", share?.limits?.low ?? "", share?.limits?.high ?? ""];
    });
  },
});

/** The age that costs least. */
export const BESTSPAN = define({
  id: "BESTSPAN",
  about:
    "Months between replacements at which the cost a month is lowest, kept between shortest and longest: months, cost a month there, cost a month at longest. Advice only, never longer than longest.",
  args: {
    shape: { kind: "number", about: "Weibull shape, 0.05 to 1000.", least: 0.05, most: 1000 },
    scale: {
      kind: "number",
      about: "Weibull scale in months, 0.01 to 1000000.",
      least: 0.01,
      most: 1e6,
    },
    plannedCost: {
      kind: "number",
      about: "Cost of a planned replacement, 0.000001 to 1000000000000.",
      least: 1e-6,
      most: 1e12,
    },
    earlyCost: {
      kind: "number",
      about: "Cost of a replacement when worn before the plan, up to 1000000000000.",
      least: 0,
      most: 1e12,
    },
    shortest: {
      kind: "number",
      about: "Shortest months allowed, 0.1 to 120.",
      least: 0.1,
      most: 120,
    },
    longest: {
      kind: "number",
      about: "Longest months allowed, 0.1 to 120, not below shortest.",
      least: 0.1,
      most: 120,
    },
  },
  gives: {
    kind: "rows",
    about: "One row; the curve is flat, so compare the two costs.",
    columns: [
      { name: "months", kind: "number" },
      { name: "cost a month", kind: "number" },
      { name: "cost a month at longest", kind: "number" },
    ],
  },
  see: "Barlow and Hunter, Operations Research 8 (1960), policy I (age replacement).",
  examples: [
    {
      cells: [2.5, 9, 1, 4, 3, 6],
      gives: [[4.994525154945678, 0.34450560884678033, 0.35175238525241576]],
    },
    { cells: [1, 10, 1, 4, 6, 6], gives: [[6, 0.5216369215160871, 0.5216369215160871]] },
  ],
  run: ({ shape, scale, plannedCost, earlyCost, shortest, longest }) => {
    const costs = { scheduled: plannedCost, unplanned: earlyCost };
    const ageing = weibullAgeing({ shape, scale });
    const found = bestInterval({ ageing, costs, shortest, longest });
    return [[found.best.months, found.best.cost, found.longest.cost]];
  },
});

/** Records of the log; a worn end without its months would make lives look longer than they are. */
function lifetimesOf(
  months: readonly (number | null)[],
  worn: readonly (boolean | null)[],
): Lifetime[] {
  if (months.length !== worn.length) {
    throw new InputError("worn", `as many cells as monthsInUse (${months.length})`, worn.length);
  }
  return months.flatMap((value, index): Lifetime[] => {
    const ended = worn[index] ?? false;
    if (value !== null) return [{ months: value, failed: ended }];
    if (ended) throw new InputError("monthsInUse", "given wherever worn is TRUE", null);
    return [];
  });
}
