import { describe, expect, it } from "vitest";
import { eachOf, finished, oneStep, type Steps } from "../../../src/book/workbook/steps.ts";
import { paced } from "../../../taskpane/pace.ts";

describe("work in steps", () => {
  it("gives what it gives at once", () => {
    function* sum(): Steps<number> {
      const squares = yield* eachOf([1, 2, 3], (one) => one * one);
      const last = yield* oneStep(() => 4);
      return squares.reduce((all, one) => all + one, last);
    }
    expect(finished(sum())).toBe(18);
  });

  it("makes a step of each", () => {
    expect([...eachOf([1, 2, 3, 4, 5], String)]).toHaveLength(5);
    expect([...eachOf([], String)]).toEqual([]);
  });

  it("lets others work in between, and ends where it is told to", async () => {
    let turns = 0;
    const other = setInterval(() => (turns += 1), 1);
    function* long(): Steps<string> {
      const end = performance.now() + 200;
      while (performance.now() < end) yield;
      return "done";
    }
    expect(await paced(long())).toBe("done");
    expect(turns).toBeGreaterThan(3);
    clearInterval(other);
    const rests: string[] = [];
    const ended = paced(long(), () => {
      rests.push("rest");
      throw new Error("stopped");
    });
    await expect(ended).rejects.toThrow("stopped");
    expect(rests).toEqual(["rest"]);
  });
});
