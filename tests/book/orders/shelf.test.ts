import { describe, expect, it } from "vitest";
import { judgedShelf } from "../../../src/book/records/shelf.ts";
import type { ShelfItem } from "../../../src/book/records/records.ts";
import { orderSheet } from "../../../src/book/orders/order-list.ts";
import { orderWorkSheet } from "../../../src/book/orders/order-work.ts";
import type { Orders } from "../../../src/book/orders/orders.ts";
import { day } from "../../../src/core/day.ts";
import { on } from "../../scenes/scene.ts";
import { onShelf, ordersWith, shelfProgramme, toldNow } from "../../scenes/shelf.ts";

/** Five sets due now, next in three months. */
const FIVE = Array.from({ length: 5 }, (_, at) => ({ id: `A-${at}`, set: on("2026-04-06") }));

const ordering = (more: Partial<ShelfItem>, onHand = 0): Orders =>
  ordersWith({ shelf: [onShelf(onHand, more)] });

const stockOf = ({ places }: Orders) => places.find(({ part }) => part.code === "SET")?.stock;

const doubtsOf = (shelf: readonly ShelfItem[]): string[] =>
  judgedShelf(shelfProgramme({ shelf }).reading).flatMap(({ doubts }) =>
    doubts.map(({ kind, field }) => `${kind}, ${field}`),
  );

describe("what is on order", () => {
  it("counts from the day it is expected: ten months ahead it serves nothing now", () => {
    const shelf = [onShelf(1, { onOrder: 8, expectedOn: day("2027-05-06") })];
    const orders = ordersWith({ shelf, devices: FIVE });
    const units = orders.now.reduce((sum, { units: line }) => sum + line, 0);
    expect(units).toBeGreaterThanOrEqual(5);
    expect(orders.now[0]?.why).toContain("8 more expected on 2027-05-06");
    const after = (all: Orders): number =>
      all.lines.filter(({ needBy }) => needBy >= day("2027-05-06")).length;
    expect([after(orders), after(ordersWith({ shelf: [onShelf(1)], devices: FIVE }))]).toEqual([
      0, 1,
    ]);
  });

  it("serves the needs that come after its day", () => {
    // The set due on 20 August would leave no spare; the delivery of the 10th keeps it.
    expect(toldNow(ordering({ onOrder: 3, expectedOn: day("2026-08-10") }, 1))).toEqual([]);
    expect(toldNow(ordering({ onOrder: 3, expectedOn: day("2026-08-30") }, 1))).toEqual([
      ["S01", 1, 1, "2026-08-20", "2026-07-21", 100],
    ]);
  });

  it("is not ordered anew where a new order would come no sooner, and a need before it is told", () => {
    const shelf = [onShelf(0, { onOrder: 8, expectedOn: day("2026-07-20") })];
    const orders = ordersWith({ shelf, devices: FIVE });
    expect(toldNow(orders)).toEqual([]);
    expect(orders.waits).toEqual([
      "Electrode set at S01: 5 short from 2026-07-06 until 8 on order arrive on 2026-07-20: ask for an earlier delivery",
    ]);
    expect(orderSheet(orders).notes.join(" ")).toContain("5 short from 2026-07-06");
  });

  it.each([
    ["2026-03-01", "8 on order at S01, expected 2026-03-01, not counted: confirm the date"],
    [null, "8 on order at S01, no date expected, not counted: confirm the date"],
  ])("and expected on %s counts not at all until it is confirmed, told by name", (date, told) => {
    const expectedOn = date === null ? null : day(date);
    const orders = ordering({ onOrder: 8, expectedOn });
    expect(toldNow(orders)).toEqual(toldNow(ordering({})));
    expect(orders.notCounted).toEqual([`Electrode set: ${told}`]);
    expect(orderSheet(orders).notes.join(" ")).toContain(told);
    expect(doubtsOf([onShelf(0, { onOrder: 8, expectedOn })])).toEqual(["delivery, expectedOn"]);
  });

  it("under a date that cannot be read counts not at all", () => {
    const unread = new Set(["expectedOn"] as const);
    const orders = ordering({ onOrder: 8, unread });
    expect(stockOf(orders)).toMatchObject({ receipts: [], onOrder: 0 });
    expect(orders.notCounted).toEqual([
      "Electrode set: 8 on order at S01, its expected date cannot be read, not counted: confirm the date",
    ]);
  });

  it("twice for one day counts once, the lower number", () => {
    const more = { onOrder: 8, expectedOn: day("2026-07-20") };
    const shelf = [onShelf(0, more), onShelf(0, { ...more, row: 9, onOrder: 3 })];
    expect(stockOf(ordersWith({ shelf }))?.onOrder).toBe(3);
    const apart = [
      onShelf(0, more),
      onShelf(null, { row: 9, onOrder: 3, expectedOn: day("2026-08-20") }),
    ];
    expect(stockOf(ordersWith({ shelf: apart }))?.receipts).toHaveLength(2);
  });
});

describe("what is on hand", () => {
  it("does not count while its expiry cannot be read", () => {
    const orders = ordering({ unread: new Set(["expiry"] as const) }, 3);
    expect(stockOf(orders)?.onHand).toBe(0);
    expect(toldNow(orders)).toEqual(toldNow(ordering({})));
    expect(orders.notCounted).toEqual([
      "Electrode set: 3 on hand at S01, expiry cannot be read, not counted: type the expiry on the label",
    ]);
  });

  it.each([
    ["2026-07-07", "counted on 2026-07-07, after the report date"],
    ["2025-07-05", "counted on 2025-07-05, over 12 months ago"],
    [null, "without a day of the count"],
  ])("counted on %s does not count until it is counted again", (date, told) => {
    const countedOn = date === null ? null : day(date);
    const orders = ordering({ countedOn }, 3);
    expect(stockOf(orders)?.onHand).toBe(0);
    expect(orders.notCounted).toEqual([
      `Electrode set: 3 on hand at S01, ${told}, not counted: count again`,
    ]);
    expect(doubtsOf([onShelf(3, { countedOn })])).toEqual(["shelf count, countedOn"]);
  });

  it.each(["2026-07-06", "2026-03-06", "2025-07-06"])("counted on %s counts", (date) => {
    const orders = ordering({ countedOn: day(date) }, 3);
    expect([stockOf(orders)?.onHand, orders.notCounted]).toEqual([3, []]);
  });

  it("in rows of the same part, site and lot counts once, the lower number", () => {
    const twice = (lot: string) => [onShelf(3, { lot }), onShelf(2, { lot, row: 8 })];
    for (const lot of ["", "L1"]) {
      const orders = ordersWith({ shelf: twice(lot) });
      expect(stockOf(orders)?.onHand).toBe(2);
      expect(orders.notCounted).toEqual([
        "Electrode set: S01 stands in rows 4 and 9, only the lower number counts: keep one row",
      ]);
      expect(doubtsOf(twice(lot))).toEqual(["shelf row twice, part"]);
    }
    const lots = [onShelf(3, { lot: "L1" }), onShelf(2, { lot: "L2", row: 8 })];
    expect(stockOf(ordersWith({ shelf: lots }))?.onHand).toBe(5);
    expect(doubtsOf(lots)).toEqual([]);
    // The same lot under two dates: the earlier one holds.
    const dates = [
      onShelf(3, { lot: "L1", expiry: day("2027-01-31") }),
      onShelf(3, { lot: "l1 ", row: 8, expiry: day("2026-09-30") }),
    ];
    expect(stockOf(ordersWith({ shelf: dates }))?.lots).toEqual([
      { expiry: day("2026-09-30"), units: 3 },
    ]);
  });

  it("far beyond two years' need is told, and counts as if it had a digit too many", () => {
    // One device, a set at least every three months: four a year, eight in two.
    expect(stockOf(ordering({}, 8))?.onHand).toBe(8);
    const orders = ordering({}, 30);
    expect(stockOf(orders)?.onHand).toBe(3);
    expect(orders.notCounted).toEqual([
      "Electrode set: 30 on hand at S01, over two years' need, only 3 counted: check for a digit too many",
    ]);
    expect(doubtsOf([onShelf(30)])).toEqual(["shelf count high, onHand"]);
    // A pack holds what it holds.
    const packs = ordersWith({ shelf: [onShelf(30)], set: { pack: 30 } });
    expect(stockOf(packs)?.onHand).toBe(30);
  });

  it("in doubt stands beside its place in Calculation", () => {
    const sheet = orderWorkSheet(ordering({ countedOn: null }, 3));
    const column = sheet.layout.columns.findIndex(({ heading }) => heading === "Not counted");
    expect(sheet.rows.map((row) => row[column])).toContain(
      "3 on hand at S01, without a day of the count, not counted: count again",
    );
  });

  it("expired or none at all raises no doubt", () => {
    const past = { expiry: day("2026-07-05"), countedOn: null };
    expect(doubtsOf([onShelf(3, past), onShelf(0, { row: 8, countedOn: null, lot: "B" })])).toEqual(
      [],
    );
  });
});
