import { describe, expect, it } from "vitest";
import { memoryLimits } from "../../src/cli/memory.ts";
import { openWorkbook } from "../../src/xlsx/index.ts";
import { workbook } from "../reference/workbooks/full-plan.ts";

describe("a workbook that would fill the memory", () => {
  it("is refused with what to do, before it is unpacked", () => {
    const bytes = workbook("bare.xlsx");
    expect(() => openWorkbook(bytes, { limits: memoryLimits(20_000) })).toThrow(
      "is too large to be opened safely: split it into smaller workbooks, or give Node more memory, such as NODE_OPTIONS=--max-old-space-size=8192.",
    );
    expect(openWorkbook(bytes, { limits: memoryLimits(1e9) }).snapshot.sheets).not.toEqual([]);
  });
});
