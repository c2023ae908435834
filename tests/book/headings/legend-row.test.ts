import { describe, expect, it } from "vitest";
import { isLegend } from "../../../src/book/headings/legend-row.ts";
import { bookOf, on, oursOf, sheetOf, type Typed } from "../../scenes/scene.ts";
import { readBook } from "../../../src/book/reading/read.ts";

const HEADS = ["Device", "Site", "Electrodes replaced", "Ear cushions replaced"];
const MAY = on("2026-05-04");

/** How printed forms say what belongs in a column: common practice, no source. */
describe("rows under the headings that say how to fill them", () => {
  it.each([
    [null, null, "dd/mm/yyyy", "dd/mm/yyyy"],
    [null, null, "TT.MM.JJJJ", "TT.MM.JJJJ"],
    [null, null, "(jj/mm/aaaa)", "(jj/mm/aaaa)"],
    [null, null, "rrrr-mm-dd", "rrrr-mm-dd"],
    [null, null, "gg/mm/aa", null],
    [null, null, "every 3 months", "2-monthly"],
    [null, null, "alle 3 Monate", "tous les 6 mois"],
    [1, 2, 3, 4],
    ["(text)", "(ward)", "(dd/mm/yyyy)", "(dd/mm/yyyy)"],
    ["a", "b", "c", "d"],
    ["A", "B", "C", "D"],
  ])("are part of the headings: %j %j %j %j", (...legend) => {
    const rows: Typed[][] = ["A1", "A2"].map((id) => [id, "Alder", MAY, MAY]);
    const book = bookOf([sheetOf("Kit", [HEADS, legend, ...rows])]);
    const { devices, registers, problems } = readBook(book, oursOf());
    expect(devices.map(({ id }) => id)).toEqual(["A1", "A2"]);
    expect(registers[0]?.matches.map(({ field }) => field)).toEqual([
      ...["device", "site", "last:SET", "last:CUSHION"],
    ]);
    expect(problems.map(({ kind }) => kind)).toContain("two-row heading");
  });

  it.each([
    ["A1", "Alder", "dd/mm/yyyy", null],
    ["1", "2", null, null],
    [1, "Alder", 3, 4],
    [null, null, "see notes", null],
    [null, null, null, null],
  ])("are no devices, blank rows or remarks: %j %j %j %j", (...cells) => {
    expect(isLegend(HEADS, cells)).toBe(false);
  });
});
