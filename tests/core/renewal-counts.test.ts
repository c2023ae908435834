import { describe, expect, it } from "vitest";
import { gammaAtMost, normalAtMost } from "../../src/core/chance.ts";
import { convolution } from "../../src/core/distribution.ts";
import { countsAfter } from "../../src/core/renewal-counts.ts";

type Share = (time: number) => number;

// What every single way of being replaced adds up to is held against these counts in renewal.test.ts.
describe("published", () => {
  it("Ross, Introduction to Probability Models, chapter 7, two machines, at least 90 by time 100, from memory: .9741 by the normal rule, and near it exactly", () => {
    const variance = 100 / 8 + 100 / 6;
    expect(1 - normalAtMost((89.5 - 100) / Math.sqrt(variance))).toBeCloseTo(0.9741, 4);
    const steps = 1000;
    const h = 100 / steps;
    const lives: readonly Share[] = [(t) => gammaAtMost(2 * t, 4), (t) => Math.min(1, t / 4)];
    const machines = lives.map((worn) => {
      const good = Float64Array.from({ length: steps + 1 }, (_, step) =>
        step === 0 ? 1 : 1 - worn((step + 0.5) * h),
      );
      // Days that are all inspections and on which nothing falls due.
      const course = {
        ...{ last: steps, good },
        inspections: Int32Array.from({ length: steps }, (_, at) => at + 1),
        due: new Int32Array(steps + 1).fill(2 * steps),
      };
      const rows = countsAfter(course, [0, steps]);
      rows.reach(0);
      const from = rows.starts[0] ?? 0;
      // That of day 0 itself counts, and is none of theirs.
      return { least: 0, chances: rows.numbers.slice(from + 1, from + (rows.sizes[0] ?? 0)) };
    });
    const [one, other] = machines;
    if (!one || !other) throw new Error("there are two machines");
    const both = convolution(one, other);
    const atLeast = both.chances.reduce(
      (sum, chance, at) => (both.least + at >= 90 ? sum + chance : sum),
      0,
    );
    expect(Math.abs(atLeast - 0.9741)).toBeLessThan(0.01);
  });
});
