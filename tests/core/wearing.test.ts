import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { day, type Day } from "../../src/core/day.ts";
import { momentsOf } from "../../src/core/moments.ts";
import { wearing } from "../../src/core/wearing.ts";
import { workCalendar } from "../../src/core/workday.ts";

const ahead = { from: day("2026-07-06"), horizon: 12, calendar: workCalendar(null, []) };
const MONTHS = 13;

const units = fc.record({
  lastDone: fc.integer({ min: ahead.from - 300, max: ahead.from + 20 }),
  months: fc.integer({ min: 1, max: 9 }),
  then: fc.integer({ min: 1, max: 9 }),
});

describe("second implementation", () => {
  it("needs, chances and moments of a part agree with each other in every month and over all", () => {
    const [life] = wearing(ahead, [{ shape: 1.5, scale: 7 }]);
    if (life === undefined) throw new Error("one life has its parts");
    const spans = [
      ...Array.from({ length: MONTHS }, (_, at) => [at, at] as const),
      [0, MONTHS - 1] as const,
    ];
    const check = fc.property(units, ({ lastDone, ...intervals }) => {
      const unit = { lastDone: lastDone as Day, ...intervals };
      const need = life.need(unit);
      const moments = life.moments(unit, spans);
      let year = 0;
      spans.forEach((span, at) => {
        const { mean, variance } = momentsOf(life.counts(unit, span));
        const expected = at < MONTHS ? (need[at] ?? 0) + (need[MONTHS + at] ?? 0) : year;
        year += expected;
        expect(mean).toBeCloseTo(expected, 8);
        expect(moments[at]).toBeCloseTo(expected, 8);
        expect((moments[spans.length + at] ?? 0) - expected ** 2).toBeCloseTo(variance, 7);
      });
    });
    fc.assert(check, { numRuns: 60 });
  });
});
