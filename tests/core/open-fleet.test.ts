import { describe, expect, it } from "vitest";
import { day } from "../../src/core/day.ts";
import { CERTAIN, ERROR_POINTS, fleetOf, inUse } from "../../src/core/open-fleet.ts";

const ahead = { from: day("2026-07-06"), horizon: 12 };
const unit = { lastDone: day("2026-06-01"), months: 6, group: "A", last: 12, ways: null };

describe("parts in use by group", () => {
  it("have in common what is worked out once", () => {
    expect(fleetOf([unit, { ...unit, group: "B" }, { ...unit, last: 3 }]).cases).toHaveLength(2);
  });
  it("have points of an error only where something is open", () => {
    const ways = {
      pairs: [{ months: 6, then: 6 }],
      shares: Array.from({ length: 9 }, () => Float64Array.of(1)),
    };
    const fleet = fleetOf([unit, { ...unit, group: "B", ways }]);
    expect(fleet.common).toBe(ERROR_POINTS);
    expect([fleet.groups.get("A")?.own, fleet.groups.get("B")?.own]).toEqual([
      CERTAIN,
      ERROR_POINTS,
    ]);
  });
  it("are in use up to their last month", () => {
    const leaving = { ...unit, last: 2 };
    expect(inUse([leaving], [0, 12], ahead)).toBeCloseTo((31 + 31 + 24 - 0) / 30.436875 + 0.03, 1);
    expect(inUse([leaving], [3, 12], ahead)).toBe(0);
  });
});
