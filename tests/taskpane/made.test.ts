import { describe, expect, it } from "vitest";
import { placeMade } from "../../taskpane/pane/state/made.ts";
import { DEMO_SEED, demoBook } from "../../src/book/demo/workbook.ts";
import type { Plan } from "../../src/book/workbook/plan.ts";
import { newWorkbook, openWorkbook } from "../../src/xlsx/index.ts";
import { JOBS } from "./contract-jobs.ts";
import { HOSTS } from "./contract.ts";

const BYTES = newWorkbook(demoBook(DEMO_SEED, false).plan);
const BOOK = openWorkbook(BYTES).snapshot;

function planOf(job: string): Plan {
  const plan = JOBS[job];
  if (plan === undefined) throw new Error(`the contract has no job ${job}`);
  return plan(BOOK);
}

describe("what was made is shown", () => {
  it("is the first sheet of results, the first new column, and nothing for a line of the log", () => {
    expect(placeMade([planOf("the year ahead")])).toEqual({
      sheet: "Year ahead",
      row: 0,
      column: 0,
    });
    const made = placeMade([planOf("columns with formulas")]);
    expect(made?.sheet).toBe("Equipment");
    const { values } = BOOK.sheets.find(({ name }) => name === "Equipment") ?? { values: [] };
    expect(made?.column).toBe(values[made?.row ?? 0]?.length);
    expect(placeMade([planOf("a logged job")])).toBeNull();
  });

  for (const { name, begin } of HOSTS) {
    it.each(["the year ahead", "columns with formulas"])(`by ${name} after %s`, async (job) => {
      const trial = await begin(BYTES);
      // Neither a file nor paper has a screen.
      if (trial.select === undefined) return;
      const plan = planOf(job);
      const made = placeMade([plan]);
      if (made === null) throw new Error("nothing was made");
      await trial.apply(plan);
      await trial.select(made);
      expect(await trial.selected?.()).toEqual(made);
    });
  }
});
