import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { costAhead } from "../../../src/book/budget/level.ts";
import type { PartCost } from "../../../src/book/budget/need.ts";
import type { Distribution } from "../../../src/core/distribution.ts";

const packs = fc.record({
  least: fc.integer({ min: 0, max: 4 }),
  chances: fc
    .array(fc.integer({ min: 1, max: 9 }), { minLength: 1, maxLength: 4 })
    .map((weights) => {
      const all = weights.reduce((sum, one) => sum + one, 0);
      return Float64Array.from(weights, (one) => one / all);
    }),
});

const priced = fc.record({ cents: fc.integer({ min: 1, max: 5000 }), packs });

function costOf(cents: number, counts: Distribution): PartCost {
  return { cents, points: [{ share: 1, packs: counts }] };
}

describe("what packs may cost", () => {
  it("is enough with the chance of all numbers that cost no more, gone through one by one", () => {
    const parts = fc.array(priced, { minLength: 1, maxLength: 3 });
    const level = fc.double({ min: 0.5, max: 0.99, noNaN: true });
    const check = fc.property(parts, level, (all, wanted) => {
      const { at, holds } = costAhead(all.map((one) => costOf(one.cents, one.packs)));
      let cases = [{ cents: 0, chance: 1 }];
      for (const one of all) {
        cases = cases.flatMap(({ cents, chance }) =>
          Array.from(one.packs.chances, (share, more) => ({
            cents: cents + one.cents * (one.packs.least + more),
            chance: chance * share,
          })),
        );
      }
      const chanceOf = (most: number): number =>
        cases.reduce((sum, { cents, chance }) => (cents <= most ? sum + chance : sum), 0);
      const most = Math.round(100 * at(wanted));
      expect(holds(most / 100)).toBeCloseTo(chanceOf(most), 9);
      expect(holds((most - 1) / 100)).toBeCloseTo(chanceOf(most - 1), 9);
      expect(chanceOf(most)).toBeGreaterThanOrEqual(wanted - 1e-9);
      expect(chanceOf(most - 1)).toBeLessThan(wanted + 1e-9);
    });
    fc.assert(check);
  });

  it("is nothing where no price is known, and that is enough", () => {
    const { at, holds } = costAhead([costOf(0, { least: 3, chances: Float64Array.of(1) })]);
    expect([at(0.8), holds(0)]).toEqual([0, 1]);
  });
});
