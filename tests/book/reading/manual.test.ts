import { describe, expect, it } from "vitest";
import { REPORT_DATE } from "../../../src/book/demo/programme.ts";
import { DEMO_SEED, demoBook } from "../../../src/book/demo/workbook.ts";
import { doubtsSay, doubtTexts } from "../../../src/book/records/doubts.ts";
import { readWorkbook } from "../../../src/book/reading/workbook.ts";
import { newWorkbook, openWorkbook } from "../../../src/xlsx/index.ts";
import { randomBook } from "../../scenes/random-book.ts";
import { manualBook } from "../../scenes/stranger-parts.ts";

const bytes = newWorkbook(demoBook(DEMO_SEED, false).plan);
const SAYS =
  "This workbook calculates its formulas only when asked, so what they show may be old. " +
  "Calculate it (F9), or set it to calculate by itself; then read it again.";

// The attribute: ECMA-376-1, 18.2.2 (calcPr), calcMode; its values: 18.18.4, ST_CalcMode.
describe("a workbook that is calculated only when somebody asks", () => {
  it("is told before every figure, for its formulas may show old values", () => {
    const { snapshot } = openWorkbook(manualBook(bytes));
    expect(snapshot.calculation).toBe("manual");
    const reading = readWorkbook(snapshot, REPORT_DATE);
    expect(doubtsSay(reading)).toContain(SAYS);
    expect(doubtTexts(reading).join()).toContain("manual calculation");
  });

  it("is not told where it calculates by itself, nor where there is no formula", () => {
    const tell = (book: Uint8Array): string[] =>
      doubtsSay(readWorkbook(openWorkbook(book).snapshot, REPORT_DATE));
    expect(tell(bytes)).not.toContain(SAYS);
    const plain = manualBook(newWorkbook(randomBook(3, 1, 1900)));
    expect(openWorkbook(plain).snapshot.sheets.some(({ formulas }) => formulas.size > 0)).toBe(
      false,
    );
    expect(tell(plain)).not.toContain(SAYS);
  });
});
