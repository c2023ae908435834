import { finished, type Steps } from "../workbook/steps.ts";
import type { Reading } from "../records/records.ts";
import { judgedShelf, notCounted } from "../records/shelf.ts";
import type { Snapshot } from "../workbook/snapshot.ts";
import type { WhatIf } from "../year/what-if.ts";
import { USUAL_YEAR, type Year, yearSteps } from "../year/year.ts";
import { orderTime } from "./ledger.ts";
import { deliveriesOf, type OrderLine, orderLines, roundMoney, waitsOf } from "./lines.ts";
import { type OrderPlace, placeSteps } from "./place.ts";

/** The orders of the time ahead. */
export interface Orders {
  readonly year: Year;
  readonly places: readonly OrderPlace[];
  readonly lines: readonly OrderLine[];
  /** Lines that go out by the next look at the stock. */
  readonly now: readonly OrderLine[];
  readonly later: readonly OrderLine[];
  /** What of the Shelf cannot be counted on, each in words. */
  readonly notCounted: readonly string[];
  /** Needs that come before a delivery on its way, each in words. */
  readonly waits: readonly string[];
  /** Units to be ordered now if every site kept its own spares, and if there were one store. */
  readonly local: number;
  readonly pooled: number;
}

/** What is asked of the orders of a book. */
export interface OrdersRequest {
  readonly pooled: boolean;
  readonly whatIf: WhatIf;
}

/** Works out, in steps, what a book's usual year ahead has to order. */
export function* bookOrderSteps(
  snapshot: Snapshot,
  reading: Reading,
  { pooled, whatIf }: OrdersRequest,
): Steps<Orders> {
  return yield* orderSteps(yield* yearSteps(snapshot, reading, { ...USUAL_YEAR, whatIf }), pooled);
}

/** Works out what to order, where and when. */
export function ordersOf(year: Year, pooled: boolean): Orders {
  return finished(orderSteps(year, pooled));
}

/** The same in steps. */
function* orderSteps(year: Year, pooled: boolean): Steps<Orders> {
  const chosen = yield* lineSteps(year, pooled);
  const other = yield* lineSteps(year, !pooled);
  const isPooled = pooled || year.reading.ours.settings.spares === "programme";
  const sums = [unitsOf(chosen.now), unitsOf(other.now)] as const;
  return {
    year,
    ...chosen,
    notCounted: notCounted(judgedShelf(year.reading)),
    waits: waitsOf(chosen.places, year.horizon.reportDate),
    local: isPooled ? sums[1] : sums[0],
    pooled: isPooled ? sums[0] : sums[1],
  };
}

function* lineSteps(
  year: Year,
  pooled: boolean,
): Steps<Pick<Orders, "places" | "lines" | "now" | "later">> {
  const time = orderTime(year);
  const { reportDate, settings } = time;
  const places = yield* placeSteps(year, pooled);
  const lines = orderLines(places, time);
  const goes = ({ orderOn }: OrderLine): boolean => orderOn <= reportDate + settings.reviewDays;
  return {
    places,
    lines,
    now: lines.filter(goes),
    later: lines.filter((line) => !goes(line)),
  };
}

function unitsOf(lines: readonly OrderLine[]): number {
  return lines.reduce((sum, { units }) => sum + units, 0);
}

/** What the orders could not count on, and what they cannot help: sentences for every place that shows orders. */
export function orderWarnings({ notCounted, waits }: Orders): string[] {
  return [...notCounted, ...waits].map((text) => `${text}.`);
}

/** Cost of some lines with the freight of their deliveries; null while a price is missing. */
export function costOf(
  { year }: Orders,
  lines: readonly OrderLine[],
): {
  readonly parts: number;
  readonly freight: number;
  readonly unpriced: readonly string[];
} {
  const { freight } = year.reading.ours.settings;
  const unpriced = new Set(
    lines.filter(({ cost }) => cost === null).map(({ place }) => place.part.name),
  );
  return {
    parts: roundMoney(lines.reduce((sum, { cost }) => sum + (cost ?? 0), 0)),
    freight: roundMoney(deliveriesOf(lines) * freight),
    unpriced: [...unpriced],
  };
}
