import { describe, expect, it } from "vitest";
import { isFootRow } from "../../../../src/book/reading/rows/foot-rows.ts";
import { on, readSheets, sheetOf, type Typed } from "../../../scenes/scene.ts";

const MAY = on("2026-05-04");

function devicesOf(below: readonly (readonly Typed[])[]): string[] {
  const rows: Typed[][] = [
    ["Device", "Site", "Electrode set replaced"],
    ["V-1", "Alder", MAY],
    ["V-2", "Birch", MAY],
    ...below.map((row) => [...row]),
  ];
  return readSheets([sheetOf("Kit", rows)]).devices.map(({ id }) => id);
}

/** What stands below lists that are printed (common practice, no source). */
describe("what is below the devices", () => {
  it.each([
    [[[], ["Signed", null, "Date"], ["J. M.", null, MAY]]],
    [[[], ["Unterschrift", null, null], ["K. L.", null, MAY]]],
    [[[], ["Checked by", "A. B.", MAY]]],
    [[[], ["Responsable:", "L. M."], ["Firma:"], ["Fecha:", null, MAY]]],
    [[[], ["Vu par", "N. P."], ["Cadre de santé", null, MAY]]],
    [[[], ["Nombre d'appareils", 2, null]]],
    [[["Pagina 2 di 3", null, null]]],
    [[["Page 1 of 2", null, null]]],
    [[["Totale pagina", 2, null]]],
  ] as [Typed[][]][])("is no device where it is a signature, a page or a page's total", (below) => {
    expect(devicesOf(below)).toEqual(["V-1", "V-2"]);
  });

  it("is one where it stands right below them, or says something else", () => {
    expect(devicesOf([["Signed", null, MAY]])).toContain("Signed");
    expect(devicesOf([[], ["Signal 3", "Alder", MAY]])).toContain("Signal 3");
    expect(devicesOf([[], ["Signed", null, null], [], ["V-3", "Alder", MAY]])).toContain("V-3");
  });

  it("is told", () => {
    const rows: Typed[][] = [["Device", "Electrode set replaced"], ["V-1", MAY], [], ["Signed"]];
    const { problems } = readSheets([sheetOf("Kit", rows)]);
    expect(problems.map(({ kind, cause }) => `${kind}: ${cause}`)).toEqual([
      "foot row: Row 4 holds a signature or a page number; it is left out.",
    ]);
    expect(isFootRow(sheetOf("Kit", rows), 3, 0)).toBe(true);
  });
});
