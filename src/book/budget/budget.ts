import { addMonths, type Day } from "../../core/day.ts";
import { orderTime } from "../orders/ledger.ts";
import { deliveriesOf, type OrderLine, purchaseLines, roundMoney } from "../orders/lines.ts";
import { placeSteps } from "../orders/place.ts";
import { cellText } from "../records/doubts.ts";
import type { Reading } from "../records/records.ts";
import { eachSetting, type SettingKey, SETTINGS } from "../records/settings.ts";
import { HOLIDAYS } from "../sheets/holidays.ts";
import { PARTS } from "../sheets/parts.ts";
import { SETUP } from "../sheets/setup.ts";
import { SHELF } from "../sheets/shelf.ts";
import type { Snapshot } from "../workbook/snapshot.ts";
import { finished, type Steps } from "../workbook/steps.ts";
import type { WhatIf } from "../year/what-if.ts";
import { USUAL_YEAR, type Year, yearSteps } from "../year/year.ts";
import { type BridgeStep, bridgeSteps } from "./bridge.ts";
import { type FiscalYear, fiscalYear } from "./fiscal.ts";
import { type LastYear, lastYearOf } from "./last-year.ts";
import { costAhead } from "./level.ts";
import { sumOf } from "./money.ts";
import { type PlaceBudget, placeBudgets } from "./need.ts";
import { type SoFar, soFarOf } from "./so-far.ts";

/** What is asked of a budget. */
export interface BudgetRequest {
  /** First month of the twelve; null for the fiscal year that has just begun, else the next one. */
  readonly from: Day | null;
  /** What a running year has cost so far, where somebody knows it. */
  readonly spent?: number | null;
  /** Chance that the upper figure is enough; null for the one of Setup. */
  readonly level: number | null;
  readonly pooled: boolean;
  /** Sessions from births instead of counts, where the Sites sheet has births. */
  readonly births: boolean;
  readonly whatIf: WhatIf;
}

/** The budget of a fiscal year; of one that is running, of what is left of it. */
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
  /** The chance with which it is enough: packs are whole, so it is somewhat more than what was asked. */
  readonly holds: number;
  /** What a running year has cost so far; null for one that has not begun. */
  readonly soFar: SoFar | null;
  /** The running year as both; null where it cannot be told. */
  readonly whole: { readonly expected: number; readonly upper: number } | null;
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
      // Orders go by the early calls of a year, however little of it is left.
      months: Math.max(LEAST_MONTHS, fiscal.months),
      whatIf,
      births: request.births,
    });
  const year = yield* yearWith(request.whatIf);
  const stocks = yield* placeSteps(year, request.pooled);
  const isDated = settings.freight !== 0 || settings.priceRise !== 0;
  const bought = isDated ? purchaseLines(stocks, orderTime(year)) : [];
  yield;
  const { places, costs } = placeBudgets(year, fiscal, { pooled: request.pooled, stocks, bought });
  yield;
  const level = request.level ?? settings.budgetLevel;
  const freight = freightBy(bought, fiscal, settings.freight);
  yield;
  const parts = sumOf(places.map(({ cost }) => cost));
  const expected = roundMoney(parts + sumOf(freight));
  const lastYear = lastYearOf(year);
  const soFar = fiscal.isRunning
    ? soFarOf(year, fiscal, { pooled: request.pooled, stated: request.spent ?? null })
    : null;
  const unpriced = [
    ...new Set(places.filter(({ cost }) => cost === null).map(({ part }) => part.name)),
  ];
  // Enough where it is more than expected; a chance below one half may be less.
  const cost = costAhead(costs);
  const put = roundMoney(Math.max(0, cost.at(level) - parts));
  const upper = roundMoney(expected + put);
  const incomplete = [
    ...(unpriced.length === 0 ? [] : [`no price on Parts: ${unpriced.join(", ")}`]),
    ...moneyInDoubt(reading, request),
    ...deliveriesInDoubt(reading),
  ];
  return {
    year,
    fiscal,
    request,
    level,
    places,
    freight,
    expected,
    contingency: put,
    upper,
    holds: cost.holds(parts + put),
    soFar,
    whole: incomplete.length > 0 ? null : wholeOf(soFar, { expected, upper }),
    lastYear,
    bridge: yield* bridgeSteps({ year, yearWith, fiscal, places, freight, lastYear, soFar }),
    unpriced,
    incomplete,
  };
}

/** Months looked ahead at least. */
const LEAST_MONTHS = 12;

/** A running year: what was spent and what is left. */
function wholeOf(soFar: SoFar | null, left: NonNullable<Budget["whole"]>): Budget["whole"] {
  const spent = soFar?.spent ?? null;
  if (spent === null) return null;
  return { expected: roundMoney(spent + left.expected), upper: roundMoney(spent + left.upper) };
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

/** More or larger orders may go out in fewer deliveries: with freight, doubt about them has no careful sum. Notice days change no order. */
function deliveriesInDoubt(reading: Reading): string[] {
  const { settings, doubts } = reading.ours;
  const first = doubts.find(
    ({ kind, sheet, heading }) =>
      kind !== "number in text" &&
      heading !== SETTINGS.noticeDays.label &&
      ORDERED_BY.has(sheet.replace(/ \(\d+\)$/, "")),
  );
  if (settings.freight === 0 || first === undefined) return [];
  return [
    `the number of deliveries, each with freight, rests on cells in doubt, such as ${cellText(first)}`,
  ];
}

/** Code of the currency of all amounts. */
export function currencyOf({ year }: Budget): string {
  return year.reading.ours.settings.currency;
}

/** Freight of the deliveries that the orders of the year ask for, by quarter. */
function freightBy(lines: readonly OrderLine[], fiscal: FiscalYear, freight: number): number[] {
  return fiscal.quarters.map(({ from }) => {
    const end = addMonths(from, 3);
    // What is ordered before the year but in its first month's past belongs to nobody else.
    const own = lines.filter(({ orderOn }) => orderOn >= from && orderOn < end);
    return roundMoney(deliveriesOf(own) * freight);
  });
}
