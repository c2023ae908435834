import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { PLACESPARES } from "../../functions/place.ts";
import { countAbove, countQuantile, expectedAbove } from "../../src/core/count-distribution.ts";
import { InputError, NoAnswerError } from "../../src/core/errors.ts";
import * as place from "../../src/core/place.ts";
import { leadDemand } from "../../src/core/stock.ts";

const short = (sites: readonly place.Site[], spares: readonly number[]): number =>
  sites.reduce((sum, site, index) => sum + expectedAbove(spares[index] ?? 0, leadDemand(site)), 0);

const price = (sites: readonly place.Site[], spares: readonly number[]): number =>
  sites.reduce((sum, { unitCost }, index) => sum + unitCost * (spares[index] ?? 0), 0);

/** The least expected shortage for a whole budget, and how: every site and every unit of money. */
function leastShort(
  sites: readonly place.Site[],
  budget: number,
): { readonly spares: readonly number[]; readonly short: number } {
  let best = Array.from({ length: budget + 1 }, () => ({ spares: [] as number[], short: 0 }));
  for (const site of sites) {
    const demand = leadDemand(site);
    best = best.map((_, money) => {
      const choices = [];
      for (let units = 0; units * site.unitCost <= money; units += 1) {
        const rest = best[money - units * site.unitCost] ?? { spares: [], short: Infinity };
        const here = rest.short + expectedAbove(units, demand);
        choices.push({ spares: [...rest.spares, units], short: here });
      }
      return choices.reduce((one, other) => (other.short < one.short ? other : one));
    });
  }
  return best[budget] ?? { spares: [], short: NaN };
}

/** Calls a day, days to replace and cost of nine items. */
const assignment: readonly place.Site[] = [
  [0.05, 4, 14],
  [0.04, 7, 19],
  [0.045, 14, 25],
  [0.051, 5, 15],
  [0.025, 10, 10],
  [0.048, 18, 45],
  [0.06, 24, 80],
  [0.035, 8, 33],
  [0.015, 12, 30],
].map(([perMonth = NaN, leadMonths = NaN, unitCost = NaN]) => ({
  ...{ perMonth, leadMonths, unitCost },
}));

const course =
  "Inputs of KTH course SF2863, home assignment 2, as used in public student repositories (computed, not published)";

/** Item bought, money spent so far, expected shortage then. */
const sequence: readonly (readonly [number, number, number])[] = [
  [5, 10, 4.157800783071405],
  [3, 35, 3.690392584078302],
  [4, 50, 3.4653090820393833],
  [1, 64, 3.284039835117365],
  [6, 109, 2.7055126498932824],
  [2, 128, 2.461296391349008],
  [7, 208, 1.6982241500311297],
  [8, 241, 1.454007891486855],
  [9, 271, 1.289278102898127],
  [3, 296, 1.1574027385393695],
  [7, 376, 0.7355064697237468],
  [6, 421, 0.5211317964660571],
  [5, 431, 0.49463277530531313],
];

describe("published", () => {
  it(`${course}: nothing bought`, () => {
    expect(short(assignment, [])).toBeCloseTo(4.379, 9);
  });
  it(`${course}: thirteen purchases one after the other`, () => {
    const bought = assignment.map(() => 0);
    for (const [item, spent, left] of sequence) {
      bought[item - 1] = (bought[item - 1] ?? 0) + 1;
      const found = place.placeSpares(assignment, spent, 0);
      expect(found).toEqual(bought);
      expect(price(assignment, found)).toBe(spent);
      expect(short(assignment, found)).toBeCloseTo(left, 9);
    }
  });
  it(`${course}: the best for 500, found by trying all, and the greedy way close above it`, () => {
    const best = leastShort(assignment, 500);
    expect(best.spares).toEqual([1, 2, 2, 2, 2, 2, 2, 2, 1]);
    expect(best.short).toBeCloseTo(0.4019593583731269, 9);
    const greedy = place.placeSpares(assignment, 500, 0);
    expect(price(assignment, greedy)).toBeLessThanOrEqual(500);
    const left = short(assignment, greedy);
    expect(left).toBeGreaterThanOrEqual(best.short);
    // It goes on with what can still be paid after the thirteenth purchase.
    expect(left).toBeLessThan(0.49463277530531313);
  });
  it("Sherbrooke 1968, METRIC equations: centre of 2, three sites (computed, not published)", () => {
    const { delay, short } = place.twoLevelShort({ stock: 2, leadMonths: 1.5 }, [
      { stock: 1, perMonth: 0.5, leadMonths: 0.25 },
      { stock: 1, perMonth: 0.3, leadMonths: 0.5 },
      { stock: 2, perMonth: 0.8, leadMonths: 0.25 },
    ]);
    expect(delay).toBeCloseTo(0.4994743715458847, 10);
    [0.062207117702552626, 0.040777359897274976, 0.026859023086348].forEach((value, index) => {
      expect(short[index]).toBeCloseTo(value, 10);
    });
  });
  it("Definition, R qpois: eight sites of mean 0.4 at 95 %, apart and together (computed, not published)", () => {
    const demands = Array.from({ length: 8 }, () => ({ mean: 0.4 }));
    const { each, pooled } = place.localAndPooled(demands, 0.95);
    expect(each).toEqual([2, 2, 2, 2, 2, 2, 2, 2]);
    expect(pooled).toBe(6);
  });
});

const site = fc.record({
  perMonth: fc.double({ min: 0, max: 3, noNaN: true }),
  leadMonths: fc.double({ min: 0.1, max: 4, noNaN: true }),
  unitCost: fc.integer({ min: 1, max: 30 }),
});
const sites = fc.array(site, { minLength: 1, maxLength: 6 });

describe("second implementation: one purchase at a time", () => {
  it("buys the same, looking at every site before every purchase", () => {
    const check = fc.property(
      sites,
      fc.integer({ min: 0, max: 400 }),
      fc.integer({ min: 0, max: 2 }),
      (sites, spare, floor) => {
        const spares = sites.map(() => floor);
        let left = spare;
        for (;;) {
          let best = { index: -1, gain: 0 };
          sites.forEach((one, index) => {
            const have = spares[index] ?? 0;
            const chance = countAbove(have, leadDemand(one));
            const rare = have >= countQuantile(1 - 1e-6, leadDemand(one));
            if (one.unitCost > left || rare) return;
            if (chance / one.unitCost > best.gain) best = { index, gain: chance / one.unitCost };
          });
          const chosen = sites[best.index];
          if (!chosen) break;
          spares[best.index] = (spares[best.index] ?? 0) + 1;
          left -= chosen.unitCost;
        }
        const floors = sites.reduce((sum, { unitCost }) => sum + floor * unitCost, 0);
        expect(place.placeSpares(sites, floors + spare, floor)).toEqual(spares);
      },
    );
    fc.assert(check, { numRuns: 300 });
  });
  it("is never better than the best of all choices, and spends no more", () => {
    const few = fc.array(site, { minLength: 1, maxLength: 3 });
    const check = fc.property(few, fc.integer({ min: 0, max: 60 }), (sites, budget) => {
      const found = place.placeSpares(sites, budget, 0);
      expect(price(sites, found)).toBeLessThanOrEqual(budget);
      const least = leastShort(sites, budget).short;
      expect(short(sites, found)).toBeGreaterThanOrEqual(least - 1e-12);
    });
    fc.assert(check, { numRuns: 60 });
  });
  it("agrees on two levels with a sum over every count at the centre", () => {
    const check = fc.property(
      fc.integer({ min: 0, max: 6 }),
      fc.double({ min: 0.1, max: 3, noNaN: true }),
      fc.double({ min: 0.1, max: 3, noNaN: true }),
      (stock, one, other) => {
        const site = (perMonth: number) => ({ stock: 1, leadMonths: 0.2, perMonth });
        const found = place.twoLevelShort({ stock, leadMonths: 1.2 }, [site(one), site(other)]);
        let chance = Math.exp(-1.2 * (one + other));
        let owed = 0;
        for (let k = 0; k < 80; k += 1) {
          owed += chance * Math.max(0, k - stock);
          chance *= (1.2 * (one + other)) / (k + 1);
        }
        expect(found.delay).toBeCloseTo(owed / (one + other), 10);
        const mean = one * (0.2 + owed / (one + other));
        expect(found.short[0]).toBeCloseTo(mean - 1 + Math.exp(-mean), 10);
      },
    );
    fc.assert(check);
  });
});

describe("properties", () => {
  it("gives every site its floor, and never less for more money", () => {
    const check = fc.property(sites, fc.integer({ min: 0, max: 500 }), (sites, spare) => {
      const floors = sites.reduce((sum, { unitCost }) => sum + unitCost, 0);
      const found = place.placeSpares(sites, floors + spare, 1);
      for (const units of found) expect(units).toBeGreaterThanOrEqual(1);
      const richer = place.placeSpares(sites, floors + spare * 2, 1);
      expect(short(sites, richer)).toBeLessThanOrEqual(short(sites, found) + 1e-12);
    });
    fc.assert(check);
  });
  it("stops where a spare is needed less than once in a million lead times", () => {
    const quiet = { perMonth: 0.1, leadMonths: 1, unitCost: 1 };
    const [units = NaN] = place.placeSpares([quiet], 1e9, 0);
    expect(countAbove(units, { mean: 0.1 })).toBeLessThanOrEqual(1e-6);
    expect(countAbove(units - 1, { mean: 0.1 })).toBeGreaterThan(1e-6);
    expect(place.placeSpares([{ ...quiet, perMonth: 0 }], 1e9, 1)).toEqual([1]);
  });
  it("needs no more together than apart where a site expects a unit or more; rarer sites may", () => {
    const rare = place.localAndPooled([{ mean: 0.05 }, { mean: 0.05 }, { mean: 0.05 }], 0.9);
    expect(rare).toEqual({ each: [0, 0, 0], pooled: 1 });
    const means = fc.array(fc.double({ min: 1, max: 20, noNaN: true }), { minLength: 2 });
    const check = fc.property(means, fc.constantFrom(0.9, 0.95, 0.99), (means, service) => {
      const demands = means.map((mean) => ({ mean }));
      const { each, pooled } = place.localAndPooled(demands, service);
      expect(pooled).toBeLessThanOrEqual(each.reduce((sum, units) => sum + units, 0));
    });
    fc.assert(check);
  });
  it("counts the spread of every site when they keep stock together", () => {
    const wide = { mean: 2, variance: 8 };
    const { pooled } = place.localAndPooled([wide, wide, { mean: 2, variance: 0 }], 0.95);
    expect(pooled).toBe(countQuantile(0.95, { mean: 6, variance: 18 }));
  });
});

describe("in a cell", () => {
  it("places with one lead time and cost for all, or one of each a site", () => {
    expect(PLACESPARES.call([[0.5, 0.1], [2, 2], [100, 100], 400])).toEqual([[3], [1]]);
  });
  it("leaves a site without a rate blank, and rows below the list, blank or zero", () => {
    expect(PLACESPARES.call([[0.5, "", 0], [2, 2, 0], [100, 100, 0], 400])).toEqual([
      [4],
      [""],
      [""],
    ]);
    expect(PLACESPARES.call([[0, 0.1], 2, 100, 200])).toEqual([[1], [1]]);
  });
  it("says what is missing", () => {
    const refused = (...cells: unknown[]): unknown => PLACESPARES.call(cells);
    expect(refused([0.5, 0.1], [2, ""], 100, 400)).toEqual({
      error: "#VALUE!",
      message: "leadMonths must be given for every site, got a blank cell",
    });
    expect(refused([0.5, 0.1], 2, [100, 0], 400)).toEqual({
      error: "#VALUE!",
      message: "unitCost must be given for every site, got a blank cell",
    });
    expect(refused([0.5, 0.1], [2, 2, 2], 100, 400)).toEqual({
      error: "#VALUE!",
      message: "leadMonths must be a single cell or as many as perMonth (2), got 3",
    });
  });
});

describe("bad input", () => {
  const one = { perMonth: 1, leadMonths: 1, unitCost: 10 };
  const centre = { stock: 1, leadMonths: 1 };
  const faults: readonly [string, () => unknown][] = [
    ["budget must be zero or more, got -1", () => place.placeSpares([one], -1, 1)],
    [
      "minimumStock must be a whole number, zero or more, got 0.5",
      () => place.placeSpares([one], 100, 0.5),
    ],
    ["unitCost must be above 0, got 0", () => place.placeSpares([{ ...one, unitCost: 0 }], 100, 1)],
    [
      "perMonth must be zero or more, got -1",
      () => place.placeSpares([{ ...one, perMonth: -1 }], 100, 1),
    ],
    [
      "perMonth must be few enough for 1000000 spares in all, got 10000000",
      () => place.placeSpares([{ ...one, perMonth: 1e7 }], 100, 1),
    ],
    ["serviceLevel must be 0 up to but not 1, got 1", () => place.localAndPooled([{ mean: 1 }], 1)],
    [
      "stock must be a whole number, zero or more, got -1",
      () => place.twoLevelShort(centre, [{ ...one, stock: -1 }]),
    ],
    ["perMonth must be above 0 at one site, got 0", () => place.twoLevelShort(centre, [])],
  ];
  for (const [message, call] of faults) {
    it(`says: ${message}`, () => {
      expect(call).toThrow(InputError);
      expect(call).toThrow(message);
    });
  }
  it("has no answer where the floors alone cost more than the budget", () => {
    const call = (): unknown => place.placeSpares([one, one], 19, 1);
    expect(call).toThrow(NoAnswerError);
    expect(call).toThrow("needs a budget of 20 for the floor of every site");
  });
});
