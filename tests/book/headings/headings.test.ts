import { describe, expect, it } from "vitest";
import { headingsAt } from "../../../src/book/headings/headings.ts";
import { on, readSheets, sheetOf, type Typed } from "../../scenes/scene.ts";

/** "C1:D1" as an area of row 1 from column 2 to 3. */
const across = (row: number, firstColumn: number, lastColumn: number) => ({
  firstRow: row,
  lastRow: row,
  firstColumn,
  lastColumn,
});
const PAIRS = (row: number) => [across(row, 2, 3), across(row, 4, 5)];
const PLANNED = on("2026-05-20");
const DONE = on("2026-04-02");

function columns(heads: readonly Typed[][], merges: ReturnType<typeof across>[], row: Typed[]) {
  const sheet = sheetOf("Kit", [...heads, ["V-1", "Alder", ...row]], { merges });
  const { registers, problems } = readSheets([sheet]);
  const matches = registers[0]?.matches ?? [];
  const at = Object.fromEntries(matches.map(({ field, column }) => [field, column]));
  return { at, cause: problems.find(({ kind }) => kind === "two-row heading")?.cause };
}

const PARTS: Typed[] = [null, null, "Electrodes", null, "Cushions", null];
const twice = (one: string, two: string): Typed[] => [null, null, one, two, one, two];
const DATES: Typed[] = [PLANNED, DONE, PLANNED, DONE];
const NAMES: Typed[] = ["LS", DONE, "LS", DONE];

describe("headings in three rows, merged over each other", () => {
  const groups = (text: string): Typed[] => ["Device", "Site", text, null, null, null];
  const overAll = [across(0, 2, 5), ...PAIRS(1)];

  it("are read as one, to the column that was done", () => {
    const heads = [groups("Replacements"), PARTS, twice("Planned", "Done")];
    const { at, cause } = columns(heads, overAll, DATES);
    expect(at).toMatchObject({ device: 0, site: 1, "last:SET": 3, "last:CUSHION": 5 });
    expect(cause).toBe("The headings are in rows 1 to 3; they are read as one.");
  });

  it.each([
    ["Last change", "By", "Date"],
    ["Replacement", "Planned", "Done"],
  ])("with the parts on top: %s, %s, %s", (middle, one, two) => {
    const parts = ["Device", "Site", ...PARTS.slice(2)];
    const below = [null, null, middle, null, middle, null];
    const row = one === "By" ? NAMES : DATES;
    const { at } = columns([parts, below, twice(one, two)], [...PAIRS(0), ...PAIRS(1)], row);
    expect(at).toMatchObject({ device: 0, "last:SET": 3, "last:CUSHION": 5 });
  });

  it("are two where the row on top is one title", () => {
    const title: Typed[] = ["Equipment", null, null, null, null, null];
    const heads = [title, ["Device", "Site", ...PARTS.slice(2)], twice("Planned", "Done")];
    const sheet = sheetOf("Kit", heads, { merges: [across(0, 0, 5), ...PAIRS(1)] });
    expect(headingsAt(sheet, 2).map(({ first }) => first)).toEqual([2, 1]);
  });
});

describe("a merged heading that the row below divides", () => {
  it.each([
    ["Planned", "Done", DATES],
    ["By", "Date", NAMES],
  ] as [string, string, Typed[]][])("is read with it, not alone: %s, %s", (one, two, row) => {
    const heads = [
      ["Device", "Site", "Electrodes replaced", null, "Cushions replaced", null],
      twice(one, two),
    ];
    expect(columns(heads, PAIRS(0), row).at).toMatchObject({ "last:SET": 3, "last:CUSHION": 5 });
  });

  it("is no such one above a row of a device", () => {
    const heads = [["Device", "Site", "Electrodes replaced", null, "Cushions replaced", null]];
    const { at } = columns(heads, PAIRS(0), [DONE, "new", DONE, "new"]);
    expect(at).toMatchObject({ "last:SET": 2, "last:CUSHION": 4 });
  });
});
