import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { compared, type Used, usedMembers } from "./platform.ts";

const manifest = readFileSync("manifest.xml", "utf8");

/** What the manifest asks for, by set. */
const asked = new Map(
  [...manifest.matchAll(/<Set Name="(\w+)" MinVersion="([\d.]+)"/g)].map(
    ([, set = "", version = ""]) => [set, version],
  ),
);

/** The highest version of each set that is used without asking. */
function needed(members: readonly Used[]): Map<string, string> {
  const highest = new Map<string, string>();
  for (const { set, version, guarded } of members) {
    const known = highest.get(set) ?? "0.0";
    if (set !== "" && !guarded && compared(version, known) > 0) highest.set(set, version);
  }
  return highest;
}

/** Members above what the manifest asks for that nothing guards. */
function unguarded(members: readonly Used[]): string[] {
  return members
    .filter(({ set, version, guarded }) => {
      return set !== "" && !guarded && compared(version, asked.get(set) ?? "0.0") > 0;
    })
    .map(({ name, set, version }) => `${name} needs ${set} ${version}`);
}

// The sets: the typings of DefinitelyTyped (@types/office-js, @types/custom-functions-runtime), member by member.
describe("what the pane uses of Excel and Office", () => {
  const members = usedMembers();

  it("needs exactly the requirement sets that the manifest asks for", () => {
    const names = new Set(members.map(({ name }) => name));
    const highest = [...needed(members)].map((one) => one.join(" ")).sort();
    process.stdout.write(`${names.size} members of the platform, at most ${highest.join(", ")}\n`);
    expect(names.size).toBeGreaterThan(150);
    expect(highest).toEqual([...asked].map((one) => one.join(" ")).sort());
    expect(unguarded(members)).toEqual([]);
  });

  it("asks before it uses what came later", () => {
    const later = members.filter(({ set, version }) => {
      return set !== "" && compared(version, asked.get(set) ?? "0.0") > 0;
    });
    expect(later.map(({ name }) => name)).toContain("Excel.RunOptions.mergeUndoGroup");
    expect(later.every(({ guarded }) => guarded)).toBe(true);
  });

  it("would not pass with a later member that is not asked for, however it is reached", () => {
    const found = usedMembers(`
      const supports = { json: Office.context.requirements.isSetSupported("ExcelApi", "1.16") };
      export function planted(range: Excel.Range): unknown {
        range.load("valuesAsJson");
        const { valuesAsJson } = range;
        if (supports.json) return range.valuesAsJsonLocal;
        return [valuesAsJson, range.valuesAsJson, supports.json ? range.numberFormatCategories : 0];
      }
      export function tooLow(range: Excel.Range): unknown {
        const isSupported = Office.context.requirements.isSetSupported("ExcelApi", "1.12");
        return isSupported ? range.valuesAsJson : range.getPrecedents();
      }`);
    const planted = found.filter(({ at }) => at.startsWith("taskpane/excel/planted.ts"));
    expect(unguarded(planted)).toEqual([
      "Excel.Range.valuesAsJson needs ExcelApi 1.16",
      "Excel.Range.valuesAsJson needs ExcelApi 1.16",
      "Excel.Range.valuesAsJson needs ExcelApi 1.16",
      "Excel.Range.valuesAsJson needs ExcelApi 1.16",
      "Excel.Range.getPrecedents needs ExcelApi 1.14",
    ]);
  });
});
