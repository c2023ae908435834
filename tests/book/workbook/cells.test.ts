import { describe, expect, it } from "vitest";
import { widest } from "../../../src/book/workbook/cells.ts";

describe("the longest row", () => {
  it("is found among more rows than one call takes arguments", () => {
    const rows = Array.from({ length: 300_000 }, (_, at) => (at === 299_000 ? [1, 2, 3] : [1]));
    expect(widest(rows)).toBe(3);
  });

  it("is none of no rows, and blank rows are no cells long", () => {
    expect(widest([])).toBe(0);
    expect(widest([undefined, ["a"]])).toBe(1);
  });
});
