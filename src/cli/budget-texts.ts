import { isoText } from "../core/day.ts";
import { assumptionsOf } from "../book/budget/assumptions.ts";
import type { Budget } from "../book/budget/budget.ts";
import { sumOf } from "../book/budget/money.ts";
import { budgetSays, chanceSays, incompleteSays } from "../book/budget/says.ts";
import type { SoFar } from "../book/budget/so-far.ts";
import { unitOf } from "../book/records/money-text.ts";
import { CAUTIONS } from "../book/records/cautions.ts";
import type { Part } from "../book/records/records.ts";
import { aligned } from "./report.ts";

/** A budget as lines. */
export function budgetTexts(found: Budget): string[] {
  const { fiscal, places, year, soFar } = found;
  const parts = [...new Set(places.map(({ part }) => part))];
  const rows = parts.map((part) => {
    const here = places.filter((place) => place.part === part);
    const byQuarter = fiscal.quarters.map((quarter) =>
      sumOf(
        here.map(({ quarters }) => quarters.find((one) => one.quarter === quarter)?.cost ?? null),
      ),
    );
    const units = here.reduce((sum, one) => sum + one.units, 0);
    const packs = here.reduce((sum, one) => sum + one.packs, 0);
    // An amount nobody can work out is shown in units.
    const isPriced = part.supply.packPrice !== null;
    const unitsOf = (at: number): number =>
      here.reduce((sum, { quarters }) => sum + (quarters[at]?.units ?? 0), 0);
    const inUnits = (amount: number): string => `${amount.toFixed(1)} ${part.supply.unit}`;
    return [
      part.name,
      units.toFixed(1),
      packs.toFixed(1),
      ...(soFar === null ? [] : [money(usedOf(soFar, part))]),
      ...byQuarter.map((amount, at) => (isPriced ? money(amount) : inUnits(unitsOf(at)))),
      isPriced ? money(sumOf(byQuarter)) : inUnits(units),
    ];
  });
  const isRunning = soFar !== null;
  const freight = [
    "Freight",
    "",
    "",
    ...(isRunning ? [""] : []),
    ...found.freight.map(money),
    money(sumOf(found.freight)),
  ];
  const head = [
    ...(isRunning
      ? ["Item", "Units left", "Packs left", "Replaced so far"]
      : ["Item", "Units", "Packs"]),
    ...fiscal.quarters.map(({ name }) => name),
    isRunning ? "Left" : "Year",
  ];
  return [
    ...incompleteSays(found),
    `Budget of parts, fiscal year ${fiscal.name}, as of ${isoText(year.horizon.reportDate)}${unitOf(year.reading.ours.settings.currency, ", in ")}.`,
    "",
    ...aligned([head, ...rows, freight]),
    "",
    sumText(found),
    ...budgetSays(found),
    "",
    ...aligned(found.bridge.map(({ step, amount, about }) => [step, money(amount), about])),
    "",
    ...assumptionsOf(found).map(
      ([what, value, where]) =>
        `${what}: ${typeof value === "object" ? "" : String(value)} (${where})`,
    ),
    "",
    CAUTIONS.planningAid,
  ];
}

function sumText(found: Budget): string {
  const { fiscal, incomplete, expected, contingency, upper } = found;
  const what = fiscal.isRunning ? "Left: expected" : "Expected";
  return incomplete.length === 0
    ? `${what} ${money(expected)}; contingency ${money(contingency)}; upper figure ${money(upper)}, ${chanceSays(found)}.`
    : `What is known is expected to cost ${money(expected)}; no upper figure is given.`;
}

/** Cost of what a running year used of a part so far. */
function usedOf({ done }: SoFar, { code }: Part): number {
  return sumOf(done.map(({ part, cost }) => (part.code === code ? cost : 0)));
}

function money(amount: number): string {
  return amount.toFixed(2);
}
