import { describe, expect, it } from "vitest";
import { stockBeside } from "../../../../src/book/reading/unread/stock-beside.ts";
import { readWorkbook } from "../../../../src/book/reading/workbook.ts";
import { doubtsSay } from "../../../../src/book/records/doubts.ts";
import { bookOf, on, REPORT_DATE, sheetOf, type Typed } from "../../../scenes/scene.ts";

const MAY = on("2026-05-04");
const KIT = sheetOf("Kit", [
  ["Device", "Electrode set replaced", "Ear cushions replaced"],
  ...["V-1", "V-2", "V-3"].map((id): Typed[] => [id, MAY, MAY]),
]);

/** What stands above every answer of a book with this sheet beside its register. */
function said(name: string, rows: readonly (readonly Typed[])[]): string {
  const book = bookOf([KIT, sheetOf(name, rows)]);
  return doubtsSay(readWorkbook(book, REPORT_DATE)).join(" ");
}

describe(stockBeside.name, () => {
  it.each([
    ["Stock", ["Item", "Pack size", "Packs in store"], ["Electrodes", 10, 3]],
    ["Stock", ["Part", "Elm", "Oak"], ["Ear cushions", 2, 3]],
    ["Lager", ["Artikel", "Bestand", "Gezählt am"], ["Elektroden", 5, MAY]],
    ["Orders", ["Ordered on", "Item", "Qty", "Expected"], [MAY, "Electrodes", 10, MAY]],
    ["Zapas", ["Część", "Ilość"], ["Elektrody", 4]],
  ] as [string, Typed[], Typed[]][])(
    "names a sheet of stock or orders: %s %j",
    (name, head, row) => {
      expect(said(name, [head, row])).toContain(`${name} seems to have stock or orders of`);
    },
  );
  it("names a sheet of prices, and where they belong", () => {
    const rows = [
      ["Item", "Price per pack"],
      ["Electrodes", 84.5],
    ];
    expect(said("Prices", rows)).toMatch(/seems to have prices of .* into Parts\.$/u);
  });
  it("names our own sheet of spares whose title is gone", () => {
    const head = ["Part", "Site", "On hand", "Counted on", "On order", "Expected on"];
    expect(said("Shelf", [head, ["SET", "Elm", 5, MAY]])).toContain("not its title");
  });
  it("says nothing of other lists", () => {
    expect(
      said("Phones", [
        ["Name", "Number"],
        ["Ward", 12],
      ]),
    ).toBe("");
    expect(said("How to", [["Electrodes are wiped after each baby."]])).toBe("");
  });
});
