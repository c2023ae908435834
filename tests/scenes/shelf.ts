import { type Orders, ordersOf } from "../../src/book/orders/orders.ts";
import type { ShelfItem, Supply } from "../../src/book/records/records.ts";
import type { Settings } from "../../src/book/records/settings.ts";
import { day, isoText } from "../../src/core/day.ts";
import { partsWith, siteWith, small, type Small, type Typical, yearOf } from "./programme.ts";

/** What lies on a shelf of sets. */
export function onShelf(onHand: number | null, more: Partial<ShelfItem> = {}): ShelfItem {
  return {
    ...{ sheet: "Shelf", row: 3, part: "SET", site: "S01", onHand, countedOn: day("2026-07-01") },
    ...{ onOrder: null, expectedOn: null, lot: "", expiry: null },
    ...more,
  };
}

/** What differs from one device, its set due on 2026-08-20 and nothing on the shelf. */
export interface Shelved {
  readonly shelf?: readonly ShelfItem[];
  readonly set?: Partial<Supply>;
  readonly settings?: Partial<Settings>;
  readonly devices?: readonly Typical[];
  readonly pooled?: boolean;
}

/** A set due on 2026-08-20 (three months from 20 May, no counts); cushions kept in plenty. */
export function shelfProgramme({ shelf = [], set = {}, settings = {}, devices }: Shelved): Small {
  const plenty = ["S01", "S02"].flatMap((site, at) =>
    ["L1", "L2", "L3"].map((lot, of) =>
      onShelf(4, { part: "CUSHION", site, lot, row: 40 + 3 * at + of }),
    ),
  );
  return small(devices ?? [{ id: "A-1" }], {
    parts: partsWith(set),
    settings,
    ours: { shelf: [...shelf, ...plenty] },
    sites: [siteWith("S01"), siteWith("S02")],
  });
}

/** The orders of such a programme. */
export function ordersWith(given: Shelved): Orders {
  return ordersOf(yearOf(shelfProgramme(given)), given.pooled ?? false);
}

/** Site, units, packs, days and cost of the lines that go out now. */
export function toldNow(orders: Orders): unknown[] {
  return orders.now.map(({ place, units, packs, needBy, orderBy, cost }) => [
    ...[place.site, units, packs, isoText(needBy), isoText(orderBy), cost],
  ]);
}
