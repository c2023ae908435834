import { expect, it } from "vitest";
import { demoBook, DEMO_SEED } from "../../../src/book/demo/workbook.ts";
import { readWorkbook } from "../../../src/book/reading/workbook.ts";
import { yearSheet } from "../../../src/book/year/year-ahead.ts";
import { NO_WHAT_IF } from "../../../src/book/year/what-if.ts";
import { yearAhead } from "../../../src/book/year/year.ts";
import { day } from "../../../src/core/day.ts";
import { emptyPaper, onPaper } from "../../taskpane/paper.ts";

it("charts of a dated task speak of no replacements", () => {
  const snapshot = onPaper(emptyPaper(), demoBook(DEMO_SEED, false).plan);
  const reading = readWorkbook(snapshot, day("2026-07-06"));
  const year = yearAhead(snapshot, reading, { months: 12, level: 0.9, whatIf: NO_WHAT_IF });
  const place = { sheet: "Year ahead", headingRow: 4, chartsFrom: null };
  const titles =
    yearSheet(year)
      .charts?.(place)
      .map(({ title }) => title) ?? [];
  expect(titles).toContain("Electrode set: replacements a month");
  expect(titles.filter((title) => title.startsWith("Calibration"))).toEqual([
    "Calibration: times done a month",
  ]);
});
