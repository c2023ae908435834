import { describe, expect, it } from "vitest";
import { told } from "../../taskpane/excel/faults.ts";
import { tallied } from "../../taskpane/excel/tally.ts";
import { deskOf, DEMO, faultOf } from "./desk.ts";
import { Fault } from "../stand-in/thing.ts";

describe("what is counted between the pane and Excel", () => {
  it("are requests, the largest answer, and what was refused", async () => {
    const before = tallied();
    const { host, executor } = deskOf(DEMO);
    await host.snapshot();
    const { requests, largest } = tallied();
    expect(requests - before.requests).toBe(executor.tally.syncs);
    // Counted by what the cells hold; the rest of an answer is small beside it.
    expect(largest).toBeGreaterThan(executor.tally.largestAnswer / 4);
    executor.before = () => {
      throw new Fault("AccessDenied", "Sheet Equipment is protected");
    };
    await faultOf(host.snapshot());
    expect(tallied().refusals.at(-1)).toMatch(/^\d\d:\d\d:\d\d AccessDenied$/);
  });

  it("names the member that refused, and never what Excel says, which may name a sheet", () => {
    told({
      code: "InvalidArgument",
      message: "Equipment!A1",
      debugInfo: { errorLocation: "Range.values" },
    });
    expect(tallied().refusals.at(-1)).toMatch(/ InvalidArgument at Range\.values$/);
    told({ code: "InvalidArgument", debugInfo: { errorLocation: "the sheet 'Ward 3'" } });
    expect(tallied().refusals.at(-1)).toMatch(/ InvalidArgument$/);
    for (let at = 0; at < 9; at += 1) told({ code: `Code${at}` });
    expect(tallied().refusals).toHaveLength(5);
  });
});
