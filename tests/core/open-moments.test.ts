import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { day, type Day } from "../../src/core/day.ts";
import { momentsOfNumber } from "../../src/core/moments.ts";
import { foundIn, groupCount } from "../../src/core/open-counts.ts";
import { ERROR_POINTS, fleetOf, type OpenUnit } from "../../src/core/open-fleet.ts";
import { momentTable } from "../../src/core/open-moments.ts";
import { statesOf } from "../../src/core/open-states.ts";
import type { MonthSpan } from "../../src/core/schedule.ts";

const from = day("2026-07-06");
const ahead = { from, horizon: 12 };

describe("mean and variance of a group", () => {
  it("are those of its chances, added up one by one and mixed", () => {
    const shares = fc.array(fc.double({ min: 0, max: 1, noNaN: true }), {
      minLength: 9,
      maxLength: 9,
    });
    const unit = fc.record({
      age: fc.integer({ min: 1, max: 400 }),
      first: fc.option(shares),
      last: fc.constantFrom(12, 12, 5, -1),
    });
    const spans = fc.constantFrom<MonthSpan>([0, 12], [0, 0], [4, 4], [3, 7], [12, 12]);
    const check = fc.property(
      fc.array(unit, { minLength: 1, maxLength: 6 }),
      spans,
      (parts, span) => {
        const units = parts.map(({ age, first, last }): OpenUnit => {
          const pairs = [3, 6].map((months) => ({ months, then: months }));
          const ways =
            first === null
              ? null
              : { pairs, shares: first.map((one) => Float64Array.of(one, 1 - one)) };
          return { lastDone: (from - age) as Day, months: 6, group: "A", last, ways };
        });
        const fleet = fleetOf(units);
        const group = fleet.groups.get("A");
        const [state] = statesOf(ahead, { shape: 2.5, scale: 9 });
        if (group === undefined || state === undefined)
          throw new Error("there is one group and life");
        const table = momentTable(fleet, [state], [span]);
        const found = foundIn(fleet, { state, span, ahead, table, column: 0 });
        for (
          let point = 0;
          point < (units.some(({ ways }) => ways) ? ERROR_POINTS.length : 1);
          point += 1
        ) {
          const exact = momentsOfNumber(groupCount(group, point, found));
          const { means, variances } = table.group(group, point);
          expect(means[0]).toBeCloseTo(exact.mean, 9);
          expect(variances[0]).toBeCloseTo(exact.variance, 9);
        }
      },
    );
    fc.assert(check, { numRuns: 40 });
  });
});
