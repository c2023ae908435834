import { addMonths, type Day } from "../../core/day.ts";
import { roundMoney } from "../orders/lines.ts";
import { orderSteps } from "../orders/orders.ts";
import { cellText } from "../records/doubts.ts";
import type { Reading } from "../records/records.ts";
import { eachSetting, type SettingKey } from "../records/settings.ts";
import { HOLIDAYS } from "../sheets/holidays.ts";
import { PARTS } from "../sheets/parts.ts";
import { SETUP } from "../sheets/setup.ts";
import { SHELF } from "../sheets/shelf.ts";
import type { Snapshot } from "../workbook/snapshot.ts";
import { finished, type Steps } from "../workbook/steps.ts";
import { NO_WHAT_IF, type WhatIf } from "../year/what-if.ts";
import { sumNeed } from "../year/need.ts";
import { USUAL_YEAR, type Year, yearSteps } from "../year/year.ts";
import { type FiscalYear, fiscalYear } from "./fiscal.ts";
import { type LastYear, lastYearOf, priceOfOne } from "./last-year.ts";
import { costAt } from "./level.ts";
import { type PlaceBudget, placeBudgets } from "./need.ts";

/** What is asked of a budget. */
export interface BudgetRequest {
  /** First month of the year; null for the next fiscal year. */
  readonly from: Day | null;
  /** Chance that the upper figure is enough; null for the one of Setup. */
  readonly level: number | null;
  readonly pooled: boolean;
  /** Sessions from births instead of counts, where the Sites sheet has births. */
  readonly births: boolean;
  readonly whatIf: WhatIf;
}

/** A step from last year's cost to the budget. */
export interface BridgeStep {
  readonly step: string;
  readonly amount: number;
  readonly about: string;
}

/** The budget of a fiscal year. */
export interface Budget {
  readonly year: Year;
  readonly fiscal: FiscalYear;
  readonly request: BudgetRequest;
  readonly level: number;
  readonly places: readonly PlaceBudget[];
  /** Freight by quarter. */
  readonly freight: readonly number[];
  /** Parts and freight. */
  readonly expected: number;
  readonly contingency: number;
  readonly upper: number;
  readonly lastYear: LastYear;
  readonly bridge: readonly BridgeStep[];
  /** Parts without a price; they cost nothing here, and this is reported. */
  readonly unpriced: readonly string[];
  /** Why no upper figure may be given out, a clause each; empty where it may. */
  readonly incomplete: readonly string[];
}

/** Works out the budget of a fiscal year. */
export function budgetOf(snapshot: Snapshot, reading: Reading, request: BudgetRequest): Budget {
  return finished(budgetSteps(snapshot, reading, request));
}

/** The same in steps. */
export function* budgetSteps(
  snapshot: Snapshot,
  reading: Reading,
  request: BudgetRequest,
): Steps<Budget> {
  const { settings } = reading.ours;
  const fiscal = fiscalYear(settings.reportDate, settings.fiscalStart, request.from);
  const yearWith = (whatIf: WhatIf): Steps<Year> =>
    yearSteps(snapshot, reading, {
      ...USUAL_YEAR,
      months: fiscal.months,
      whatIf,
      births: request.births,
    });
  const year = yield* yearWith(request.whatIf);
  const { places, costs } = placeBudgets(year, fiscal, request.pooled);
  yield;
  const level = request.level ?? settings.budgetLevel;
  const freight = yield* freightSteps(year, fiscal, request.pooled);
  const parts = sumOf(places.map(({ cost }) => cost));
  const expected = roundMoney(parts + sumOf(freight));
  const lastYear = lastYearOf(year);
  const unpriced = [
    ...new Set(places.filter(({ cost }) => cost === null).map(({ part }) => part.name)),
  ];
  // Enough where it is more than expected; a chance below one half may be less.
  const put = roundMoney(Math.max(0, costAt(costs, level) - parts));
  return {
    year,
    fiscal,
    request,
    level,
    places,
    freight,
    expected,
    contingency: put,
    upper: roundMoney(expected + put),
    lastYear,
    bridge: yield* bridgeSteps({ year, yearWith, fiscal, places, freight, lastYear }),
    unpriced,
    incomplete: [
      ...(unpriced.length === 0 ? [] : [`no price on Parts: ${unpriced.join(", ")}`]),
      ...moneyInDoubt(reading, request),
      ...deliveriesInDoubt(reading),
    ],
  };
}

/** Cells without which no sum of money can be called enough. */
function moneyInDoubt(reading: Reading, { from, births }: BudgetRequest): string[] {
  const { settings, doubts } = reading.ours;
  const usesBabies = births || settings.countsBabies;
  const isUsed = (key: SettingKey): boolean => {
    if (key === "fiscalStart") return from === null;
    return key === "rescreenFactor" ? usesBabies : true;
  };
  const wanted = eachSetting().flatMap(([key, { label, money }]) =>
    money === true && settings.doubted.has(key) && isUsed(key) ? [label] : [],
  );
  const headings = new Set([...wanted, ...(births ? ["Births a year"] : [])]);
  return doubts
    .filter(({ kind, heading }) => kind !== "number in text" && headings.has(heading))
    .map((doubt) => `${cellText(doubt)} cannot be used`);
}

/** Sheets of ours that say when and how much is ordered. */
const ORDERED_BY: ReadonlySet<string> = new Set([
  SETUP.name,
  PARTS.name,
  HOLIDAYS.name,
  SHELF.name,
]);

/** More or larger orders may go out in fewer deliveries: with freight, doubt about them has no careful sum. */
function deliveriesInDoubt(reading: Reading): string[] {
  const { settings, doubts } = reading.ours;
  const first = doubts.find(
    ({ kind, sheet }) =>
      kind !== "number in text" && ORDERED_BY.has(sheet.replace(/ \(\d+\)$/, "")),
  );
  if (settings.freight === 0 || first === undefined) return [];
  return [
    `the number of deliveries, each with freight, rests on cells in doubt, such as ${cellText(first)}`,
  ];
}

/** A sum in which what is not known counts nothing. */
export function sumOf(amounts: readonly (number | null)[]): number {
  return roundMoney(amounts.reduce<number>((sum, amount) => sum + (amount ?? 0), 0));
}

/** Code of the currency of all amounts. */
export function currencyOf({ year }: Budget): string {
  return year.reading.ours.settings.currency;
}

/** Freight of the deliveries that the orders of the year ask for. */
function* freightSteps(year: Year, fiscal: FiscalYear, pooled: boolean): Steps<number[]> {
  const { freight } = year.reading.ours.settings;
  if (freight === 0) return fiscal.quarters.map(() => 0);
  const { lines } = yield* orderSteps(year, pooled);
  return fiscal.quarters.map(({ from }) => {
    const end = addMonths(from, 3);
    const deliveries = new Set(
      lines
        .filter(({ orderOn }) => orderOn >= from && orderOn < end)
        .map(({ orderOn, place }) => `${orderOn} ${place.site} ${place.part.supply.supplier}`),
    );
    // What is ordered before the year but in its first month's past belongs to nobody else.
    return roundMoney(deliveries.size * freight);
  });
}

interface Bridging {
  readonly year: Year;
  readonly yearWith: (whatIf: WhatIf) => Steps<Year>;
  readonly fiscal: FiscalYear;
  readonly places: readonly PlaceBudget[];
  readonly freight: readonly number[];
  readonly lastYear: LastYear;
}

/** From what the last twelve months' replacements would cost today to the budget, step by step. */
function* bridgeSteps(bridging: Bridging): Steps<BridgeStep[]> {
  const { year, yearWith, fiscal, places, freight, lastYear } = bridging;
  const { whatIf } = year;
  const { volume, wear, added, retired } = whatIf;
  const plain = { ...NO_WHAT_IF, volume, wear };
  // Rounded as they come, so that the steps add up to the cent.
  const cost = (of: Year): number => roundMoney(usedCost(of, fiscal));
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
  const step = (name: string, amount: number, about: string): BridgeStep => ({
    step: name,
    amount: roundMoney(amount),
    about,
  });
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
    step("Packs and stock", parts - rising - all, "Whole packs, and spares to keep."),
    step("Price", rising, "Rise on 1 January."),
    step("Freight", sumOf(freight), "Deliveries of the year's orders."),
  ];
}

/** What is used in the fiscal year, at today's prices and not made whole packs. */
function usedCost(year: Year, { quarters }: FiscalYear): number {
  const [first, last] = [quarters[0]?.first ?? 0, quarters.at(-1)?.last ?? 0];
  return year.parts.reduce((sum, { part, needs }) => {
    const { scheduled, unplanned } = sumNeed(needs.slice(first, last + 1));
    const used = scheduled + unplanned;
    return sum + used * priceOfOne(part);
  }, 0);
}
