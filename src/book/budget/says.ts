import { type Day, isoText } from "../../core/day.ts";
import { unitOf } from "../records/money-text.ts";
import { listed } from "../records/problems.ts";
import { noWearWhy } from "../year/wear.ts";
import { percentText } from "../records/percent.ts";
import { type Budget, currencyOf } from "./budget.ts";

/** That a budget is not complete, and why: nothing may stand before it. */
export function incompleteSays({ incomplete }: Budget): string[] {
  return incomplete.length === 0
    ? []
    : [`Not complete, so no upper figure is given: ${incomplete.join("; ")}.`];
}

/** What the figures of a budget do not hold, and how they are meant, in plain sentences. */
export function budgetSays(budget: Budget): string[] {
  return [
    monthsSay(budget),
    ...upperSays(budget),
    ...wholeSays(budget),
    ...earlySays(budget),
    ...lastYearSays(budget),
    ...daysSay(budget),
  ];
}

/** Which twelve months a budget is of, and what of them it holds. */
function monthsSay({ fiscal, year }: Budget): string {
  const { from, end, isRunning } = fiscal;
  const months = `${isoText(from)} to ${isoText((end - 1) as Day)}`;
  return isRunning
    ? `The twelve months ${months} are running: the figures are what is left of them after ${isoText(year.horizon.reportDate)}, unless they say so far or the year.`
    : `The twelve months are ${months}.`;
}

/** What a running year has cost, and the year as both. */
function wholeSays(budget: Budget): string[] {
  const { soFar, whole, fiscal } = budget;
  if (soFar === null) return [];
  const { replaced, onOrder, stock, stated, spent, unknown } = soFar;
  const since = isoText(fiscal.from);
  const parts = `${replaced.toFixed(2)} for what was replaced, ${onOrder.toFixed(2)} for what is on order, ${stock.toFixed(2)} for stock beyond the spares kept`;
  const currency = currencyOf(budget);
  const told =
    stated === null
      ? `Since ${since}, at today's prices: ${parts}${unitOf(currency, ", in ")}.`
      : `Spent since ${since}, as stated: ${stated.toFixed(2)}${unitOf(currency)}.`;
  if (spent === null) {
    return [
      told,
      `What was spent since then is not known, so no figure is given for the year: ${unknown.join("; ")}. What the accounts say, where they do, is used instead.`,
    ];
  }
  const rests =
    stated === null
      ? " Nobody writes down when stock was bought: it counts as if the year had begun with the spares kept, and without freight of what was ordered; what the accounts say, where they do, is used instead."
      : "";
  return whole === null
    ? [`${told}${rests}`]
    : [
        `${told} Spent so far ${spent.toFixed(2)}; the year with what is left: expected ${whole.expected.toFixed(2)}, upper figure ${whole.upper.toFixed(2)}.${rests}`,
      ];
}

/** With what chance the upper figure is enough, in whole percent; never less than was asked. */
export function enoughWith({ level, holds }: Budget): number {
  return Math.max(level, Math.min(MOST, Math.floor(100 * holds) / 100));
}

/** Nothing to come is more certain than that, whatever the figures say. */
const MOST = 0.99;

/** In how many of a hundred years the upper figure is enough. */
export function yearsOf100(budget: Budget): number {
  return Math.round(enoughWith(budget) * 1000) / 10;
}

/** The same as a clause, with the chance that was asked where whole packs make it more. */
export function chanceSays(budget: Budget): string {
  const { level } = budget;
  const chance = enoughWith(budget);
  const asked = chance > level ? `, packs being whole (${percentText(level)} was asked)` : "";
  return `enough with a chance of ${percentText(chance)}${asked}`;
}

/** What the upper figure means and what it does not hold, for whoever grants the money. */
function upperSays(budget: Budget): string[] {
  const { incomplete, fiscal } = budget;
  if (incomplete.length > 0) return [];
  const parts = fiscal.isRunning ? "the parts still to be bought" : "the parts bought";
  return [
    `In ${yearsOf100(budget)} of 100 years like this one ${parts} would cost no more than the upper figure; it covers what chance does to usage, wear and whole packs, but no change that has not yet begun to show, such as births rising beyond their past swings, a new site, another price or lost stock.`,
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

/** Where packs and freight stand; nothing where all days have one price and there is no freight. */
function daysSay({ freight, year }: Budget): string[] {
  const isPlain = year.reading.ours.settings.priceRise === 0;
  return isPlain && freight.every((cost) => cost === 0)
    ? []
    : [
        "Packs are in the quarter in which they are needed, at the price of the day their order goes out; freight is in the quarter of that day.",
      ];
}
