import { readFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { BUDGETAT, PACKCOST } from "../../functions/budget.ts";
import * as budget from "../../src/core/budget.ts";
import { compoundChances } from "../../src/core/compound.ts";
import { gammaQuantile } from "../../src/core/chance.ts";
import { countAtMost, countChance, countQuantile } from "../../src/core/count-distribution.ts";
import { InputError, NoAnswerError } from "../../src/core/errors.ts";
import { cases } from "../cases.ts";

const reference = JSON.parse(
  readFileSync(new URL("../reference/stock.json", import.meta.url), "utf8"),
) as {
  readonly made: string;
  readonly budgets: readonly {
    readonly lines: readonly budget.BudgetLine[];
    readonly level: number;
    readonly cost: number;
  }[];
};

describe(`second implementation: ${reference.made}`, () => {
  it("agrees on every budget, whole prices making it exact", () => {
    expect(reference.budgets.length).toBeGreaterThan(50);
    for (const { lines, level, cost } of reference.budgets) {
      expect(budget.budgetAt(lines, level)).toBe(cost);
    }
  });
});

const expected = fc.integer({ min: 0, max: 3_000 }).map((hundredths) => hundredths / 100);
const line = fc.record({
  expected,
  price: fc.integer({ min: 1, max: 80 }),
  ratio: fc.constantFrom(0, 1, 1.5, 4),
});
const lines = fc
  .array(line, { minLength: 1, maxLength: 5 })
  .map((all) => all.map(({ ratio, ...one }) => ({ ...one, variance: one.expected * ratio })));
const level = fc.constantFrom(0.3, 0.5, 0.8, 0.9, 0.95, 0.99, 0.9999);

/** Chance that a cost is enough: every combination of counts, line by line. */
function chanceOf(lines: readonly budget.BudgetLine[], cost: number): number {
  const [first, ...rest] = lines;
  if (!first) return cost >= 0 ? 1 : 0;
  const { expected: mean, price, variance } = first;
  const spread = { mean, variance: Math.max(mean, variance ?? 0) };
  if (rest.length === 0) return countAtMost(Math.floor(cost / price + 1e-9), spread);
  let sum = 0;
  for (let k = 0; k * price <= cost + 1e-9; k += 1) {
    sum += countChance(k, spread) * chanceOf(rest, cost - k * price);
  }
  return sum;
}

describe("second implementation: every combination", () => {
  const cent = fc.integer({ min: 100, max: 50_000 }).map((cents) => cents / 100);
  const one = fc
    .record({
      expected: fc.integer({ min: 1, max: 1_500 }).map((hundredths) => hundredths / 100),
      price: cent,
      ratio: fc.constantFrom(0, 1.2, 5),
    })
    .map(({ ratio, ...rest }) => ({ ...rest, variance: rest.expected * ratio }));
  const pair = fc.array(one, { minLength: 2, maxLength: 3 });
  it("is enough with the chance asked for, and a little less is not, whatever the cents", () => {
    const check = fc.property(pair, level, (lines, level) => {
      const cost = budget.budgetAt(lines, level);
      expect(chanceOf(lines, cost)).toBeGreaterThanOrEqual(level - 1e-9);
      // Rounding up may add a step for each price, of which 2¹⁷ reach to Cantelli's bound; and a cent.
      const mean = lines.reduce((sum, line) => sum + line.expected * line.price, 0);
      const variance = lines.reduce(
        (sum, line) => sum + Math.max(line.expected, line.variance) * line.price ** 2,
        0,
      );
      const step = (mean + Math.sqrt((variance * level) / (1 - level))) / 2 ** 17;
      const less = cost - step * lines.length - 0.011;
      if (less > 0) expect(chanceOf(lines, less)).toBeLessThan(level + 1e-9);
    });
    fc.assert(check, { numRuns: cases("Budgets, every combination", 60, 15) });
  });
  it("agrees with the recursion over compound counts where all lines are Poisson", () => {
    const poisson = fc.array(fc.record({ expected, price: fc.integer({ min: 1, max: 12 }) }), {
      minLength: 1,
      maxLength: 6,
    });
    const check = fc.property(poisson, level, (lines, level) => {
      const rate = lines.reduce((sum, one) => sum + one.expected, 0);
      fc.pre(rate > 0);
      const sizes = Array.from({ length: 12 }, (_, index) =>
        lines.reduce((sum, { expected, price }) => sum + (price === index + 1 ? expected : 0), 0),
      ).map((share) => share / rate);
      const chances = compoundChances(rate, sizes, 4_000);
      let reached = 0;
      const wanted = chances.findIndex((chance) => (reached += chance) >= level * (1 - 1e-12));
      expect(budget.budgetAt(lines, level)).toBe(wanted);
    });
    fc.assert(check, { numRuns: 60 });
  });
  it("is the quantile of the count where there is one price", () => {
    const count = fc.record({ expected, ratio: fc.constantFrom(1, 3) });
    const check = fc.property(count, cent, level, ({ expected, ratio }, price, level) => {
      const variance = expected * ratio;
      const units = countQuantile(level, { mean: expected, variance });
      const found = budget.budgetAt([{ expected, price, variance }], level);
      expect(found).toBeCloseTo(units * price, 6);
    });
    fc.assert(check);
  });
  it("nears the gamma distribution of the same mean and variance where units are many", () => {
    const many = [400, 250, 900].map((expected, index) => ({
      expected,
      price: [103.37, 41.21, 7.99][index] ?? NaN,
      variance: expected * 3,
    }));
    const mean = many.reduce((sum, { expected, price }) => sum + expected * price, 0);
    const variance = many.reduce((sum, one) => sum + one.variance * one.price ** 2, 0);
    for (const level of [0.5, 0.8, 0.9, 0.99]) {
      const matched = (gammaQuantile(level, mean ** 2 / variance) * variance) / mean;
      expect(budget.budgetAt(many, level) / matched).toBeCloseTo(1, 3);
    }
  });
});

describe("properties", () => {
  it("never falls with the level, a price, or twice the units of a line", () => {
    const check = fc.property(lines, fc.integer({ min: 0, max: 4 }), (lines, which) => {
      const here = budget.budgetAt(lines, 0.8);
      expect(budget.budgetAt(lines, 0.9)).toBeGreaterThanOrEqual(here);
      expect(budget.budgetAt(lines, 0.5)).toBeLessThanOrEqual(here);
      const raised = (change: (one: budget.BudgetLine) => budget.BudgetLine): number => {
        const changed = lines.map((one, index) => (index === which ? change(one) : one));
        return budget.budgetAt(changed, 0.8);
      };
      expect(raised((one) => ({ ...one, price: one.price + 7 }))).toBeGreaterThanOrEqual(here);
      const more = ({ expected, variance, ...one }: budget.BudgetLine): budget.BudgetLine => ({
        ...one,
        expected: expected * 2,
        variance: (variance ?? 0) * 2,
      });
      expect(raised(more)).toBeGreaterThanOrEqual(here);
    });
    fc.assert(check);
  });
  it("does not mind the order of lines, or a line split in two of the same price", () => {
    const check = fc.property(lines, level, (lines, level) => {
      const here = budget.budgetAt(lines, level);
      expect(budget.budgetAt([...lines].reverse(), level)).toBe(here);
      const halves = lines.map(({ expected, variance, ...one }) => ({
        ...one,
        expected: expected / 2,
        variance: variance / 2,
      }));
      expect(budget.budgetAt([...halves, ...halves], level)).toBe(here);
    });
    fc.assert(check);
  });
  it("scales with the money: all prices ten times, ten times the cost", () => {
    const check = fc.property(lines, level, (lines, level) => {
      const tenfold = lines.map((one) => ({ ...one, price: one.price * 10 }));
      const here = budget.budgetAt(lines, level);
      expect(budget.budgetAt(tenfold, level)).toBeCloseTo(10 * here, 6);
    });
    fc.assert(check);
  });
  it("holds the expected cost between the levels 0.1 and 0.9 where there are units enough", () => {
    const check = fc.property(lines, (lines) => {
      const mean = lines.reduce((sum, { expected, price }) => sum + expected * price, 0);
      fc.pre(lines.every(({ expected }) => expected > 3));
      expect(budget.budgetAt(lines, 0.1)).toBeLessThanOrEqual(mean);
      expect(budget.budgetAt(lines, 0.9)).toBeGreaterThanOrEqual(mean);
    });
    fc.assert(check);
  });
});

describe("in a cell", () => {
  it("passes over rows blank in both, and is silent about no line that has units", () => {
    expect(BUDGETAT.call([[1, "", 0], [100, null, 0], 0.8])).toBe(200);
    expect(BUDGETAT.call([[0, 1], [50, 100], 0.8])).toBe(200);
    expect(BUDGETAT.call([[1, 2], [100, ""], 0.8])).toEqual({
      error: "#VALUE!",
      message: "price must be given for every line, got a blank cell",
    });
    expect(BUDGETAT.call([[1, ""], [100, 50], 0.8])).toEqual({
      error: "#VALUE!",
      message: "expected must be given for every price, got a blank cell",
    });
    expect(BUDGETAT.call([[""], [""]])).toEqual({
      error: "#N/A",
      message: "needs at least one line",
    });
  });
  it("takes a blank variance for Poisson, and refuses a list of another length", () => {
    expect(BUDGETAT.call([[1, 2], [100, 40], 0.8, ["", null]])).toBe(
      BUDGETAT.call([[1, 2], [100, 40], 0.8]),
    );
    expect(BUDGETAT.call([[1, 2], [100, 40], 0.8, [3]])).toEqual({
      error: "#VALUE!",
      message: "variance must be as many cells as expected (2), got 1",
    });
  });
  it("takes a zero price for a blank, and a year of rise where years is not given", () => {
    expect(PACKCOST.call([5, 1, 0])).toBe("");
    expect(PACKCOST.call([10, 10, 100, null, null, 0.1])).toBeCloseTo(110, 9);
  });
  it("answers at the edges of what it takes", () => {
    expect(PACKCOST.call([1e9, 1, 1e9, 0, 1e9, 1, 50])).toBeCloseTo(2e18 * 2 ** 50, -25);
    expect(BUDGETAT.call([[1e6], [1e9], 0.9999, [1e8]])).toBeGreaterThan(1e15);
    expect(BUDGETAT.call([[0.001, 1e5], [1e9, 0.01], 0.9999])).toBeGreaterThan(1e3);
  });
});

describe("bad input", () => {
  const line = { expected: 1, price: 1 };
  const faults: readonly [string, () => unknown][] = [
    ["level must be 0 up to but not 1, got 1", () => budget.budgetAt([line], 1)],
    [
      "expected must be zero or more, got -1",
      () => budget.budgetAt([{ ...line, expected: -1 }], 0.8),
    ],
    ["price must be zero or more, got NaN", () => budget.budgetAt([{ ...line, price: NaN }], 0.8)],
    [
      "variance must be at most 1000 times expected, got 1001",
      () => budget.budgetAt([{ ...line, variance: 1001 }], 0.8),
    ],
    [
      "expected must be at most 1000000 units in all, got 1000001",
      () => budget.budgetAt([line, { ...line, expected: 1e6 }], 0.8),
    ],
  ];
  for (const [message, call] of faults) {
    it(`says: ${message}`, () => {
      expect(call).toThrow(InputError);
      expect(call).toThrow(message);
    });
  }
  it("has no answer where too many prices would make rounding matter", () => {
    const many = Array.from({ length: 3_000 }, (_, index) => ({
      expected: 50,
      price: 10.01 + index * 1.37,
    }));
    expect(() => budget.budgetAt(many, 0.8)).toThrow(NoAnswerError);
    expect(() => budget.budgetAt(many, 0.8)).toThrow("needs fewer different prices and variances");
  });
});
