import type { Change } from "../sheets/result-plan.ts";
import { unitsSheet } from "../year/year-units.ts";
import { assumptionsSheet } from "./assumptions.ts";
import type { Budget } from "./budget.ts";
import { bridgeSheet } from "./budget-bridge.ts";
import { budgetSheet } from "./budget-sheet.ts";
import { budgetSitesSheet, budgetWorkSheet } from "./budget-sites.ts";

/** What a budget adds to a book. */
export function budgetChange(budget: Budget): Change {
  const { fiscal, expected, upper } = budget;
  return {
    results: [
      budgetSheet(budget),
      budgetSitesSheet(budget),
      budgetWorkSheet(budget),
      bridgeSheet(budget),
      assumptionsSheet(budget),
      unitsSheet(budget.year),
    ],
    summary: `budget ${fiscal.name}: expected ${expected.toFixed(2)}, upper ${upper.toFixed(2)}`,
  };
}
