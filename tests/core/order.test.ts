import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { ECONOMICORDER, ORDERBY, ORDERSIZE } from "../../functions/order.ts";
import { countChance, expectedAbove } from "../../src/core/count-distribution.ts";
import { addMonths, type Day, day } from "../../src/core/day.ts";
import { InputError } from "../../src/core/errors.ts";
import * as order from "../../src/core/order.ts";
import { isWorkday, workCalendar } from "../../src/core/workday.ts";
import type { Published } from "./published.ts";

const taha = "Taha, Operations Research, 10th ed.";
const lamps: order.OrderCosts = { perYear: 100, orderCost: 100, holdingPerUnit: 0.02 };
const oil: order.OrderCosts = { perYear: 187.5, orderCost: 20, holdingPerUnit: 0.02 };
const oilPrices: readonly order.PriceBreak[] = [
  { from: 1000, price: 2.5 },
  { from: 0, price: 3 },
];
const oilBest = order.economicOrder(oil, null);

/** The larger order at a lower price that costs as much as a given cost: the root of a quadratic. */
function evenOrder(costs: order.OrderCosts, price: number, cost: number): number {
  const { perYear, orderCost, holdingPerUnit } = costs;
  const b = (2 * (cost - perYear * price)) / holdingPerUnit;
  return (b + Math.sqrt(b * b - (8 * orderCost * perYear) / holdingPerUnit)) / 2;
}

/** Value printed, and half its last digit as tolerance. Years are whatever the source counts by. */
const printed: readonly (Published<number> & { readonly within: number })[] = [
  {
    source: `${taha}, Example 13.3-1, order of 1,000 lamps (text read)`,
    given: order.economicOrder(lamps, null),
    value: 1000,
    within: 1e-9,
  },
  {
    source: `${taha}, Example 13.3-1, cost of 20 a day (text read)`,
    given: order.yearCost(1000, lamps, 0),
    value: 20,
    within: 1e-9,
  },
  {
    source: `${taha}, Example 13.3-1, order at 200 lamps, lead time less a cycle (text read)`,
    given: (12 - order.economicOrder(lamps, null) / 100) * 100,
    value: 200,
    within: 1e-9,
  },
  {
    source: `${taha}, Example 13.3-2, order without the discount (text read)`,
    given: oilBest,
    value: 612.37,
    within: 0.006,
  },
  {
    source: `${taha}, Example 13.3-2, cost a day without the discount (text read)`,
    given: order.yearCost(oilBest, oil, 3),
    value: 574.75,
    within: 0.006,
  },
  {
    source: `${taha}, Example 13.3-2, largest order worth its discount (text read)`,
    given: evenOrder(oil, 2.5, order.yearCost(oilBest, oil, 3)),
    value: 10564.25,
    within: 0.1,
  },
  {
    source: `${taha}, Example 13.3-2, order of 1,000 gallons (text read)`,
    given: order.priceBreakOrder(oil, oilPrices).size,
    value: 1000,
    within: 0,
  },
  {
    source: `${taha}, Example 13.3-2, order at 375 gallons (text read)`,
    given: 2 * oil.perYear,
    value: 375,
    within: 0,
  },
  {
    source: "Hillier & Lieberman, Introduction to Operations Research, speakers (from memory)",
    given: order.economicOrder({ perYear: 8000, orderCost: 12_000, holdingPerUnit: 0.3 }, null),
    value: 25_298,
    within: 0.5,
  },
];

describe("published", () => {
  for (const { source, given, value, within } of printed) {
    it(source, () => {
      expect(Math.abs(given - value)).toBeLessThanOrEqual(within);
    });
  }
  it(`${taha}, Example 13.3-3, three items in a store of 25, worked here from economicOrder (text read)`, () => {
    const items = [
      { perYear: 2, orderCost: 10, holdingPerUnit: 0.3 },
      { perYear: 4, orderCost: 5, holdingPerUnit: 0.1 },
      { perYear: 4, orderCost: 15, holdingPerUnit: 0.2 },
    ];
    // Room has a price that is raised until the orders, each at its peak, fit.
    const sizes = (price: number): number[] =>
      items.map(({ holdingPerUnit, ...rest }) =>
        order.economicOrder({ ...rest, holdingPerUnit: holdingPerUnit + 2 * price }, null),
      );
    const sum = (values: readonly number[]): number => values.reduce((a, b) => a + b, 0);
    let [low, high] = [0, 10];
    for (let step = 0; step < 100; step += 1) {
      const middle = (low + high) / 2;
      if (sum(sizes(middle)) > 25) low = middle;
      else high = middle;
    }
    const fitted = sizes(high);
    const costs = items.map((item, index) => order.yearCost(fitted[index] ?? NaN, item, 0));
    const found = [...sizes(0), ...fitted, sum(costs)];
    [11.55, 20, 24.49, 6.34, 7.09, 11.57, 13.62].forEach((value, index) => {
      expect(Math.abs((found[index] ?? NaN) - value)).toBeLessThanOrEqual(0.006);
    });
  });
  it(`${taha}, Example 16.1-2, order and reorder point with a shortage cost, worked here, no function of core (text read)`, () => {
    const [perYear, orderCost, holding, shortage, largest] = [1000, 100, 2, 10, 100];
    let [size, point] = [0, 0];
    for (let step = 0; step < 100; step += 1) {
      const short = (largest - point) ** 2 / (2 * largest);
      size = Math.sqrt((2 * perYear * (orderCost + shortage * (step ? short : 0))) / holding);
      point = largest * (1 - (holding * size) / (shortage * perYear));
    }
    expect(Math.abs(point - 93.611)).toBeLessThanOrEqual(0.0006);
    expect(Math.abs(size - 319.44)).toBeLessThanOrEqual(0.006);
  });
  for (const [mean, s, upTo, cost] of [
    [10, 6, 40, 35.022],
    [15, 10, 49, 42.698],
    [20, 14, 62, 49.173],
    [21, 15, 65, 50.406],
    [25, 19, 56, 54.262],
  ] as const) {
    it(`Zheng & Federgruen, Operations Research 39 (1991), table 1, mean ${mean}, worked here by enumeration, no function of core (from memory)`, () => {
      const demand = { mean };
      const none = 1 - countChance(0, demand);
      // Expected visits to each level below the target until the next order.
      const visits = [1 / none];
      for (let j = 1; j < 90; j += 1) {
        let sum = 0;
        for (let k = 1; k <= j; k += 1) sum += countChance(k, demand) * (visits[j - k] ?? 0);
        visits.push(sum / none);
      }
      const periodCost = (level: number): number =>
        level - mean + 10 * expectedAbove(level, demand);
      let best = { s: NaN, upTo: NaN, cost: Infinity };
      for (let target = 1; target <= 90; target += 1) {
        let [paid, periods] = [64, 0];
        for (let j = 0; j < target; j += 1) {
          paid += (visits[j] ?? 0) * periodCost(target - j);
          periods += visits[j] ?? 0;
          const found = paid / periods;
          if (found < best.cost - 1e-12) best = { s: target - j - 1, upTo: target, cost: found };
        }
      }
      expect([best.s, best.upTo]).toEqual([s, upTo]);
      expect(Math.abs(best.cost - cost)).toBeLessThanOrEqual(0.0006);
    });
  }
  it(`${taha}, Example 16.2-1(b), bought once, worked here, no function of core (text read)`, () => {
    const share = 45 / (45 + 25);
    let reached = 0;
    const found = [0.1, 0.2, 0.4, 0.2, 0.1].findIndex((chance) => (reached += chance) >= share);
    expect([200, 220, 300, 320, 340][found]).toBe(300);
  });
  it("Own arithmetic, no publication: economic orders in packs", () => {
    const costs = (perYear: number, holdingPerUnit: number): order.OrderCosts => ({
      ...{ perYear, orderCost: 25, holdingPerUnit },
    });
    expect(order.economicOrder(costs(120, 2.4), 10)).toBe(50);
    expect(order.economicOrder(costs(120, 2.4), 12)).toBe(48);
    expect(order.economicOrder(costs(18, 3), 10)).toBe(20);
    expect(order.economicOrder(costs(0, 3), 10)).toBe(0);
  });
});

const costs = fc.record({
  perYear: fc.integer({ min: 1, max: 5_000 }),
  orderCost: fc.integer({ min: 1, max: 500 }),
  holdingPerUnit: fc.integer({ min: 1, max: 100 }),
});
const pack = fc.integer({ min: 1, max: 50 });
const units = fc.integer({ min: 0, max: 10_000 });

describe("second implementation: every choice tried", () => {
  it("finds the pack multiple that costs least", () => {
    const check = fc.property(costs, pack, (one, pack) => {
      const found = order.economicOrder(one, pack);
      expect(found % pack).toBe(0);
      const cost = order.yearCost(found, one, 0);
      for (const other of [found - pack, found + pack, pack, found * 2]) {
        if (other > 0) expect(cost).toBeLessThanOrEqual(order.yearCost(other, one, 0) * (1 + 1e-9));
      }
    });
    fc.assert(check);
  });
  it("finds the order of least cost among price breaks, whole sizes counted through", () => {
    const breaks = fc.uniqueArray(
      fc.record({ from: fc.integer({ min: 1, max: 400 }), price: fc.integer({ min: 1, max: 30 }) }),
      { maxLength: 4, selector: ({ from }) => from },
    );
    const falls = { from: 0, price: 40 };
    const small = fc.record({
      perYear: fc.integer({ min: 1, max: 300 }),
      orderCost: fc.integer({ min: 1, max: 50 }),
      holdingPerUnit: fc.integer({ min: 1, max: 20 }),
    });
    const check = fc.property(small, breaks, (one, breaks) => {
      const prices = [...new Set(breaks.map(({ price }) => price))].sort((a, b) => b - a);
      const sizes = breaks.map(({ from }) => from).sort((a, b) => a - b);
      const all = [falls, ...prices.map((price, index) => ({ from: sizes[index] ?? NaN, price }))];
      let least = Infinity;
      for (let size = 1; size <= 600; size += 1) {
        const price = all.filter(({ from }) => from <= size).at(-1)?.price ?? NaN;
        least = Math.min(least, order.yearCost(size, one, price));
      }
      const found = order.priceBreakOrder(one, [...all].reverse());
      expect(found.cost).toBeLessThanOrEqual(least * (1 + 1e-12));
      const priced = all.filter(({ from }) => from <= found.size).at(-1)?.price;
      expect(found.price).toBe(priced);
    });
    fc.assert(check);
  });
  it("orders in packs counted up one by one", () => {
    const check = fc.property(units, pack, units, units, (need, pack, onHand, minimum) => {
      let wanted = 0;
      while (need > onHand && (wanted < need - onHand || wanted < minimum)) wanted += pack;
      expect(order.orderSize({ need, pack, onHand, minimum })).toBe(wanted);
    });
    fc.assert(check);
  });
  it("goes back day by day to one that is worked", () => {
    const holidays = [day("2026-05-14"), day("2026-05-15"), day("2026-12-25"), day("2026-01-01")];
    const calendar = workCalendar(1, holidays);
    const date = fc.integer({ min: day("2025-12-01"), max: day("2027-02-01") });
    const check = fc.property(date, fc.integer({ min: 0, max: 90 }), (need, leadDays) => {
      let wanted = (need - leadDays) as Day;
      while (!isWorkday(wanted, calendar)) wanted = (wanted - 1) as Day;
      expect(order.orderBy(need as Day, leadDays, calendar)).toBe(wanted);
    });
    fc.assert(check);
  });
});

describe("properties", () => {
  it("never leaves a need uncovered, and never orders a whole pack too much", () => {
    const check = fc.property(units, pack, units, units, (need, pack, onHand, onOrder) => {
      const found = order.orderSize({ need, pack, onHand, onOrder });
      expect(onHand + onOrder + found).toBeGreaterThanOrEqual(need);
      if (found > 0) expect(onHand + onOrder + found - pack).toBeLessThan(need);
    });
    fc.assert(check);
  });
  it("does not open a pack for the rounding of a sum", () => {
    expect(order.orderSize({ need: 0.1 + 0.2, pack: 0.1 })).toBeCloseTo(0.3, 12);
    expect(order.orderSize({ need: 0.1 + 0.2, pack: 1, onHand: 0.3 })).toBe(0);
  });
  it("fills up to the target or past it, and not above the reorder point", () => {
    const check = fc.property(units, units, units, pack, (position, reorderPoint, more, pack) => {
      const upTo = reorderPoint + more;
      const found = order.orderUpTo(position, { reorderPoint, upTo, pack });
      if (position > reorderPoint) expect(found).toBe(0);
      else expect(position + found).toBeGreaterThanOrEqual(upTo);
      expect(position + found).toBeLessThan(Math.max(upTo, position) + pack);
    });
    fc.assert(check);
    expect(order.orderUpTo(-3, { reorderPoint: 0, upTo: 4 })).toBe(7);
  });
  it("asks for one pack where an order costs nothing", () => {
    expect(order.economicOrder({ perYear: 5, orderCost: 0, holdingPerUnit: 1 }, 4)).toBe(4);
  });
  it("orders no later for a longer lead time", () => {
    const calendar = workCalendar(null, []);
    const check = fc.property(fc.integer({ min: 0, max: 400 }), (leadDays) => {
      const need = addMonths(day("2026-05-17"), 3);
      const here = order.orderBy(need, leadDays, calendar);
      expect(order.orderBy(need, leadDays + 1, calendar)).toBeLessThanOrEqual(here);
      expect(here).toBeLessThanOrEqual(need - leadDays);
    });
    fc.assert(check);
  });
});

describe("in a cell", () => {
  it("takes a zero lead time for a blank: the day needed is no day to order", () => {
    expect(ORDERBY.call([day("2026-05-29"), 0])).toBe("");
  });
  it("says why a date cannot be gone back from", () => {
    expect(ORDERBY.call([70, 30])).toEqual({
      error: "#VALUE!",
      message: "needDate less leadDays must be a date (a whole number from 61), got 40",
    });
  });
  it("answers at the edges of what it takes", () => {
    expect(ORDERSIZE.call([1e9, 1e6, 0, 0, 1e9])).toBe(1e9);
    expect(ORDERSIZE.call([0, 10, null, null, 50])).toBe(0);
    expect(ECONOMICORDER.call([1e9, 1e9, 0.000001, 1])).toBeCloseTo(Math.sqrt(2e24), -1);
    expect(ECONOMICORDER.call([10, 0, 1])).toEqual({
      error: "#VALUE!",
      message: "orderCost must be above 0 where no pack is given, got 0",
    });
  });
});

describe("the days an order takes at most", () => {
  it("NIST/SEMATECH e-Handbook, 1.3.6.7.4, chi-squared .95 with 18 degrees of freedom 28.869, from memory: 30 days spread by 10 are 48.1", () => {
    // A gamma time of shape 9 and scale 30 / 9 is 30 / 18 of chi-squared with 18 degrees.
    expect(order.leadCover(30, 10, 0.95)).toBe(Math.ceil((28.869 * 30) / 18));
    expect((28.869 * 30) / 18).toBeCloseTo(48.1, 1);
  });
  it("are never fewer than on average, and no fewer with more spread or a higher level", () => {
    const check = fc.property(
      fc.integer({ min: 0, max: 120 }),
      fc.double({ min: 0, max: 60, noNaN: true }),
      fc.double({ min: 0.5, max: 0.999, noNaN: true }),
      (lead, spread, level) => {
        const days = order.leadCover(lead, spread, level);
        expect(Number.isInteger(days)).toBe(true);
        expect(days).toBeGreaterThanOrEqual(lead);
        expect(order.leadCover(lead, spread, (1 + level) / 2)).toBeGreaterThanOrEqual(days);
      },
    );
    fc.assert(check);
  });
});

describe("bad input", () => {
  const good = { perYear: 1, orderCost: 1, holdingPerUnit: 1 };
  const calendar = workCalendar(null, []);
  const fill = { reorderPoint: 1, upTo: 2 };
  const faults: readonly [string, () => unknown][] = [
    ["need must be zero or more, got -1", () => order.orderSize({ need: -1, pack: 1 })],
    [
      "onHand must be zero or more, got -1",
      () => order.orderSize({ need: 1, pack: 1, onHand: -1 }),
    ],
    [
      "onOrder must be zero or more, got NaN",
      () => order.orderSize({ need: 1, pack: 1, onOrder: NaN }),
    ],
    [
      "minimum must be zero or more, got -1",
      () => order.orderSize({ need: 1, pack: 1, minimum: -1 }),
    ],
    ["pack must be above 0, got 0", () => order.orderSize({ need: 1, pack: 0 })],
    ["units must be a number, got NaN", () => order.wholePacks(NaN, 1)],
    [
      "perYear must be zero or more, got -1",
      () => order.economicOrder({ ...good, perYear: -1 }, 1),
    ],
    [
      "orderCost must be zero or more, got -1",
      () => order.economicOrder({ ...good, orderCost: -1 }, 1),
    ],
    [
      "holdingPerUnit must be above 0, got 0",
      () => order.economicOrder({ ...good, holdingPerUnit: 0 }, 1),
    ],
    ["pack must be above 0, got -2", () => order.economicOrder(good, -2)],
    ["size must be above 0, got 0", () => order.yearCost(0, good, 1)],
    ["price must be zero or more, got -1", () => order.yearCost(1, good, -1)],
    [
      "perYear must be above 0, got 0",
      () => order.priceBreakOrder({ ...good, perYear: 0 }, oilPrices),
    ],
    [
      "breaks must be a list with a price from 0 on, got a range",
      () => order.priceBreakOrder(good, [{ from: 5, price: 1 }]),
    ],
    [
      "breaks must be prices that fall as orders grow, got 4",
      () => order.priceBreakOrder(good, [...oilPrices, { from: 2000, price: 4 }]),
    ],
    [
      "breaks must be prices that fall as orders grow, got 3",
      () => order.priceBreakOrder(good, [...oilPrices, { from: 0, price: 3 }]),
    ],
    ["position must be a number, got NaN", () => order.orderUpTo(NaN, fill)],
    [
      "upTo must be a number not below reorderPoint, got 0",
      () => order.orderUpTo(1, { ...fill, upTo: 0 }),
    ],
    [
      "leadDays must be a whole number, zero or more, got 1.5",
      () => order.orderBy(day("2026-05-17"), 1.5, calendar),
    ],
  ];
  for (const [message, call] of faults) {
    it(`says: ${message}`, () => {
      expect(call).toThrow(InputError);
      expect(call).toThrow(message);
    });
  }
});
