import { complianceRate } from "../src/core/compliance.ts";
import { define } from "./define.ts";

/** Share of what was due that was done. */
export const KEPTRATE = define({
  id: "KEPTRATE",
  about:
    "Share (0 to 1) of due inspections that were done, with the low and high limit of Wilson at level, or of Clopper and Pearson with exact TRUE; spills 1×3. #N/A when due is 0. Misses that cluster make the limits too narrow.",
  args: {
    done: {
      kind: "whole",
      about: "How many were done, at most due.",
      least: 0,
      most: 1_000_000,
    },
    due: { kind: "whole", about: "How many were due, up to 1,000,000.", least: 0, most: 1_000_000 },
    level: {
      kind: "number",
      about: "Chance that the limits hold the true share, 0.5 to 0.9999, default 0.95.",
      least: 0.5,
      most: 0.9999,
      optional: true,
      default: 0.95,
    },
    exact: {
      kind: "flag",
      about: "TRUE: the wider limits of Clopper and Pearson. Default FALSE.",
      optional: true,
      default: false,
    },
  },
  gives: {
    kind: "rows",
    about: "Share, low, high.",
    columns: [
      { name: "share", kind: "share" },
      { name: "low", kind: "share" },
      { name: "high", kind: "share" },
    ],
  },
  see: "Newcombe, Two-sided confidence intervals for the single proportion, 1998.",
  examples: [
    { cells: [0, 10], gives: [[0, 0, 0.2775327998628892]] },
    { cells: [10, 10, 0.95, true], gives: [[1, 0.6915028921812393, 1]] },
    { cells: [0, 0], gives: { error: "#N/A", message: "nothing was due" } },
  ],
  run: ({ done, due, level, exact }) => {
    const { share, low, high } = complianceRate(done, due, { level, exact });
    return [[share, low, high]];
  },
});
