import { describe, expect, it } from "vitest";
import { matcherFor } from "../../../src/book/headings/match.ts";
import { isPlace, leftOf, upright } from "../../../src/book/headings/upright.ts";
import { pagesOf, textOf } from "../../../src/book/workbook/cells.ts";
import { bookOf, on, oursOf, sheetOf, type Typed } from "../../scenes/scene.ts";

const { parts } = oursOf();

/** The texts of the rows that are made of the sheets; "#" for a day. */
function rowsOf(...sheets: readonly (readonly (readonly Typed[])[])[]): string[][] | null {
  const named = sheets.map((rows, at) => sheetOf(`Sheet ${at + 1}`, rows));
  const found = upright(pagesOf(bookOf(named)), matcherFor(parts));
  if (found === null) return null;
  return found.rows.map((row) =>
    row.map((from) => {
      if (!isPlace(from)) return from ?? "";
      const value = from.page.sheet.values[from.row]?.[from.column] ?? null;
      return typeof value === "number" ? "#" : textOf(value);
    }),
  );
}

const GRID: readonly (readonly Typed[])[] = [
  ["Device", "D-1", "D-2"],
  ["Site", "Oak", "Elm"],
  ["Electrodes replaced", on("2026-05-04"), on("2026-05-05")],
  ["Ear cushions replaced", on("2026-02-04"), null],
];

describe("rows of devices", () => {
  it("are made of columns", () => {
    expect(rowsOf(GRID)).toEqual([
      ["Device", "Site", "Electrodes replaced", "Ear cushions replaced"],
      ["D-1", "Oak", "#", "#"],
      ["D-2", "Elm", "#", ""],
    ]);
  });

  it("have the names above the columns where no word says what they are", () => {
    const bare = [["Our devices"], ["", "D-1", "D-2"], ...GRID.slice(1)];
    expect(rowsOf(bare)?.map((row) => row[0])).toEqual(["Device", "D-1", "D-2"]);
  });

  it("are made of cards, each with the name of its sheet where it has none of its own", () => {
    const card = (site: string): readonly (readonly Typed[])[] => [
      ["Card"],
      ["Site", site],
      ["Electrodes replaced", on("2026-05-04")],
      ["Ear cushions replaced", null],
    ];
    expect(rowsOf(card("Oak"), card("Elm"))).toEqual([
      ["Device", "Site", "Electrodes replaced", "Ear cushions replaced"],
      ["Sheet 1", "Oak", "#", ""],
      ["Sheet 2", "Elm", "#", ""],
    ]);
  });

  it("are none where devices have rows", () => {
    const upright = GRID[0]?.map((_, at) => GRID.map((row) => row[at] ?? null)) ?? [];
    expect(rowsOf(upright)).toBeNull();
  });

  it("leave what stands elsewhere", () => {
    const [page] = pagesOf(bookOf([sheetOf("Grid", [["List"], ...GRID, [], ["See the binder"]])]));
    if (page === undefined) throw new Error("no page");
    const found = upright([page], matcherFor(parts));
    if (found === null) throw new Error("no rows");
    const left = leftOf(page, found)
      .sheet.values.flat()
      .filter((value) => value !== null);
    expect(left).toEqual(["List", "See the binder"]);
  });
});
