import { isoText } from "../../core/day.ts";
import { listed } from "../records/problems.ts";
import { noWearWhy } from "../year/wear.ts";
import type { Budget } from "./budget.ts";

/** That a budget is not complete, and why: nothing may stand before it. */
export function incompleteSays({ incomplete }: Budget): string[] {
  return incomplete.length === 0
    ? []
    : [`Not complete, so no upper figure is given: ${incomplete.join("; ")}.`];
}

/** What the figures of a budget do not hold, and how they are meant, in plain sentences. */
export function budgetSays(budget: Budget): string[] {
  return [
    ...upperSays(budget),
    ...earlySays(budget),
    ...lastYearSays(budget),
    ...freightSays(budget),
  ];
}

/** What the upper figure means and what it does not hold, for whoever grants the money. */
function upperSays({ level, incomplete }: Budget): string[] {
  if (incomplete.length > 0) return [];
  const years = Math.round(level * 1000) / 10;
  return [
    `In ${years} of 100 years like this one the parts bought would cost no more than the upper figure; it holds what chance does to usage, wear and whole packs, but no change that has not begun to show, such as births rising beyond their past swings, a new site, another price or lost stock.`,
  ];
}

function earlySays({ year }: Budget): string[] {
  const blind = year.parts.filter(({ part, wear }) => !part.task && wear.wear === null);
  if (blind.length === 0) return [];
  const names = listed(blind.map(({ part }) => part.name));
  return [
    `Early replacements of ${names} are not counted: ${noWearWhy(year.whatIf.wear)}. The upper figure covers those that fall due, but none that wear out earlier.`,
  ];
}

function lastYearSays({ lastYear: { logged, begins } }: Budget): string[] {
  if (logged === 0) {
    return [
      "Last year's cost is unknown: the Job log holds no complete replacement of the last twelve months, so the whole budget counts as a change.",
    ];
  }
  return begins === null
    ? []
    : [
        `Last year's cost is not complete: the Job log begins on ${isoText(begins)}, so the change since then looks larger than it is.`,
      ];
}

function freightSays({ freight }: Budget): string[] {
  return freight.every((cost) => cost === 0)
    ? []
    : [
        "Packs are in the quarter in which they are needed, freight in the one in which the order goes out.",
      ];
}
