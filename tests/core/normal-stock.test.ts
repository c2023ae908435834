import { describe, expect, it } from "vitest";
import { normalAtMost } from "../../src/core/chance.ts";
import { InputError } from "../../src/core/errors.ts";
import * as stock from "../../src/core/normal-stock.ts";
import type { Published } from "./published.ts";

const monthly = stock.normalDemand({ mean: 250, sd: 150 }, { mean: 2, sd: 0 });
const fixed = stock.normalRun({ reorderPoint: 600, orderSize: 1000 }, monthly);

/** Value printed, and half its last digit (or the source's own looseness) as tolerance. */
const printed: readonly (Published<number> & { readonly within: number })[] = [
  {
    source: "Taha, Operations Research, 10th ed., Example 16.1-1, buffer 23 (text read)",
    given: stock.normalReorderPoint({ mean: 200, sd: 10 * Math.sqrt(2) }, 0.95) - 200,
    value: 23,
    within: 0.5,
  },
  {
    source: "Taha, Operations Research, 10th ed., Example 16.1-1, reorder point 223 (text read)",
    given: stock.normalReorderPoint(
      stock.normalDemand({ mean: 100, sd: 10 }, { mean: 2, sd: 0 }),
      0.95,
    ),
    value: 223,
    within: 0.5,
  },
  {
    source: "Heizer & Render, Operations Management, ch. 12, equation 12-16, z = 1.28 (text read)",
    given: stock.normalReorderPoint(
      stock.normalDemand({ mean: 60, sd: 0 }, { mean: 6, sd: 2 }),
      normalAtMost(1.28),
    ),
    value: 513.6,
    within: 1e-9,
  },
  {
    source: "Chopra & Meindl, exercise 11-4, solution workbook, safety stock (text read)",
    given: 600 - monthly.mean,
    value: 100,
    within: 0.5,
  },
  {
    source:
      "Chopra & Meindl, exercise 11-4, solution workbook, spread in the lead time (text read)",
    given: monthly.sd,
    value: 212,
    within: 0.5,
  },
  {
    source: "Chopra & Meindl, exercise 11-4, solution workbook, cycle service level (text read)",
    given: fixed.serviceLevel,
    value: 0.68,
    within: 0.005,
  },
  {
    source: "Chopra & Meindl, exercise 11-4, solution workbook, expected shortage (text read)",
    given: fixed.short,
    value: 43.86,
    within: 0.006,
  },
  {
    source: "Chopra & Meindl, exercise 11-4, solution workbook, fill rate (text read)",
    given: fixed.fill,
    value: 0.96,
    within: 0.005,
  },
  {
    source: "Stevenson, Operations Management, ch. 13, 1 % risk (question read, 369.9 from memory)",
    given: stock.normalReorderPoint({ mean: 300, sd: 30 }, 0.99),
    value: 369.9,
    within: 0.15,
  },
];

describe("published", () => {
  for (const { source, given, value, within } of printed) {
    it(source, () => {
      expect(Math.abs(given - value)).toBeLessThanOrEqual(within);
    });
  }
});

describe("properties", () => {
  it("needs no chance where a large demand does not vary", () => {
    expect(stock.normalReorderPoint({ mean: 40, sd: 0 }, 0.99)).toBe(40);
    const run = stock.normalRun({ reorderPoint: 30, orderSize: 20 }, { mean: 40, sd: 0 });
    expect(run).toEqual({ serviceLevel: 0, short: 10, fill: 0.5 });
  });
});

describe("bad input", () => {
  const rule = { reorderPoint: 1, orderSize: 1 };
  const normal = { mean: 1, sd: 1 };
  const faults: readonly [string, () => unknown][] = [
    ["sd must be zero or more, got -1", () => stock.normalDemand({ mean: 1, sd: -1 }, normal)],
    ["mean must be zero or more, got -1", () => stock.normalDemand({ mean: -1, sd: 1 }, normal)],
    ["serviceLevel must be 0 up to but not 1, got 1", () => stock.normalReorderPoint(normal, 1)],
    ["chance must be above 0 and below 1, got 0", () => stock.normalReorderPoint(normal, 0)],
    ["orderSize must be above 0, got 0", () => stock.normalRun({ ...rule, orderSize: 0 }, normal)],
  ];
  for (const [message, call] of faults) {
    it(`says: ${message}`, () => {
      expect(call).toThrow(InputError);
      expect(call).toThrow(message);
    });
  }
});
