import { describe, expect, it } from "vitest";
import { isGroupRow, isTitleAgain } from "../../../../src/book/reading/rows/group-rows.ts";
import { on, readSheets, sheetOf, type Typed } from "../../../scenes/scene.ts";

const MAY = on("2026-05-04");
const HEAD: Typed[] = ["Device", "Site", "Electrode set replaced"];

/** The devices of two sites, with a row behind each site's and one behind all. */
function devicesOf(oak: readonly Typed[], below: readonly Typed[] = []): string[] {
  const rows: Typed[][] = [
    HEAD,
    ["V-1", "Oak", MAY],
    ["V-2", "Oak", MAY],
    [...oak],
    ["V-3", "Haus Elm", MAY],
    [...below],
  ];
  return readSheets([sheetOf("Kit", rows)]).devices.map(({ id }) => id);
}

/** What spreadsheets and people write behind the devices of a site (common practice, no source). */
describe(isGroupRow.name, () => {
  it.each([
    ...[
      "Oak Count",
      "Count: 2",
      "Oak: 2 devices",
      "Grand Count",
      "Total Oak",
      "Oak (2)",
      "▼ Oak (2)",
    ],
    ...["Summe Haus Oak", "Oak Ergebnis", "Anzahl Oak", "Gesamtanzahl", "Sous-total Oak"],
    ...["Suma de Oak", "Cuenta Oak", "Totale Oak", "Conteggio di Oak", "Contagem de Oak"],
    ...["Totaal Oak", "Aantal Oak", "Razem Oak", "Suma Oak", "Suma częściowa Oak"],
  ])("leaves a row out that sums up a site: %s", (label) => {
    expect(devicesOf([label])).toEqual(["V-1", "V-2", "V-3"]);
  });
  it("leaves them out with the number beside them, and of names of several words", () => {
    expect(devicesOf(["Oak Count", 2], ["Grand Count", 3])).toEqual(["V-1", "V-2", "V-3"]);
    expect(devicesOf(["Oak Count", 2], ["Summe Haus Elm", 1])).toEqual(["V-1", "V-2", "V-3"]);
  });
  it.each([
    [["Oak 1", null, null]],
    [["Oak (3)", null, null]],
    [["Oak Count", "Oak", MAY]],
    [["Count Basie", null, null]],
    [["Total-5", null, null]],
    [["Oak Count", null, MAY]],
    [["Oak", null, null]],
  ] as [Typed[]][])("keeps what may be a device: %j", (row) => {
    expect(devicesOf(row)).toContain(row[0]);
  });
});

describe(isTitleAgain.name, () => {
  const paged = (title: string): string[] => {
    const rows: Typed[][] = [
      ["Equipment list"],
      HEAD,
      ["V-1", "Oak", MAY],
      [title],
      HEAD,
      ["V-2", "Oak", MAY],
    ];
    return readSheets([sheetOf("Kit", rows)]).devices.map(({ id }) => id);
  };
  it("leaves the title of a printed page out, and nothing else", () => {
    expect(paged("Equipment list")).toEqual(["V-1", "V-2"]);
    expect(paged("Screener 3")).toContain("Screener 3");
  });
});
