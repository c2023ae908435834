import { describe, expect, it } from "vitest";
import { day } from "../../src/core/day.ts";
import { meanOf } from "../../src/core/distribution.ts";
import { jeffreysRate } from "../../src/core/life.ts";
import { fleetCount, fleetOf, foundIn, inUse, statesOf } from "../../src/core/open-fleet.ts";

const ahead = { from: day("2026-07-06"), horizon: 12 };
const unit = { lastDone: day("2026-06-01"), months: 6, group: "A", last: 12, ways: null };

describe("a fleet's states", () => {
  it("has the rate of few failures as their mean, and each as likely", () => {
    const count = { failures: 1, months: 40 };
    const states = statesOf(ahead, count);
    expect(states.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 12);
    const mean = states.reduce((sum, { share, rate }) => sum + share * rate, 0);
    expect(mean).toBeCloseTo(jeffreysRate(count), 12);
  });
  it("expects failures of those in use only", () => {
    const leaving = { ...unit, last: 2 };
    expect(inUse([leaving], [0, 12], ahead)).toBeCloseTo((31 + 31 + 24 - 0) / 30.436875 + 0.03, 1);
    expect(inUse([leaving], [3, 12], ahead)).toBe(0);
    const [state] = statesOf(ahead, { failures: 4, months: 45 });
    if (state === undefined) throw new Error("there are states");
    const fleet = fleetOf([unit, leaving]);
    const found = foundIn(fleet, { state, span: [3, 12], ahead });
    // One part serves on; its scheduled one is on the first of December.
    const wanted = 1 + 1 + state.rate * inUse([unit], [3, 12], ahead);
    expect(meanOf(fleetCount(fleet, 0, found))).toBeCloseTo(wanted, 9);
  });
  it("works out once what two parts have in common", () => {
    expect(fleetOf([unit, { ...unit, group: "B" }, { ...unit, last: 3 }]).cases).toHaveLength(2);
  });
});
