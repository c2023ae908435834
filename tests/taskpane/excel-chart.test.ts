import { describe, expect, it } from "vitest";
import { REPORT_DATE } from "../../src/book/demo/programme.ts";
import type { Plan } from "../../src/book/workbook/plan.ts";
import { resultPlan } from "../../src/book/sheets/result-plan.ts";
import { yearSheet } from "../../src/book/year/year-ahead.ts";
import type { Snapshot } from "../../src/book/workbook/snapshot.ts";
import { readWorkbook } from "../../src/book/reading/workbook.ts";
import { NO_WHAT_IF } from "../../src/book/year/what-if.ts";
import { yearAhead } from "../../src/book/year/year.ts";
import { DEMO, deskOf } from "./desk.ts";

function aheadOf(book: Snapshot, months: number): Plan {
  const reading = readWorkbook(book, REPORT_DATE, { reportDate: REPORT_DATE });
  const year = yearAhead(book, reading, { months, level: 0.9, whatIf: NO_WHAT_IF });
  return resultPlan(book, reading, {
    results: [yearSheet(year)],
    summary: "year ahead",
    today: REPORT_DATE,
  });
}

/** How many rows the first series of the charts has. */
function rowsIn(charts: readonly unknown[][]): number {
  const [, first, last] = /(\d+):\$?[A-Z]+\$?(\d+)/.exec(JSON.stringify(charts)) ?? [];
  return Number(last) - Number(first) + 1;
}

describe("a chart of ours in Excel, its sheet being written anew", () => {
  it("is drawn where it stands: no chart and no series more, its rows those of the longer table", async () => {
    const { host, model } = deskOf(DEMO);
    await host.apply(aheadOf(await host.snapshot(), 12));
    const drawn = (): unknown[][] =>
      (model.sheets.find(({ name }) => name === "Year ahead")?.charts ?? []).map(({ series }) =>
        series.map(({ kept }) => kept.get("values")),
      );
    const before = drawn();
    await host.apply(aheadOf(await host.snapshot(), 24));
    const after = drawn();
    expect(before.length).toBeGreaterThan(1);
    expect(after.map((series) => series.length)).toEqual(before.map((series) => series.length));
    // Twelve months back, and those ahead with one calendar month more than whole months.
    expect(rowsIn(before)).toBe(25);
    expect(rowsIn(after)).toBe(37);
  });
});
