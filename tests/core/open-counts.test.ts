import { describe, expect, it } from "vitest";
import { day } from "../../src/core/day.ts";
import { meanOf } from "../../src/core/distribution.ts";
import { fleetCount, foundIn } from "../../src/core/open-counts.ts";
import { fleetOf, inUse } from "../../src/core/open-fleet.ts";
import { momentTable } from "../../src/core/open-moments.ts";
import { statesOf } from "../../src/core/open-states.ts";

const ahead = { from: day("2026-07-06"), horizon: 12 };
const unit = { lastDone: day("2026-06-01"), months: 6, group: "A", last: 12, ways: null };

describe("the number of a fleet", () => {
  it("expects failures of those in use only", () => {
    const leaving = { ...unit, last: 2 };
    const [state] = statesOf(ahead, { failures: 4, months: 45 });
    if (state === undefined) throw new Error("there are states");
    const fleet = fleetOf([unit, leaving]);
    const table = momentTable(fleet, [state], [[3, 12]]);
    const found = foundIn(fleet, { state, span: [3, 12], ahead, table, column: 0 });
    // One part serves on; its scheduled one is on the first of December.
    const wanted = 1 + 1 + state.rate * inUse([unit], [3, 12], ahead);
    expect(meanOf(fleetCount(fleet, 0, found))).toBeCloseTo(wanted, 9);
  });
});
