import { describe, expect, it } from "vitest";
import { columnMeaning, sheetHolds } from "../../../src/book/sheets/columns-mean.ts";
import { OUR_SHEETS } from "../../../src/book/sheets/our-sheets.ts";

describe(columnMeaning.name, () => {
  it("says what goes into every column of our sheets", () => {
    const silent = OUR_SHEETS.flatMap(({ name, columns }) =>
      columns
        .filter(({ heading }) => columnMeaning(name, heading) === "")
        .map(({ heading }) => heading),
    );
    expect(silent).toEqual([]);
  });
  it("says what each of them holds", () => {
    expect(OUR_SHEETS.filter(({ name }) => sheetHolds(name) === "")).toEqual([]);
  });
  it("says nothing of another", () => {
    expect(columnMeaning("Parts", "Colour")).toBe("");
  });
});
