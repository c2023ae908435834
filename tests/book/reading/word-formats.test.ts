import { describe, expect, it } from "vitest";
import { day } from "../../../src/core/day.ts";
import { readWorkbook } from "../../../src/book/reading/workbook.ts";
import { bookOf, on, sheetOf, told } from "../../scenes/scene.ts";

const TODAY = day("2026-07-06");
const MAY = on("2026-05-04");

/** Dates of a register in a number format. */
function read(format: string): string[] {
  const rows = [
    ["Device", "Electrode set replaced", "Ear cushion replaced"],
    ["A", MAY, MAY],
    ["B", MAY, MAY],
  ];
  const book = bookOf([sheetOf("Kit", rows)], { formats: ["General", format] });
  return told(readWorkbook(book, TODAY, { reportDate: TODAY })).filter((one) =>
    one.startsWith("words beside date"),
  );
}

describe("a number format that writes words beside a date", () => {
  it.each(['"planned "dd/mm/yyyy', 'dd/mm/yyyy" ?"', '"~"dd/mm/yyyy', '"due "dd/mm/yyyy'])(
    "takes it back: %s",
    (format) => {
      expect(read(format)).toHaveLength(4);
    },
  );
  it.each([
    "dd/mm/yyyy",
    'd" de "mmmm" de "yyyy',
    '"den "d. mmmm yyyy',
    "[$-407]d. mmm yyyy",
    'yyyy"-"mm"-"dd',
  ])("leaves it: %s", (format) => {
    expect(read(format)).toEqual([]);
  });
});
