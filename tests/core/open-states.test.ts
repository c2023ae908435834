import { describe, expect, it } from "vitest";
import { day } from "../../src/core/day.ts";
import { jeffreysRate } from "../../src/core/life.ts";
import { statesOf } from "../../src/core/open-states.ts";

const ahead = { from: day("2026-07-06"), horizon: 12 };

describe("the states of wear that may be", () => {
  it("have the rate of few failures as their mean, and each as likely", () => {
    const count = { failures: 1, months: 40 };
    const states = statesOf(ahead, count);
    expect(states.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 12);
    const mean = states.reduce((sum, { share, rate }) => sum + share * rate, 0);
    expect(mean).toBeCloseTo(jeffreysRate(count), 12);
  });
  it("are one where nothing wears: the schedule, which is certain", () => {
    const states = statesOf(ahead, null);
    expect(states).toHaveLength(1);
    const unit = { lastDone: day("2026-06-01"), months: 6 };
    expect(Array.from(states[0]?.counts(unit, [0, 12]) ?? [])).toEqual([0, 0, 1]);
    expect(Array.from(states[0]?.counts(unit, [0, 3]) ?? [])).toEqual([1]);
  });
});
