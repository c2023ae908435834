import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { addMonths, day, type Day } from "../../src/core/day.ts";
import { nextDue } from "../../src/core/due.ts";
import {
  type Course,
  type DaySpan,
  firstEnds,
  goodShares,
  inspectionDays,
} from "../../src/core/renewal.ts";
import { countsAfter, runningCounts } from "../../src/core/renewal-counts.ts";
import { monthChances, monthCountsAfter, runningMonths } from "../../src/core/renewal-months.ts";
import { workCalendar } from "../../src/core/workday.ts";

const FROM = day("2026-07-06");
const weekends = workCalendar(null, []);

describe("second implementation", () => {
  it("gives every month as its days by themselves do", () => {
    const check = fc.property(
      fc.record({
        shape: fc.double({ min: 0.8, max: 4, noNaN: true }),
        scale: fc.double({ min: 1, max: 20, noNaN: true }),
        then: fc.integer({ min: 1, max: 7 }),
        age: fc.integer({ min: -5, max: 200 }),
        first: fc.integer({ min: 0, max: 200 }),
        horizon: fc.integer({ min: 1, max: 9 }),
      }),
      ({ shape, scale, then, age, first, horizon }) => {
        const months = Array.from({ length: horizon }, (_, at): DaySpan => [
          addMonths(FROM, at) - FROM,
          addMonths(FROM, at + 1) - FROM,
        ]);
        const last = months.at(-1)?.[1] ?? 0;
        const monthOf = Int32Array.from({ length: last + 1 }, (_, at) =>
          Math.max(
            0,
            months.findIndex(([after, until]) => at > after && at <= until),
          ),
        );
        const course: Course = {
          last,
          inspections: inspectionDays(last),
          due: Int32Array.from(
            { length: last + 1 },
            (_, at) => nextDue((FROM + at) as Day, then, weekends) - FROM,
          ),
          good: goodShares({ shape, scale }, 500),
        };
        const ends = firstEnds({ age, due: first }, course);
        const table = monthCountsAfter(course, monthOf, months);
        const sums = runningMonths(ends, table);
        months.forEach((within, month) => {
          const exact = runningCounts(ends, countsAfter(course, within));
          const found = monthChances(sums, table, month);
          for (let count = 0; count < Math.max(exact.length, found.length); count += 1) {
            expect(Math.abs((found[count] ?? 0) - (exact[count] ?? 0))).toBeLessThan(1e-9);
          }
        });
      },
    );
    fc.assert(check, { numRuns: 60 });
  });
});
