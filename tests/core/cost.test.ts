import fc from "fast-check";
import { describe, expect, it } from "vitest";
import * as cost from "../../src/core/cost.ts";
import { InputError } from "../../src/core/errors.ts";
import type { Published } from "./published.ts";

const printed: readonly (Published<number> & { readonly within: number })[] = [
  {
    source: "Engineering economy table, single payment compound amount, 5 %, 10 (from memory)",
    given: cost.laterPrice(1, 0.05, 10),
    value: 1.6289,
    within: 0.00006,
  },
  {
    source: "BLS, CPI worked example 129.9 to 136.0, as reproduced by finplan.com (text read)",
    given: 100 * cost.yearlyRise(129.9, 136),
    value: 4.7,
    within: 0.051,
  },
  {
    source: "Alaska Department of Labor, Calculating Index Changes, 201.427 to 205.916 (text read)",
    given: 100 * cost.yearlyRise(201.427, 205.916),
    value: 2.22859,
    within: 0.00002,
  },
];

describe("published", () => {
  for (const { source, given, value, within } of printed) {
    it(source, () => {
      expect(Math.abs(given - value)).toBeLessThanOrEqual(within);
    });
  }
  it("Own arithmetic, no publication: 38 units, 6 on hand, 4 at the end, packs of 10 at 400, up 4 %", () => {
    const given = { need: 38, onHand: 6, endStock: 4, pack: 10, packPrice: 400, rise: 0.04 };
    const found = cost.packCost(given);
    expect(found.packs).toBe(4);
    expect(found.cost).toBeCloseTo(1664, 9);
  });
});

describe("properties", () => {
  it("buys whole packs, none when there is enough, and none for the rounding of a sum", () => {
    const base = { pack: 10, packPrice: 5 };
    expect(cost.packCost({ ...base, need: 30 })).toEqual({ packs: 3, cost: 15 });
    expect(cost.packCost({ ...base, need: 30.1 })).toEqual({ packs: 4, cost: 20 });
    expect(cost.packCost({ ...base, need: 0.1 * 3 * 100 }).packs).toBe(3);
    expect(cost.packCost({ ...base, need: 3, onHand: 50 })).toEqual({ packs: 0, cost: 0 });
    expect(cost.packCost({ ...base, need: 10, rise: 1, years: 2 }).cost).toBe(20);
    expect(cost.packCost({ ...base, need: 10, rise: 1 }).cost).toBe(10);
  });
  it("inverts a rise", () => {
    const rise = fc.double({ min: -0.5, max: 1, noNaN: true });
    const check = fc.property(rise, fc.integer({ min: 1, max: 30 }), (rise, years) => {
      expect(cost.yearlyRise(80, cost.laterPrice(80, rise, years), years)).toBeCloseTo(rise, 9);
    });
    fc.assert(check);
  });
});

describe("bad input", () => {
  const need = { need: 1, pack: 1, packPrice: 1 };
  const pack = (change: Partial<cost.PackNeed>): unknown => cost.packCost({ ...need, ...change });
  const faults: readonly [string, () => unknown][] = [
    ["need must be zero or more, got -1", () => pack({ need: -1 })],
    ["pack must be above 0, got 0", () => pack({ pack: 0 })],
    ["price must be zero or more, got -1", () => pack({ packPrice: -1 })],
    ["onHand must be zero or more, got -1", () => pack({ onHand: -1 })],
    ["endStock must be zero or more, got -1", () => pack({ endStock: -1 })],
    ["rise must be above -1, got -1", () => pack({ rise: -1 })],
    ["years must be zero or more, got -1", () => pack({ years: -1 })],
    ["from must be above 0, got 0", () => cost.yearlyRise(0, 1)],
    ["years must be above 0, got 0", () => cost.yearlyRise(1, 1, 0)],
  ];
  for (const [message, call] of faults) {
    it(`says: ${message}`, () => {
      expect(call).toThrow(InputError);
      expect(call).toThrow(message);
    });
  }
});
