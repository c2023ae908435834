import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { BESTSPAN } from "../../functions/life.ts";
import { type Ageing, ageCost, bestInterval, weibullAgeing } from "../../src/core/age.ts";
import { InputError } from "../../src/core/errors.ts";
import type { Published } from "./published.ts";

/** Lives spread evenly from 0 to 10. */
const even: Ageing = {
  failed: (months) => months / 10,
  hazard: (months) => 1 / (10 - months),
  used: (months) => months - months ** 2 / 20,
};

/** Lives of density 2t / 900 from 0 to 30. */
const rising: Ageing = {
  failed: (months) => months ** 2 / 900,
  hazard: (months) => (2 * months) / (900 - months ** 2),
  used: (months) => months - months ** 3 / 2700,
};

interface Given {
  readonly ageing: Ageing;
  readonly scheduled: number;
  readonly unplanned: number;
  readonly longest: number;
}

interface Best {
  readonly months: readonly [value: number, decimals: number];
  readonly cost: readonly [value: number, decimals: number];
}

const table: readonly Published<Given, Best>[] = [
  {
    source:
      "Durrett, Essentials of Stochastic Processes, Example 3.4, set-up read, printed age from memory",
    given: { ageing: even, scheduled: 10, unplanned: 13, longest: 9.99 },
    value: { months: [8.83, 2], cost: [2.565, 3] },
  },
  {
    source: "Durrett, Exercise 3.16, question read, answer derived",
    given: { ageing: rising, scheduled: 300, unplanned: 1200, longest: 29.99 },
    value: { months: [14.5760481526994, 6], cost: [38.1605894854221, 6] },
  },
  {
    source: "Barlow and Hunter 1960, first-order condition (computed, not published)",
    given: {
      ageing: weibullAgeing({ shape: 2.5, scale: 9 }),
      scheduled: 1,
      unplanned: 4,
      longest: 60,
    },
    value: { months: [4.994525154945678, 7], cost: [0.34450560884678033, 8] },
  },
];

describe("published", () => {
  for (const { source, given, value } of table) {
    it(`least cost: ${source}`, () => {
      const { ageing, scheduled, unplanned, longest } = given;
      const { best } = bestInterval({
        ageing,
        costs: { scheduled, unplanned },
        shortest: 0.5,
        longest,
      });
      expect(best.months).toBeCloseTo(...value.months);
      expect(best.cost).toBeCloseTo(...value.cost);
    });
  }
  it("Durrett, Exercise 3.15, text read; Barlow and Proschan 1965, chapter 4: parts that do not age are never replaced on plan", () => {
    const ageing = weibullAgeing({ shape: 1, scale: 10 });
    for (const longest of [10, 1e3, 1e6]) {
      const found = bestInterval({
        ageing,
        costs: { scheduled: 1, unplanned: 5 },
        shortest: 1,
        longest,
      });
      expect(found.best).toEqual(found.longest);
      expect(found.best.months).toBe(longest);
    }
  });
  it("Own computation, no publication: running Weibull(2.5, 9) parts until they are worn costs 0.50092 a month", () => {
    const ageing = weibullAgeing({ shape: 2.5, scale: 9 });
    expect(ageCost(1000, ageing, { scheduled: 1, unplanned: 4 })).toBeCloseTo(
      0.5009157768826789,
      8,
    );
  });
});

/** The cost a month by adding up thin slices of the share still good (Simpson's rule). */
function slicedCost(
  months: number,
  shape: number,
  [scheduled, unplanned]: [number, number],
): number {
  const slices = 4000;
  const good = (at: number): number => Math.exp(-((at / 9) ** shape));
  let used = 0;
  for (let slice = 0; slice < slices; slice += 1) {
    const [from, to] = [(slice * months) / slices, ((slice + 1) * months) / slices];
    used += ((to - from) / 6) * (good(from) + 4 * good((from + to) / 2) + good(to));
  }
  return (scheduled * good(months) + unplanned * (1 - good(months))) / used;
}

describe("second implementation", () => {
  it("costs what slices of the share still good add up to", () => {
    for (const shape of [1, 1.7, 2.5, 4, 9]) {
      for (const months of [0.5, 3, 6, 9, 20]) {
        const cost = ageCost(months, weibullAgeing({ shape, scale: 9 }), {
          scheduled: 1,
          unplanned: 4,
        });
        expect(cost / slicedCost(months, shape, [1, 4])).toBeCloseTo(1, 9);
      }
    }
  });
  it("finds no cheaper age by trying many", () => {
    for (const [shape, unplanned] of [
      [1.2, 9],
      [2.5, 4],
      [2.5, 1.1],
      [6, 40],
    ] as const) {
      const ageing = weibullAgeing({ shape, scale: 9 });
      const costs = { scheduled: 1, unplanned };
      const { best } = bestInterval({ ageing, costs, shortest: 3, longest: 9 });
      for (let months = 3; months <= 9; months += 0.01) {
        expect(ageCost(months, ageing, costs)).toBeGreaterThanOrEqual(best.cost - 1e-12);
      }
    }
  });
});

const positive = (max: number): fc.Arbitrary<number> => fc.double({ min: 0.01, max, noNaN: true });

describe("properties", () => {
  it("is never longer than longest nor shorter than shortest, and costs no more than either", () => {
    const given = fc.record({
      life: fc.record({
        shape: fc.double({ min: 0.05, max: 50, noNaN: true }),
        scale: positive(100),
      }),
      costs: fc.record({ scheduled: positive(100), unplanned: positive(1000) }),
      ends: fc.tuple(positive(24), positive(24)),
    });
    const check = fc.property(given, ({ life, costs, ends }) => {
      const [shortest, longest] = [Math.min(...ends), Math.max(...ends)];
      const ageing = weibullAgeing(life);
      const found = bestInterval({ ageing, costs, shortest, longest });
      expect(found.best.months).toBeGreaterThanOrEqual(shortest);
      expect(found.best.months).toBeLessThanOrEqual(longest);
      const least = Math.min(found.shortest.cost, found.longest.cost);
      expect(found.best.cost).toBeLessThanOrEqual(least * (1 + 1e-9));
    });
    fc.assert(check);
  });
  it("is longest where an unplanned replacement costs no more than a scheduled one, or age does not matter", () => {
    const at = (shape: number, unplanned: number): number =>
      bestInterval({
        ...{ ageing: weibullAgeing({ shape, scale: 9 }), costs: { scheduled: 2, unplanned } },
        ...{ shortest: 3, longest: 6 },
      }).best.months;
    expect([at(2.5, 2), at(2.5, 0), at(0.7, 50), at(1, 50)]).toEqual([6, 6, 6, 6]);
    expect(at(2.5, 1000)).toBe(3);
  });
  it("does not care for the currency", () => {
    const ageing = weibullAgeing({ shape: 2.5, scale: 9 });
    const ends = { shortest: 3, longest: 9 };
    const one = bestInterval({ ageing, costs: { scheduled: 1, unplanned: 4 }, ...ends });
    const other = bestInterval({ ageing, costs: { scheduled: 7, unplanned: 28 }, ...ends });
    expect(other.best.months).toBeCloseTo(one.best.months, 12);
    expect(other.best.cost).toBeCloseTo(7 * one.best.cost, 12);
  });
});

describe("bad input", () => {
  const given = {
    ...{ ageing: weibullAgeing({ shape: 2.5, scale: 9 }), costs: { scheduled: 1, unplanned: 4 } },
    ...{ shortest: 3, longest: 6 },
  };
  const faults: readonly [Partial<typeof given>, string][] = [
    [{ shortest: 0 }, "shortest must be above 0, got 0"],
    [{ longest: 2 }, "longest must be a number of months not below shortest, got 2"],
    [{ longest: Infinity }, "longest must be a number of months not below shortest, got Infinity"],
    [{ costs: { scheduled: 0, unplanned: 4 } }, "scheduled must be above 0, got 0"],
    [
      { costs: { scheduled: 1, unplanned: -4 } },
      "unplanned must be a number of at least 0, got -4",
    ],
    [
      { costs: { scheduled: 1, unplanned: NaN } },
      "unplanned must be a number of at least 0, got NaN",
    ],
  ];
  for (const [change, message] of faults) {
    it(`says: ${message}`, () => {
      expect(() => bestInterval({ ...given, ...change })).toThrow(InputError);
      expect(() => bestInterval({ ...given, ...change })).toThrow(message);
    });
  }
  it("names a shape that is none", () => {
    expect(() => weibullAgeing({ shape: 0, scale: 9 })).toThrow("shape must be above 0, got 0");
  });
});

describe("as cells", () => {
  it("answers with numbers at every limit of its arguments", () => {
    for (const shape of [0.05, 1, 1000]) {
      for (const scale of [0.01, 9, 1e6]) {
        for (const ends of [
          [0.1, 0.1],
          [0.1, 120],
          [120, 120],
        ]) {
          const [row] = BESTSPAN.call([shape, scale, 1e-6, 1e12, ...ends]) as number[][];
          expect(row?.every((value) => Number.isFinite(value) && value > 0)).toBe(true);
        }
      }
    }
  });
  it("refuses crossed ends", () => {
    expect(BESTSPAN.call([2.5, 9, 1, 4, 6, 3])).toEqual({
      error: "#VALUE!",
      message: "longest must be a number of months not below shortest, got 3",
    });
  });
});
