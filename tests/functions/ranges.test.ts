import { describe, expect, it } from "vitest";
import { RANGES } from "../../functions/help.ts";
import { functions } from "../../functions/index.ts";
import { helpPage } from "../../functions/page.ts";
import { DEMO_SEED, demoBook } from "../../src/book/demo/workbook.ts";
import type { Plan } from "../../src/book/workbook/plan.ts";
import { JOBS } from "../taskpane/contract-jobs.ts";
import { DEMO } from "../taskpane/desk.ts";

/** A whole column or row as a reference: B:B, $B:$B, 3:3. */
const WHOLE = /(?<![\w.$])(?:\$?[A-Z]{1,3}:\$?[A-Z]{1,3}|\$?\d+:\$?\d+)(?![\w(])/;

/** Every formula of a plan: in cells, in names, in rules and choices. */
function formulasOf(plan: Plan): string[] {
  const found: string[] = [];
  const seek = (held: unknown): void => {
    if (typeof held !== "object" || held === null) return;
    for (const [key, value] of Object.entries(held)) {
      if (typeof value === "string" && /^(?:text|formula|refersTo)$/.test(key)) found.push(value);
      else seek(value);
    }
  };
  seek(plan.edits);
  return found.map((text) => text.replaceAll(/"[^"]*"/g, '""'));
}

/** Excel on the web may answer a whole column as an argument with #CALC! (office-js, issue 4613). */
describe("whole columns as arguments", () => {
  it("are advised against in the help of each function that takes a range, and of no other", () => {
    const takers = functions.filter(({ args }) => args.some(({ takes }) => takes !== undefined));
    const told = functions.filter((one) => helpPage(one).includes(RANGES));
    expect(told.map(({ id }) => id)).toEqual(takers.map(({ id }) => id));
    expect(takers.length).toBeGreaterThan(5);
    expect(RANGES).toMatch(/B2:B500.*B:B.*#CALC!/);
  });

  it("stand in no formula that we write, in any form of the columns", () => {
    const plans = [demoBook(DEMO_SEED, true).plan, ...Object.values(JOBS).map((job) => job(DEMO))];
    const formulas = plans.flatMap(formulasOf);
    expect(formulas.filter((text) => text.includes("SPARE")).length).toBeGreaterThanOrEqual(10);
    expect(formulas.filter((text) => WHOLE.test(text))).toEqual([]);
    expect(
      ["SUM(B:B)", "SPARE.USERATE($C:$C,1)", "Sites!3:3"].every((text) => WHOLE.test(text)),
    ).toBe(true);
    expect(["A1:B2", "$A$2:$A$9", "Parts[Part]"].some((text) => WHOLE.test(text))).toBe(false);
  });
});
