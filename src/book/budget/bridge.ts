import { roundMoney } from "../orders/lines.ts";
import type { Steps } from "../workbook/steps.ts";
import { sumNeed } from "../year/need.ts";
import { NO_WHAT_IF, type WhatIf } from "../year/what-if.ts";
import type { Year } from "../year/year.ts";
import type { FiscalYear } from "./fiscal.ts";
import { type LastYear, priceOfOne } from "./last-year.ts";
import { sumOf } from "./money.ts";
import type { PlaceBudget } from "./need.ts";
import type { SoFar } from "./so-far.ts";

/** A step from last year's cost to the budget. */
export interface BridgeStep {
  readonly step: string;
  readonly amount: number;
  readonly about: string;
}

/** What the steps lead to: the budget, or all of a year that is running. */
export function bridgeTotal(bridge: readonly BridgeStep[]): number {
  return sumOf(bridge.map(({ amount }) => amount));
}

interface Bridging {
  readonly year: Year;
  readonly yearWith: (whatIf: WhatIf) => Steps<Year>;
  readonly fiscal: FiscalYear;
  readonly places: readonly PlaceBudget[];
  readonly freight: readonly number[];
  readonly lastYear: LastYear;
  readonly soFar: SoFar | null;
}

/** From what the last twelve months' replacements would cost today to the budget, step by step. */
export function* bridgeSteps(bridging: Bridging): Steps<BridgeStep[]> {
  const { year, yearWith, fiscal, places, freight, lastYear, soFar } = bridging;
  const { whatIf } = year;
  const { volume, wear, added, retired } = whatIf;
  const plain = { ...NO_WHAT_IF, volume, wear };
  // Rounded as they come, so that the steps add up to the cent.
  const used = soFar?.replaced ?? 0;
  const cost = (of: Year): number => roundMoney(usedCost(of, fiscal) + used);
  const all = cost(year);
  // Where nothing is assumed, nothing needs to be worked out again.
  const samePolicy = whatIf.intervals.length + whatIf.wipes.length === 0;
  const sameSites = added.length + retired.length === 0;
  const withSites = samePolicy ? all : cost(yield* yearWith({ ...plain, added, retired }));
  const asIs = sameSites ? withSites : cost(yield* yearWith(plain));
  const before = roundMoney(lastYear.cost);
  const rising = sumOf(
    places.flatMap(({ part, quarters }) =>
      quarters.map(({ price, packs }) =>
        price === null ? 0 : (price - (part.supply.packPrice ?? 0)) * packs,
      ),
    ),
  );
  const parts = sumOf(places.map(({ cost }) => cost));
  return [
    step(
      "Last twelve months",
      before,
      lastYear.logged === 0
        ? "Unknown: no complete replacement in the Job log."
        : "Complete replacements in the Job log, at today's prices.",
    ),
    step("Volume", asIs - before, "Use and due dates of the existing devices."),
    step("Sites", withSites - asIs, "Devices assumed to be added or retired."),
    step("Policy", all - withSites, "Other intervals or wipes."),
    step("Packs and stock", parts + used - rising - all, "Whole packs, and spares to keep."),
    ...boughtSteps(soFar),
    step("Price", rising, "Rise on 1 January."),
    step("Freight", sumOf(freight), "Deliveries of the year's orders."),
  ];
}

function step(name: string, amount: number, about: string): BridgeStep {
  return { step: name, amount: roundMoney(amount), about };
}

/** What a running year has bought beside what it has used; nothing where that is not known. */
function boughtSteps(soFar: SoFar | null): BridgeStep[] {
  if (soFar === null) return [];
  const { spent, replaced, stated } = soFar;
  const about =
    stated === null
      ? "On order, and stock beyond the spares kept."
      : "What was spent, as stated, less what was replaced.";
  return [step("Bought so far", (spent ?? replaced) - replaced, about)];
}

/** What is left to be used in the fiscal year, at today's prices and not made whole packs. */
function usedCost(year: Year, { quarters }: FiscalYear): number {
  const [first, last] = [quarters[0]?.first ?? 0, quarters.at(-1)?.last ?? 0];
  return year.parts.reduce((sum, { part, needs }) => {
    const { scheduled, unplanned } = sumNeed(needs.slice(first, last + 1));
    const used = scheduled + unplanned;
    return sum + used * priceOfOne(part);
  }, 0);
}
