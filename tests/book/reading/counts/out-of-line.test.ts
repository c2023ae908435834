import { describe, expect, it } from "vitest";
import type { Reading } from "../../../../src/book/records/records.ts";
import { readSheets, sheetOf, told, type Typed } from "../../../scenes/scene.ts";

const REGISTER = sheetOf("Equipment", [
  ["Device", "Site", "Status"],
  ["VR-01", "S01", "In service"],
  ["VR-02", "S01", "In service"],
  ["VR-03", "S02", "In service"],
]);

const read = (rows: readonly (readonly Typed[])[]): Reading =>
  readSheets([REGISTER, sheetOf("Counts", rows)]);

describe("counts out of line with the device's own", () => {
  const typo = (cells: readonly (number | null)[]): string[] => {
    const months = cells.map((_, at) => `2025-${String(at + 1).padStart(2, "0")}`);
    const row = (id: string): Typed[] => [id, ...cells.map(() => 9)];
    const rows = [["Device", ...months], ["VR-01", ...cells], row("VR-02"), row("VR-03")];
    return told(read(rows));
  };

  it.each([
    [[4, 5, 4, 6, 40, 5], ["count out of line F2"]],
    [[4, 5, 4, 6, 14, 5], []],
    [[4, 5, 4, 40, 5], ["count out of line E2"]],
    [[0, 0, 0, 0, 30, 0], ["count out of line F2"]],
    [[98, 74, 116, 92, 70, 3, 88], ["count out of line G2"]],
    [[98, 74, 116, 92, 70, 36, 88], []],
    [
      [98, 74, 116, 92, 70, 9, 880],
      ["count out of line G2", "count out of line H2"],
    ],
    [[98, 74], []],
  ])("%j", (cells, problems) => {
    expect(typo(cells)).toEqual(problems);
  });

  it.each([
    [[40, 42, 39, 41, 43, 40, 38, 41, 42, 40, 39, 12], ["count out of line M2"]],
    [[90, 92, 88, 91, 39, 93, 90, 89, 92, 90, 91, 90], ["count out of line F2"]],
    // A quiet month, a few counts, small ones, and months without use.
    [[40, 42, 39, 41, 43, 40, 38, 41, 42, 40, 39, 22], []],
    [[40, 42, 39, 41, 43, 12], []],
    [[4, 5, 4, 4, 6, 5, 4, 4, 5, 4, 4, 1], []],
    [[40, 42, 39, 0, 43, 40, 38, 41, 42, 40, 39, 0], []],
    [[90, 60, 120, 75, 41, 93, 110, 89, 66, 90, 40, 104], []],
  ])("%j: less than half of all others within a year", (cells, problems) => {
    expect(typo(cells)).toEqual(problems);
  });

  it("are told with what the others are, and what to look for", () => {
    const months = ["2026-01", "2026-02", "2026-03", "2026-04"];
    const [low, high] = [3, 950].map((odd) =>
      read([
        ["Device", ...months],
        ["VR-01", 95, odd, 88, 102],
        ["VR-02", 1, 2, 3, 4],
        ["VR-03", 1, 2, 3, 4],
      ]),
    );
    expect(low?.problems[0]).toMatchObject({
      cause: "3 is far below the device's other counts, 88 to 102 a month.",
      fix: "Check for a digit lost; the count lengthens no interval.",
    });
    expect(high?.problems[0]).toMatchObject({
      cause: "950 is far above the device's other counts, 88 to 102 a month.",
      fix: "Check for a digit too many; until then the count shortens intervals.",
    });
    expect(low?.counts[1]).toMatchObject({ count: 3, outOfLine: "low" });
  });

  it("are not looked for in the month that has not ended", () => {
    const reading = read([
      ["Device", "2026-03", "2026-04", "2026-05", "2026-07"],
      ["VR-01", 95, 90, 88, 6],
      ["VR-02", 1, 2, 3, 1],
      ["VR-03", 1, 2, 3, 1],
    ]);
    expect(told(reading).filter((text) => text.startsWith("count out"))).toEqual([]);
  });
});
