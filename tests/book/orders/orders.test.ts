import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { costOf, ordersOf } from "../../../src/book/orders/orders.ts";
import { demoBook, DEMO_SEED } from "../../../src/book/demo/workbook.ts";
import { orderSheet } from "../../../src/book/orders/order-list.ts";
import { orderWorkSheet } from "../../../src/book/orders/order-work.ts";
import { readWorkbook } from "../../../src/book/reading/workbook.ts";
import { NO_WHAT_IF } from "../../../src/book/year/what-if.ts";
import { yearAhead } from "../../../src/book/year/year.ts";
import { NODE_CODEC } from "../../../src/cli/files.ts";
import { day, isoText } from "../../../src/core/day.ts";
import { newWorkbook, openWorkbook } from "../../../src/xlsx/index.ts";
import { birthsBook, BIRTHS_DATE } from "../../scenes/births.ts";
import { JULY, partsWith, small, type Typical, yearOf } from "../../scenes/programme.ts";
import { trueProgramme } from "../../scenes/true-programme.ts";
import { onShelf, ordersWith, toldNow } from "../../scenes/shelf.ts";
import { jobOf, on } from "../../scenes/scene.ts";
import type { Settings } from "../../../src/book/records/settings.ts";
import { cases } from "../../cases.ts";

/** A device that left last year. */
const GONE: Typical = {
  ...{ id: "A-1", status: "Retired", retiredOn: on("2025-12-01") },
  ...{ set: on("2025-10-01"), cushion: on("2025-10-01") },
};

describe("what to order", () => {
  it("is nothing while the spare outlasts the next due date", () => {
    expect(toldNow(ordersWith({ shelf: [onShelf(3)] }))).toEqual([]);
  });

  it("is one set before the last spare would be fitted, ordered the lead time ahead on a working day", () => {
    // Needed on Thursday 20 August; 30 days before is Tuesday 21 July.
    expect(toldNow(ordersWith({ shelf: [onShelf(1)] }))).toEqual([
      ["S01", 1, 1, "2026-08-20", "2026-07-21", 100],
    ]);
  });

  it("is the missing spare at once where the shelf is empty or nobody counted", () => {
    for (const shelf of [[onShelf(0)], [onShelf(null)], []]) {
      const [line, ...more] = ordersWith({ shelf }).now;
      expect([line && isoText(line.needBy), line?.units, more.length]).toEqual([
        "2026-07-06",
        2,
        0,
      ]);
      expect(line?.why).toContain("short now");
    }
  });

  it("counts no spare past its expiry, nor one that expires before it is used", () => {
    const past = ordersWith({ shelf: [onShelf(5, { expiry: day("2026-07-05") })] });
    expect(past.places.find(({ part }) => part.code === "SET")?.stock).toMatchObject({
      ...{ onHand: 0, expired: 5 },
    });
    expect(past.now.length).toBe(1);
    const soon = ordersWith({ shelf: [onShelf(3, { expiry: day("2026-07-31") })] });
    expect(soon.now.map(({ needBy }) => isoText(needBy))).toEqual(["2026-08-01"]);
    expect(soon.now[0]?.why).toContain("3 past expiry by then");
    const last = ordersWith({ shelf: [onShelf(3, { expiry: day("2027-12-31") })] });
    expect(toldNow(last)).toEqual([]);
  });

  it("comes in whole packs, also where a pack is more than a year's need", () => {
    const orders = ordersWith({ shelf: [onShelf(1)], set: { pack: 10, packPrice: 350 } });
    expect(toldNow(orders)).toEqual([["S01", 10, 1, "2026-08-20", "2026-07-21", 350]]);
    expect(orders.later).toEqual([]);
  });

  it("buys again what is past its shelf life before it is used", () => {
    const set = { pack: 10, packPrice: 350 };
    const keeps = ordersWith({ shelf: [onShelf(1)], set }).lines;
    expect(keeps.map(({ needBy }) => isoText(needBy))).toEqual(["2026-08-20"]);
    // Ten bought for 20 August may lie two months: one is used, nine are gone by November, when the next is due and
    // the one that keeps is the spare.
    const spoils = ordersWith({ shelf: [onShelf(1)], set: { ...set, shelfMonths: 2 } }).lines;
    expect(spoils.map(({ needBy }) => isoText(needBy)).slice(0, 2)).toEqual([
      ...["2026-08-20", "2026-11-20"],
    ]);
    expect(spoils[1]?.why).toContain("9 past expiry by then");
  });

  it("counts a replacement of two units twice", () => {
    const orders = ordersWith({ shelf: [onShelf(2)], set: { perReplacement: 2 } });
    expect(toldNow(orders)).toEqual([["S01", 2, 2, "2026-08-20", "2026-07-21", 200]]);
  });

  it("can go out on the day of need where there is no lead time", () => {
    const none = ordersWith({
      shelf: [onShelf(1)],
      set: { leadDays: 0 },
      settings: { reviewDays: 0 },
    });
    expect(toldNow(none)).toEqual([]);
    expect(none.later[0]).toMatchObject({ orderBy: day("2026-08-20"), orderOn: day("2026-08-20") });
  });

  it("keeps what early calls ask for over a lead time, more where it spreads", () => {
    const busy = small([{ id: "A-1" }, { id: "A-2" }]);
    const job = { sheet: "Job log", row: 3, device: "A-1", deviceKey: "a-1", part: "SET" };
    const more = { finding: "", complete: true, lot: "", by: "", note: "" };
    const jobs = [
      { ...job, ...more, job: "replaced", date: day("2026-03-20") },
      { ...job, ...more, job: "replaced", date: day("2026-05-20"), finding: "crack" },
    ];
    const buffers = [0, 150].map((leadSpread) => {
      const parts = partsWith({ leadSpread, leadDays: 60 });
      const { settings } = busy.reading.ours;
      const given = { ...busy.reading, ours: { ...busy.reading.ours, parts, jobs, settings } };
      const year = yearOf({ snapshot: busy.snapshot, reading: given });
      return ordersOf(year, false).places[0]?.safetyStock ?? 0;
    });
    // 1.5 worn ends in 3.49 months and a shortest interval of both, two sets, 90 days: mean 0.94; Poisson
    // keeps 3, with the spread more.
    expect(buffers[0]).toBe(3);
    expect(buffers[1]).toBeGreaterThan(3);
  });

  it("goes out so early that the goods come in time at the service level", () => {
    // Thirty days spread by ten are 49 at 95 % (chi-squared); 49 days before 20 August is 2 July, past already.
    const [line] = ordersWith({ shelf: [onShelf(1)], set: { leadSpread: 10 } }).now;
    expect([line && isoText(line.needBy), line && isoText(line.orderBy)]).toEqual([
      ...["2026-08-20", "2026-07-02"],
    ]);
    expect(line?.place.protectionInterval).toBe(49 + 30);
  });

  it("keeps whole replacements, and what calls at one time ask for, not a year's mean", () => {
    // Twenty sets of 47 days by a log in which sets wear at 61 to 71; they are due only after the days covered.
    const ids = Array.from({ length: 20 }, (_, at) => `A-${at + 1}`);
    const jobs = ids.flatMap((id, at) => [
      jobOf(id, "SET", at % 2 === 0 ? "2026-03-10" : "2026-03-20"),
      jobOf(id, "SET", "2026-05-20", { finding: at % 3 === 0 ? "crack" : "" }),
    ]);
    const devices = ids.map((id) => ({ id }));
    const spares = (perReplacement: number): number => {
      const parts = partsWith({ perReplacement, leadDays: 10 });
      const given = small(devices, { parts, ours: { jobs }, settings: { reviewDays: 20 } });
      const place = ordersOf(yearOf(given), false).places.find(({ part }) => part.code === "SET");
      if (place === undefined) throw new Error("sets are kept");
      // The year's mean would ask for less.
      const mean = (place.unplannedAMonth * 30) / 30.436875;
      expect(place.safetyStock).toBeGreaterThan(1.5 * mean + 1);
      return place.safetyStock;
    };
    const [one, two] = [spares(1), spares(2)];
    expect(one).toBeGreaterThan(1);
    expect(two).toBe(2 * one);
  });

  it("reckons with the due dates that more use would bring forward", () => {
    // Sets of 20 March last five months up to 36 uses a month, to 20 August; above that four, to 20 July.
    const forward = (uses: number): [number, number] => {
      const counts = Array.from({ length: 24 }, () => uses);
      const devices = Array.from({ length: 12 }, (_, at): Typical => {
        return { id: `A-${at}`, set: on("2026-03-20"), counts };
      });
      const parts = partsWith({ leadDays: 10 });
      const given = small(devices, { parts, settings: { reviewDays: 20 } });
      const place = ordersOf(yearOf(given), false).places.find(({ part }) => part.code === "SET");
      const until = JULY + (place?.protectionInterval ?? 0);
      return [place?.forward ?? NaN, place?.due.filter((date) => date <= until).length ?? NaN];
    };
    // Until five August none is due; close to the bound some may be, far from it none will.
    const [some, due] = forward(35);
    expect(some).toBeGreaterThan(3);
    expect(due).toBe(some);
    expect(forward(24)).toEqual([0, 0]);
  });

  it("keeps one spare a site, one a device, or one for all", () => {
    const devices = [{ id: "A-1" }, { id: "A-2" }, { id: "B-1", site: "S02" }];
    const floors = (spares: Settings["spares"], pooled = false): [string, number][] =>
      ordersWith({ devices, settings: { spares }, pooled })
        .places.filter(({ part }) => part.code === "SET")
        .map(({ site, minimumStock }) => [site, minimumStock]);
    expect(floors("site")).toEqual([
      ["S01", 1],
      ["S02", 1],
    ]);
    expect(floors("device")).toEqual([
      ["S01", 2],
      ["S02", 1],
    ]);
    expect(floors("programme")).toEqual([["", 1]]);
    expect(floors("device", true)).toEqual([["", 3]]);
  });

  it("of sites apart and together is told side by side", () => {
    const devices = [{ id: "A-1" }, { id: "B-1", site: "S02" }];
    const shelf = [onShelf(0), onShelf(3, { site: "S02" })];
    const [apart, together] = [false, true].map((pooled) => ordersWith({ devices, shelf, pooled }));
    expect([apart?.local, apart?.pooled]).toEqual([together?.local, together?.pooled]);
    expect(apart?.local).toBeGreaterThan(apart?.pooled ?? Infinity);
  });

  it("without a price costs nothing, and says so", () => {
    const orders = ordersWith({ shelf: [onShelf(1)], set: { packPrice: null } });
    expect(costOf(orders, orders.now)).toEqual({
      parts: 0,
      freight: 0,
      unpriced: ["Electrode set"],
    });
  });

  it("rises in price on 1 January, and pays freight for each delivery", () => {
    const orders = ordersWith({ shelf: [onShelf(1)], settings: { priceRise: 0.1, freight: 7 } });
    const prices = orders.lines.map(({ orderOn, price }) => [isoText(orderOn).slice(0, 4), price]);
    expect(new Map(prices as [string, number][])).toEqual(
      new Map([
        ["2026", 100],
        ["2027", 110],
      ]),
    );
    expect(costOf(orders, orders.now).freight).toBe(7 * orders.now.length);
  });

  it("is nothing for a part no device in service has", () => {
    const orders = ordersWith({ devices: [GONE] });
    expect([orders.places, orders.lines]).toEqual([[], []]);
  });

  it("never asks for a need before the report date, nor plans past the day a device leaves", () => {
    const devices = [{ id: "A-1", set: on("2024-01-01"), retiredOn: on("2026-09-01") }];
    const orders = ordersWith({ devices, shelf: [onShelf(2)] });
    expect(orders.places.find(({ part }) => part.code === "SET")?.due.map(isoText)).toEqual([
      "2026-07-06",
    ]);
    expect(toldNow(orders)).toEqual([]);
  });
});

const books = [
  ["velloran", () => newWorkbook(demoBook(DEMO_SEED, false).plan, { codec: NODE_CODEC }), JULY],
  ["births", birthsBook, BIRTHS_DATE],
] as const;

describe.each(books)("the orders of programme %s", (_, bytes, reportDate) => {
  const { snapshot } = openWorkbook(bytes(), { codec: NODE_CODEC });
  const reading = readWorkbook(snapshot, reportDate, { reportDate });
  const orders = ordersOf(
    yearAhead(snapshot, reading, { months: 12, level: 0.9, whatIf: NO_WHAT_IF }),
    false,
  );

  it("packs times pack size is the quantity, packs times price the cost", () => {
    const column = (heading: string): number =>
      orderSheet(orders).layout.columns.findIndex((one) => one.heading === heading);
    for (const row of orderSheet(orders).rows) {
      const number = (heading: string): number => Number(row[column(heading)]);
      expect(number("Packs") * number("Pack size")).toBe(number("Quantity"));
      expect(number("Packs") * number("Price a pack")).toBeCloseTo(number("Cost"), 6);
      expect(number("Order on")).toBeGreaterThanOrEqual(reportDate);
    }
  });

  it("every line now can be followed to its row of Calculation, and every shortage has a line", () => {
    const column = (heading: string): number =>
      orderWorkSheet(orders).layout.columns.findIndex((one) => one.heading === heading);
    const rows = orderWorkSheet(orders).rows;
    expect(rows.length).toBe(orders.places.length);
    for (const [at, place] of orders.places.entries()) {
      const number = (heading: string): number => Number(rows[at]?.[column(heading)]);
      expect(number("Reorder point")).toBe(number("Due in them") + number("Kept as spare"));
      expect(number("Kept as spare")).toBeGreaterThanOrEqual(number("Spare rule"));
      const missing = number("Reorder point") - number("On hand") - number("On order");
      expect(number("Missing")).toBe(Math.max(0, missing));
      const ordered = orders.now
        .filter((line) => line.place === place)
        .reduce((sum, { units }) => sum + units, 0);
      expect(ordered).toBeGreaterThanOrEqual(number("Missing"));
    }
    expect(orders.now.every(({ place }) => orders.places.includes(place))).toBe(true);
  });

  it("no spare is ever short if every order comes in time", () => {
    for (const place of orders.places) {
      const own = orders.lines.filter((line) => line.place === place);
      for (const date of place.due) {
        const came = own.filter(({ needBy }) => needBy <= date);
        const used = place.due.filter((due) => due <= date).length;
        const there = place.stock.onHand + place.stock.onOrder;
        const all = came.reduce((sum, { units }) => sum + units, there);
        expect(all - used).toBeGreaterThanOrEqual(place.safetyStock);
      }
    }
  });
});

/** The numbers of a sentence "why", by what they are. */
function numbersOf(why: string): Record<string, number> {
  const of = (pattern: RegExp): number => Number(pattern.exec(why)?.[1] ?? 0);
  return {
    hand: of(/(\d+) on the shelf/),
    ordered: of(/(\d+) ordered,/),
    past: of(/(\d+) past expiry/),
    due: of(/(\d+) due by/),
    early: of(/([\d.]+) more expected early/),
    kept: of(/(\d+) kept as spare/),
    short: of(/short .* by (\d+)\./),
  };
}

describe("the reason of every line", () => {
  const all = cases("Reasons of order lines that add up", 500, 60);
  it("adds up, and has the numbers of its row of Calculation", () => {
    let lines = 0;
    for (let seed = 1; seed <= all; seed += 1) {
      const { reportDate, snapshot } = trueProgramme(seed);
      const reading = readWorkbook(snapshot, reportDate, { reportDate });
      const year = yearAhead(snapshot, reading, { months: 12, level: 0.9, whatIf: NO_WHAT_IF });
      const orders = ordersOf(year, false);
      const { layout, rows } = orderWorkSheet(orders);
      const column = (heading: string): number =>
        layout.columns.findIndex((one) => one.heading === heading);
      for (const line of orders.lines) {
        const {
          hand = 0,
          ordered = 0,
          past = 0,
          due = 0,
          early = 0,
          kept = 0,
          short,
        } = numbersOf(line.why);
        const row = rows[orders.places.indexOf(line.place)] ?? [];
        expect([hand, kept]).toEqual([row[column("On hand")], row[column("Kept as spare")]]);
        // Early calls are told to two decimals, and a shortage is a whole unit.
        const missing = kept - (hand + ordered - past - due - early);
        expect(Math.abs((short ?? NaN) - Math.max(1, missing))).toBeLessThan(1.006);
        expect(short).toBeGreaterThanOrEqual(missing - 0.006);
        expect(line.units).toBeGreaterThanOrEqual(short ?? Infinity);
        lines += 1;
      }
    }
    expect(lines).toBeGreaterThan(2 * all);
  });

  it("says where the spares of a store lie best, and all of them", () => {
    let told = 0;
    for (let seed = 1; seed <= all / 2; seed += 1) {
      const { reportDate, snapshot } = trueProgramme(seed);
      const reading = readWorkbook(snapshot, reportDate, { reportDate });
      const year = yearAhead(snapshot, reading, { months: 12, level: 0.9, whatIf: NO_WHAT_IF });
      for (const { why, place } of ordersOf(year, true).lines) {
        const [, store, where] =
          /So that calls wait least, keep (\d+) of the spares in the store; ([^.]+)\./.exec(why) ??
          [];
        if (where === undefined) continue;
        told += 1;
        const codes = new Set(place.units.map(({ site }) => site));
        let units = Number(store);
        for (const some of where.split("; ")) {
          const [, number, names = ""] = /^(\d+)(?: each)? at (.+)$/.exec(some) ?? [];
          const sites = names.split(", ");
          for (const site of sites) expect(codes).toContain(site);
          units += Number(number) * sites.length;
        }
        expect(units).toBe(place.safetyStock);
      }
      for (const { why } of ordersOf(year, false).lines) {
        if (reading.ours.settings.spares !== "programme") expect(why).not.toContain("in the store");
      }
    }
    expect(told).toBeGreaterThan(0);
  });
});

interface Kept {
  readonly safetyStock: number;
  readonly point: number;
  readonly now: number;
}

describe("for any place", () => {
  const devices = Array.from({ length: 5 }, (_, at): Typical => {
    return { id: `A-${at}`, set: on(`2026-0${at + 2}-10`) };
  });
  const jobs = [day("2026-01-20"), day("2026-05-20")].map((date, at) => ({
    ...{ sheet: "Job log", row: 3, date, device: "A-1", deviceKey: "a-1", part: "SET" },
    job: "replaced",
    ...{ finding: at === 1 ? "crack" : "", complete: true, lot: "", by: "", note: "" },
  }));
  const kept = (serviceLevel: number, leadDays: number, worn = true): Kept => {
    const parts = partsWith({ leadDays });
    const settings = { serviceLevel };
    const { snapshot, reading } = small(devices, { parts, settings });
    const year = yearOf({
      snapshot,
      reading: { ...reading, ours: { ...reading.ours, jobs: worn ? jobs : [] } },
    });
    const { places, now } = ordersOf(year, false);
    const sets = now.filter(({ place }) => place.part.code === "SET");
    const { safetyStock = 0, due = [], protectionInterval = 0 } = places[0] ?? {};
    const point = safetyStock + due.filter((date) => date <= JULY + protectionInterval).length;
    return { safetyStock, point, now: sets.reduce((sum, { units }) => sum + units, 0) };
  };

  it("a higher service level or a longer lead time never keeps less nor orders later", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 120 }),
        fc.integer({ min: 0, max: 60 }),
        fc.double({ min: 0.5, max: 0.99, noNaN: true }),
        (lead, more, service) => {
          const [least, longer] = [kept(service, lead), kept(service, lead + more)];
          const surer = kept(service + (0.999 - service) / 2, lead);
          for (const other of [longer, surer]) {
            expect(other.safetyStock).toBeGreaterThanOrEqual(least.safetyStock);
            expect(other.point).toBeGreaterThanOrEqual(least.point);
          }
          expect(surer.now).toBeGreaterThanOrEqual(least.now);
          // Spares are whole, early calls after the lead time are not: a unit may be rounded away.
          expect(longer.now).toBeGreaterThanOrEqual(least.now - 1);
          expect(kept(service, lead + more, false).now).toBeGreaterThanOrEqual(
            kept(service, lead, false).now,
          );
        },
      ),
      { numRuns: cases("Orders at a higher service level or a longer lead time", 100, 20) },
    );
  });
});
