import { readFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { REORDERPOINT, STOCKODDS } from "../../functions/stock.ts";
import { countQuantile } from "../../src/core/count-distribution.ts";
import { InputError } from "../../src/core/errors.ts";
import * as stock from "../../src/core/stock.ts";
import type { Published } from "./published.ts";

interface Point {
  readonly perMonth: number;
  readonly leadMonths: number;
  readonly variancePerMonth: number;
  readonly leadSd: number;
  readonly service: number;
  readonly quantile: number;
  readonly onHand: number;
  readonly odds: number;
  readonly short: number;
}

const reference = JSON.parse(
  readFileSync(new URL("../reference/stock.json", import.meta.url), "utf8"),
) as { readonly made: string; readonly points: readonly Point[] };

const arena = { perMonth: 3.6, leadMonths: 0.5 };
const poisson = stock.longRun({ reorderPoint: 1, orderSize: 2 }, arena);
const summary = stock.longRun({ reorderPoint: 2, orderSize: 2 }, arena);

/** Value printed, and half its last digit (or the source's own looseness) as tolerance. */
const printed: readonly (Published<number> & { readonly within: number })[] = [
  {
    source:
      "Rossetti, Simulation Modeling and Arena, r = 1, Q = 2, stockout close to 40 % (text read)",
    given: 1 - poisson.fill,
    value: 0.4,
    within: 0.0051,
  },
  {
    source: "Rossetti, Simulation Modeling and Arena, r = 1, Q = 2, cost about 1.03 (text read)",
    given: 0.25 * poisson.onHand + 1.75 * poisson.backorders + 0.15 * poisson.ordersPerMonth,
    value: 1.03,
    within: 0.0051,
  },
  // The book's program says r = 1; its printed table is that of r = 2.
  {
    source: "Rossetti, KSL book, Example 7.9, summary table, on hand (text read)",
    given: summary.onHand,
    value: 1.804,
    within: 0.002,
  },
  {
    source: "Rossetti, KSL book, Example 7.9, summary table, backorders (text read)",
    given: summary.backorders,
    value: 0.104,
    within: 0.001,
  },
  {
    source: "Rossetti, KSL book, Example 7.9, summary table, fill rate (text read)",
    given: summary.fill,
    value: 0.811,
    within: 0.001,
  },
  {
    source: "Rossetti, KSL book, Example 7.9, summary table, order frequency (text read)",
    given: summary.ordersPerMonth,
    value: 1.801,
    within: 0.002,
  },
  {
    source: "Blanchard, Logistics Engineering and Management, spares nomograph (from memory)",
    given: stock.reorderPoint(stock.leadDemand({ perMonth: 2, leadMonths: 2.16 }), {}),
    value: 8,
    within: 0,
  },
  {
    source: "Greenwood & Yule 1920, gamma lead time of mean 2, sd 1 (computed, not published)",
    given: stock.stockOdds(8, stock.leadDemand({ perMonth: 2, leadMonths: 2, leadSd: 1 })),
    value: 0.927001953125,
    within: 1e-10,
  },
];

describe("published", () => {
  for (const { source, given, value, within } of printed) {
    it(source, () => {
      expect(Math.abs(given - value)).toBeLessThanOrEqual(within);
    });
  }
});

describe(`second implementation: ${reference.made}`, () => {
  it("agrees on every reorder point, odds and shortage", () => {
    expect(reference.points.length).toBe(150);
    for (const row of reference.points) {
      const cover = { serviceLevel: row.service, minimumStock: 0 };
      const demand = stock.leadDemand(row);
      expect(stock.reorderPoint(demand, cover)).toBe(row.quantile);
      expect(stock.stockOdds(row.onHand, demand)).toBeCloseTo(row.odds, 9);
      expect(stock.expectedShort(row.onHand, demand)).toBeCloseTo(row.short, 8);
    }
  });
});

describe("second implementation: plain sums", () => {
  // Single chances of a Poisson count, each from the one before.
  const chances = (mean: number): number[] => {
    const all = [Math.exp(-mean)];
    for (let k = 1; k < 400; k += 1) all.push(((all[k - 1] ?? 0) * mean) / k);
    return all;
  };
  it("agrees on the long run, averaging over every position and every demand", () => {
    const rule = fc.record({
      reorderPoint: fc.integer({ min: 0, max: 12 }),
      orderSize: fc.integer({ min: 1, max: 15 }),
    });
    const rate = fc.double({ min: 0.01, max: 30, noNaN: true });
    const check = fc.property(rule, rate, (rule, perMonth) => {
      const found = stock.longRun(rule, { perMonth, leadMonths: 0.7 });
      let [fill, backorders, onHand] = [0, 0, 0];
      chances(perMonth * 0.7).forEach((chance, demand) => {
        for (let step = 1; step <= rule.orderSize; step += 1) {
          const left = rule.reorderPoint + step - demand;
          const share = chance / rule.orderSize;
          if (left > 0) fill += share;
          if (left > 0) onHand += share * left;
          if (left < 0) backorders -= share * left;
        }
      });
      expect(found.fill).toBeCloseTo(fill, 10);
      expect(found.backorders).toBeCloseTo(backorders, 10);
      expect(found.onHand).toBeCloseTo(onHand, 10);
    });
    fc.assert(check);
  });
  it("agrees on a gamma lead time, integrating the Poisson count over it", () => {
    for (const [mean, sd, perMonth] of [
      [2, 1, 2],
      [3, 0.6, 0.5],
      [1, 1, 4],
    ] as const) {
      const shape = (mean / sd) ** 2;
      const scale = sd ** 2 / mean;
      const steps = 40_000;
      const width = (mean + 16 * sd) / steps;
      const odds = [0, 0, 0, 0, 0, 0];
      let whole = 0;
      for (let step = 0; step < steps; step += 1) {
        const months = (step + 0.5) * width;
        const density = months ** (shape - 1) * Math.exp(-months / scale) * width;
        whole += density;
        const counts = chances(perMonth * months);
        let below = 0;
        for (const [k, sum] of odds.entries()) {
          below += counts[k] ?? 0;
          odds[k] = sum + density * below;
        }
      }
      const demand = stock.leadDemand({ perMonth, leadMonths: mean, leadSd: sd });
      odds.forEach((sum, k) => {
        expect(stock.stockOdds(k, demand)).toBeCloseTo(sum / whole, 6);
      });
    }
  });
});

const demand = fc.record({
  perMonth: fc.double({ min: 0, max: 200, noNaN: true }),
  leadMonths: fc.double({ min: 0.01, max: 24, noNaN: true }),
  variancePerMonth: fc.option(fc.double({ min: 0, max: 2_000, noNaN: true })),
});
const leadShare = fc.option(fc.double({ min: 0.01, max: 2, noNaN: true }));
const service = fc.double({ min: 0, max: 0.999999, noNaN: true });
const more = fc.double({ min: 1, max: 5, noNaN: true });

describe("properties", () => {
  it("never falls with service, lead time, demand, floor or planned units", () => {
    const check = fc.property(demand, leadShare, service, more, (row, share, service, more) => {
      const at = (factor: { lead?: number; rate?: number; level?: number }): number => {
        const leadMonths = row.leadMonths * (factor.lead ?? 1);
        const given = {
          perMonth: row.perMonth * (factor.rate ?? 1),
          leadMonths,
          variancePerMonth: (row.variancePerMonth ?? 0) * (factor.rate ?? 1),
          leadSd: (share ?? 0) * leadMonths,
        };
        return stock.reorderPoint(stock.leadDemand(given), {
          serviceLevel: factor.level ?? service,
        });
      };
      const here = at({});
      expect(at({ level: service + (0.999999 - service) / 2 })).toBeGreaterThanOrEqual(here);
      expect(at({ lead: more })).toBeGreaterThanOrEqual(here);
      expect(at({ rate: more })).toBeGreaterThanOrEqual(here);
    });
    fc.assert(check);
  });
  it("is minimum stock or the quantile, whichever is more, above the scheduled units rounded up", () => {
    const level = { serviceLevel: 0.95 };
    const count = { mean: 0.4 };
    expect(stock.reorderPoint(count, { ...level, minimumStock: 0 })).toBe(2);
    expect(stock.reorderPoint(count, { ...level, minimumStock: 3 })).toBe(3);
    expect(stock.reorderPoint(count, { ...level, scheduledUnits: 4.2 })).toBe(7);
    expect(stock.reorderPoint(count, { ...level, scheduledUnits: 0.1 * 3 * 10 })).toBe(5);
    expect(stock.reorderPoint(count, {})).toBe(2);
  });
  it("never falls when a variance or a spread of the lead time is given", () => {
    const check = fc.property(demand, leadShare, service, (row, share, serviceLevel) => {
      const { perMonth, leadMonths } = row;
      const plain = stock.reorderPoint(stock.leadDemand({ perMonth, leadMonths }), {
        serviceLevel,
      });
      const spread = { ...row, leadSd: (share ?? 0) * leadMonths };
      const found = stock.reorderPoint(stock.leadDemand(spread), { serviceLevel });
      expect(found).toBeGreaterThanOrEqual(plain);
    });
    fc.assert(check);
    // Alone, this variance would call one unit in fifty lead times, many at once, and stock none.
    const rare = { mean: 0.4, variance: 40 };
    expect(countQuantile(0.95, rare)).toBe(0);
    expect(stock.reorderPoint(rare, { minimumStock: 0 })).toBe(2);
  });
  it("reaches the service level asked for, and not with one unit less unless Poisson asks for it", () => {
    const check = fc.property(demand, service, (row, serviceLevel) => {
      const count = stock.leadDemand({ ...row, variancePerMonth: null });
      const point = stock.reorderPoint(count, { serviceLevel, minimumStock: 0 });
      expect(stock.stockOdds(point, count)).toBeGreaterThanOrEqual(serviceLevel * (1 - 1e-9));
      if (point > 0) expect(stock.stockOdds(point - 1, count)).toBeLessThan(serviceLevel + 1e-12);
    });
    fc.assert(check);
  });
  it("keeps the floor where nothing is called for or nothing is waited for", () => {
    expect(stock.reorderPoint(stock.leadDemand({ perMonth: 0, leadMonths: 3 }), {})).toBe(1);
    expect(stock.reorderPoint(stock.leadDemand({ perMonth: 3, leadMonths: 0 }), {})).toBe(1);
    expect(stock.expectedShort(0, { mean: 0 })).toBe(0);
    expect(stock.stockOdds(0, { mean: 0 })).toBe(1);
  });
  it("adds the variances of demand and lead time", () => {
    const both = { perMonth: 3, leadMonths: 2, variancePerMonth: 5, leadSd: 0.5 };
    expect(stock.leadDemand(both)).toEqual({ mean: 6, variance: 12.25 });
    expect(stock.leadDemand({ ...both, variancePerMonth: 1 }).variance).toBe(8.25);
    expect(stock.leadDemand({ ...both, variancePerMonth: null, leadSd: null }).variance).toBe(6);
  });
  it("keeps a run's shares between 0 and 1 and stock less debt where it belongs", () => {
    const check = fc.property(demand, fc.integer({ min: 1, max: 40 }), (row, orderSize) => {
      const run = stock.longRun({ reorderPoint: 5, orderSize }, row);
      expect(run.fill).toBeGreaterThanOrEqual(-1e-9);
      expect(run.fill).toBeLessThanOrEqual(1);
      const mean = row.perMonth * row.leadMonths;
      expect(run.onHand - run.backorders).toBeCloseTo(5 + (orderSize + 1) / 2 - mean, 6);
    });
    fc.assert(check, { numRuns: 50 });
  });
});

describe("in a cell", () => {
  it("takes a zero lead time for a blank, a zero rate for none seen", () => {
    expect(REORDERPOINT.call([0.4, 0])).toBe("");
    expect(REORDERPOINT.call([0, 2])).toBe(1);
    expect(STOCKODDS.call(["", 0.4, 2])).toBe("");
  });
  it("refuses a service of 1 and more, as no stock is certain", () => {
    for (const level of [1, 95]) {
      expect(REORDERPOINT.call([0.4, 2, level])).toEqual({
        error: "#VALUE!",
        message: `service must be a number from 0 to 0.999999, got ${level}`,
      });
    }
  });
  it("answers at the edge of what it takes", () => {
    const answer = REORDERPOINT.call([100_000, 120, 0.999999, 1e6, 1e9, 120, 1e6]);
    expect(answer).toBeGreaterThan(1e7);
    expect(Number.isSafeInteger(answer)).toBe(true);
  });
});

describe("bad input", () => {
  const month = { perMonth: 1, leadMonths: 1 };
  const rule = { reorderPoint: 1, orderSize: 1 };
  const lead = (change: Partial<stock.Demand>): unknown =>
    stock.leadDemand({ ...month, ...change });
  const point = (cover: stock.Cover): unknown => stock.reorderPoint({ mean: 1 }, cover);
  const whole = "a whole number, zero or more, got";
  const faults: readonly [string, () => unknown][] = [
    ["perMonth must be zero or more, got -1", () => lead({ perMonth: -1 })],
    ["leadMonths must be zero or more, got NaN", () => lead({ leadMonths: NaN })],
    ["variancePerMonth must be zero or more, got -2", () => lead({ variancePerMonth: -2 })],
    ["leadSd must be zero or more, got -2", () => lead({ leadSd: -2 })],
    ["leadMonths must be above 0 where leadSd is, got 0", () => lead({ leadMonths: 0, leadSd: 1 })],
    ["serviceLevel must be 0 up to but not 1, got 1", () => point({ serviceLevel: 1 })],
    [`minimumStock must be ${whole} 0.5`, () => point({ minimumStock: 0.5 })],
    ["scheduledUnits must be zero or more, got -1", () => point({ scheduledUnits: -1 })],
    ["mean must be zero or more, got -1", () => stock.reorderPoint({ mean: -1 }, {})],
    [`onHand must be ${whole} -1`, () => stock.stockOdds(-1, { mean: 1 })],
    [`onHand must be ${whole} 0.5`, () => stock.expectedShort(0.5, { mean: 1 })],
    [`reorderPoint must be ${whole} -1`, () => stock.longRun({ ...rule, reorderPoint: -1 }, month)],
    [
      "orderSize must be a whole number from 1 to 100000, got 0",
      () => stock.longRun({ ...rule, orderSize: 0 }, month),
    ],
  ];
  for (const [message, call] of faults) {
    it(`says: ${message}`, () => {
      expect(call).toThrow(InputError);
      expect(call).toThrow(message);
    });
  }
});
