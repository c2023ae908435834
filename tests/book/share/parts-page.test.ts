import { describe, expect, it } from "vitest";
import { partsPage } from "../../../src/book/share/parts-page.ts";
import { partRows, PARTS } from "../../../src/book/sheets/parts.ts";
import type { Part } from "../../../src/book/records/records.ts";
import { NODE_CODEC } from "../../../src/cli/files.ts";
import { newWorkbook, openWorkbook } from "../../../src/xlsx/index.ts";
import { JULY, partsWith } from "../../scenes/programme.ts";
import { bookOf } from "../../scenes/scene.ts";

/** The page of these parts as it is read back from a file. */
function pageOf(parts: readonly Part[]): readonly (readonly unknown[])[] {
  const edits = partsPage(parts, JULY, bookOf([]));
  const bytes = newWorkbook({ summary: "", edits }, { codec: NODE_CODEC });
  return openWorkbook(bytes, { codec: NODE_CODEC }).snapshot.sheets[0]?.values ?? [];
}

const under = (page: ReturnType<typeof pageOf>, setting: string): unknown[] =>
  page.filter(([first]) => first === setting).flatMap((row) => row.slice(1));

describe("the parts turned on their side", () => {
  it("stand a part a column, with every setting that one of them has", () => {
    const parts = partsWith({ quote: "Q-1" });
    const page = pageOf(parts);
    expect(under(page, "Setting")).toEqual(parts.map(({ name }) => name));
    partRows(parts).forEach((values, of) => {
      values.forEach((value, at) => {
        const heading = PARTS.columns[at]?.heading ?? "";
        if (heading === "Name" || value === null) return;
        expect([heading, under(page, heading)[of]]).toEqual([heading, value]);
      });
    });
    expect(under(page, "GTIN")).toEqual([]);
  });
  it("go on below where there are more than five", () => {
    const [set] = partsWith();
    const parts = "ABCDEFG"
      .split("")
      .flatMap((code) => (set ? [{ ...set, code, name: code }] : []));
    const page = pageOf(parts);
    expect(page.filter(([first]) => first === "Setting")).toHaveLength(2);
    expect(under(page, "Code").filter((value) => value !== null && value !== undefined)).toEqual([
      ...parts.map(({ code }) => code),
    ]);
  });
  it("say where a careful value stands for one that is in doubt", () => {
    const [set] = partsWith();
    if (set === undefined) throw new Error("no set");
    const page = pageOf([
      { ...set, doubts: ["longest", "useBudget"], longest: 3, useBudget: null },
    ]);
    expect(under(page, "Longest (months)")).toEqual(["3 (in doubt)"]);
    expect(under(page, "Use budget (uses)")).toEqual(["in doubt"]);
  });
});
