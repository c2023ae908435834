import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type Budget, budgetOf } from "../../../src/book/budget/budget.ts";
import { orderTime, purchasesOf } from "../../../src/book/orders/ledger.ts";
import { costOf, ordersOf } from "../../../src/book/orders/orders.ts";
import type { OrderLine } from "../../../src/book/orders/lines.ts";
import type { ShelfItem } from "../../../src/book/records/records.ts";
import { NO_WHAT_IF } from "../../../src/book/year/what-if.ts";
import { addMonths, type Day, day, isoText } from "../../../src/core/day.ts";
import { JULY, partsWith, siteWith, small, type Small } from "../../scenes/programme.ts";
import { on } from "../../scenes/scene.ts";
import { onShelf } from "../../scenes/shelf.ts";

const PRICE = 100;
const FREIGHT = 7;

/** A programme in which nothing is left open: no counts, so the shortest intervals, and no wear. */
interface Given {
  readonly ages: readonly (readonly [age: number, site: string])[];
  readonly pack: number;
  readonly shelfMonths: number | null;
  readonly each: number;
  readonly review: number;
  readonly shelf: readonly ShelfItem[];
}

const after = (days: number): Day => (JULY + days) as Day;

const shelfItem = fc
  .record({
    site: fc.constantFrom("S01", "S02"),
    onHand: fc.integer({ min: 0, max: 9 }),
    expires: fc.option(fc.integer({ min: 1, max: 500 })),
    coming: fc.option(
      fc.record({ units: fc.integer({ min: 1, max: 6 }), in: fc.integer({ min: 0, max: 350 }) }),
    ),
  })
  .map(({ site, onHand, expires, coming }) =>
    onShelf(onHand, {
      ...{ site, expiry: expires === null ? null : after(expires) },
      onOrder: coming?.units ?? null,
      expectedOn: coming === null ? null : after(coming.in),
    }),
  );

function given(pack: fc.Arbitrary<number>, review: fc.Arbitrary<number>): fc.Arbitrary<Given> {
  return fc.record({
    ages: fc.array(fc.tuple(fc.integer({ min: 0, max: 120 }), fc.constantFrom("S01", "S02")), {
      minLength: 1,
      maxLength: 8,
    }),
    shelfMonths: fc.option(fc.integer({ min: 2, max: 18 })),
    each: fc.integer({ min: 1, max: 2 }),
    shelf: fc
      .array(shelfItem, { maxLength: 3 })
      .map((items) => items.map((item, at) => ({ ...item, row: 3 + at, lot: `L${at}` }))),
    ...{ pack, review },
  });
}

function programme(
  { ages, pack, shelfMonths, each, review, shelf }: Given,
  more: { readonly priceRise?: number } = {},
): Small {
  const devices = ages.map(([age, site], at) => ({
    id: `A-${at + 1}`,
    ...{ site, set: on(isoText(after(-age))) },
  }));
  return small(devices, {
    parts: partsWith(
      { pack, packPrice: PRICE, shelfMonths, perReplacement: each },
      { packPrice: null },
    ).filter(({ code }) => code === "SET"),
    settings: { fiscalStart: 7, freight: FREIGHT, reviewDays: review, ...more },
    sites: ["S01", "S02"].map((code) => siteWith(code)),
    ours: { shelf },
  });
}

function budget({ snapshot, reading }: Small, from: Day): Budget {
  return budgetOf(snapshot, reading, {
    ...{ from, level: null, pooled: false, births: false, whatIf: NO_WHAT_IF },
  });
}

const packsIn = (lines: readonly Pick<OrderLine, "packs">[]): number =>
  lines.reduce((sum, { packs }) => sum + packs, 0);

/** Days of the ledger in which something happens. */
function eventsOf({ year }: Budget): Day[] {
  return ordersOf(year, false).places.flatMap((place) => [
    ...place.due,
    ...place.stock.lots.map(({ expiry }) => (expiry + 1) as Day),
    ...place.stock.receipts.map(({ on: comes }) => comes),
    ...purchasesOf(place, orderTime(year)).flatMap(({ expiry }) =>
      expiry === null ? [] : [(expiry + 1) as Day],
    ),
  ]);
}

describe("one ledger", () => {
  it("buys as many packs in a budget of the year ahead as in the order list, in the year and by quarter", () => {
    const from = day("2026-07-01");
    const end = addMonths(from, 12);
    const check = fc.property(given(fc.integer({ min: 1, max: 5 }), fc.constant(0)), (one) => {
      const found = budget(programme(one), from);
      // The order list looks six days further than the fiscal year.
      fc.pre(!eventsOf(found).some((event) => event >= end && event <= addMonths(JULY, 12)));
      const { lines } = ordersOf(found.year, false);
      expect(packsIn(found.places)).toBe(packsIn(lines));
      for (const { units, startStock, endStock, boughtAgain, packs, part } of found.places) {
        const wanted = units + endStock + boughtAgain - startStock;
        expect(packs).toBe(Math.max(0, Math.ceil(wanted / part.supply.pack - 1e-9)));
        expect(Math.min(startStock, boughtAgain)).toBeGreaterThanOrEqual(0);
      }
      expect(found.expected).toBeCloseTo(
        packsIn(lines) * PRICE + found.freight.reduce((sum, freight) => sum + freight, 0),
        6,
      );
      found.fiscal.quarters.forEach((quarter, at) => {
        const until = addMonths(quarter.from, 3);
        const needed = lines.filter(({ needBy }) => needBy >= quarter.from && needBy < until);
        const sums = found.places.map(({ quarters }) => quarters[at]?.packs ?? 0);
        expect(sums.reduce((sum, packs) => sum + packs, 0)).toBe(packsIn(needed));
      });
    });
    fc.assert(check, { numRuns: 60 });
  });

  it("buys the same in a later year, what was missing when it begins having been bought before", () => {
    const from = day("2026-10-01");
    const end = addMonths(from, 12);
    const check = fc.property(given(fc.constant(1), fc.constant(0)), (one) => {
      const found = budget(programme(one), from);
      const lines = ordersOf(found.year, false).lines.filter(
        ({ needBy }) => needBy >= from && needBy < end,
      );
      expect(packsIn(found.places)).toBe(packsIn(lines));
    });
    fc.assert(check, { numRuns: 60 });
  });

  it("buys again what expires, and before a delivery that comes late", () => {
    const usual = { ages: [[47, "S01"]], each: 1, review: 0, pack: 1, shelf: [] } as const;
    const bought = (more: Partial<Given>): number =>
      packsIn(
        budget(programme({ ...usual, shelfMonths: null, ...more }), day("2026-07-01")).places,
      );
    // Due in August, November, February and May, and one spare.
    expect(bought({})).toBe(5);
    // A delivery of ten in March is of no use to the spare and the sets of August, November and February.
    expect(bought({ shelf: [onShelf(0, { onOrder: 10, expectedOn: day("2027-03-01") })] })).toBe(4);
    // Spares keep two months: bought in July, September, November and so on, whether they are used or not.
    expect(bought({ shelfMonths: 2 })).toBeGreaterThan(5);
  });

  it("costs what the order list does where prices rise on 1 January: each order at the price of its day", () => {
    const from = day("2026-07-01");
    const end = addMonths(from, 12);
    let crossed = 0;
    const check = fc.property(given(fc.integer({ min: 1, max: 5 }), fc.constant(0)), (one) => {
      const found = budget(programme(one, { priceRise: 0.1 }), from);
      fc.pre(!eventsOf(found).some((event) => event >= end && event <= addMonths(JULY, 12)));
      const orders = ordersOf(found.year, false);
      const { parts, freight } = costOf(orders, orders.lines);
      // A quarter's mean price is told in cents.
      const cents = 0.005 * packsIn(orders.lines);
      expect(Math.abs(found.expected - parts - freight)).toBeLessThanOrEqual(cents + 1e-6);
      const newYear = day("2027-01-01");
      crossed += orders.lines.some(({ orderOn, needBy }) => orderOn < newYear && needBy >= newYear)
        ? 1
        : 0;
    });
    fc.assert(check, { numRuns: 60 });
    // Some are ordered in one year for the next.
    expect(crossed).toBeGreaterThan(0);
  });

  it("counts the freight of a year's deliveries as the order list does", () => {
    const check = fc.property(
      given(fc.integer({ min: 1, max: 5 }), fc.integer({ min: 0, max: 21 })),
      (one) => {
        const found = budget(programme(one), day("2026-07-01"));
        const orders = ordersOf(found.year, false);
        const own = orders.lines.filter(({ orderOn }) => orderOn < day("2027-07-01"));
        const freight = found.freight.reduce((sum, amount) => sum + amount, 0);
        expect(freight).toBe(costOf(orders, own).freight);
      },
    );
    fc.assert(check, { numRuns: 40 });
  });
});
