import { describe, expect, it } from "vitest";
import { liveLoadSays } from "../../../src/book/columns/live-load.ts";
import { readWorkbook } from "../../../src/book/reading/workbook.ts";
import { REPORT_DATE } from "../../../src/book/demo/programme.ts";
import { randomBook } from "../../scenes/random-book.ts";
import { emptyPaper, onPaper } from "../../taskpane/paper.ts";

// Reports of many calls of add-ins that make Excel slow: office-js issues 901, 4654 and 6841.
describe("columns as worksheet functions", () => {
  const says = (devices: number): string | null =>
    liveLoadSays(
      readWorkbook(onPaper(emptyPaper(), randomBook(devices, 7, 1900)), REPORT_DATE, {
        reportDate: REPORT_DATE,
      }),
    );

  it("are advised against for many devices, and only then", () => {
    expect(says(60)).toBeNull();
    expect(says(450)).toMatch(
      /^Worksheet functions for \d{3} devices make Excel slow: .*native formulas/,
    );
  });
});
