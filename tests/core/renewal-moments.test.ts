import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { momentsOf } from "../../src/core/moments.ts";
import {
  type Course,
  type DaySpan,
  firstEnds,
  goodShares,
  inspectionDays,
} from "../../src/core/renewal.ts";
import { countsAfter, runningCounts } from "../../src/core/renewal-counts.ts";
import { momentsAfter, runningMoments } from "../../src/core/renewal-moments.ts";

describe("second implementation", () => {
  it("are mean and variance of the chances of each number, span by span", () => {
    const last = 120;
    const check = fc.property(
      fc.record({
        shape: fc.double({ min: 0.8, max: 4, noNaN: true }),
        scale: fc.double({ min: 0.5, max: 20, noNaN: true }),
        then: fc.integer({ min: 5, max: 90 }),
        age: fc.integer({ min: -5, max: 200 }),
        due: fc.integer({ min: 0, max: 150 }),
      }),
      ({ shape, scale, then, age, due }) => {
        const course: Course = {
          last,
          inspections: inspectionDays(last),
          due: Int32Array.from({ length: last + 1 }, (_, day) => day + then),
          good: goodShares({ shape, scale }, 500),
        };
        const spans: DaySpan[] = [
          [0, 30],
          [30, 60],
          [60, last],
          [0, last],
        ];
        const ends = firstEnds({ age, due }, course);
        const row = runningMoments(ends, momentsAfter(course, spans));
        spans.forEach((span, at) => {
          const counts = runningCounts(ends, countsAfter(course, span));
          const { mean, variance } = momentsOf(counts);
          expect(row[at]).toBeCloseTo(mean, 9);
          expect((row[spans.length + at] ?? 0) - (row[at] ?? 0) ** 2).toBeCloseTo(variance, 8);
        });
      },
    );
    fc.assert(check);
  });
});
