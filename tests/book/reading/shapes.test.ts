import { describe, expect, it } from "vitest";
import type { Reading } from "../../../src/book/records/records.ts";
import { bareSite } from "../../../src/book/sheets/sites.ts";
import { on, oursOf, readSheets, sheetOf, type Typed } from "../../scenes/scene.ts";

/** Registers laid out in blocks, or turned, as people do who think of the printed page. */
const HEADINGS: Typed[] = ["Device", "Model", "Electrode set replaced", "Ear cushion replaced"];
const kit = (id: string): Typed[] => [id, "M1", on("2026-05-04"), on("2026-05-04")];
const across = (row: number) => ({ firstRow: row, lastRow: row, firstColumn: 0, lastColumn: 3 });

const read = (rows: Typed[][], merged: number[] = []): Reading =>
  readSheets([sheetOf("Equipment", rows, { merges: merged.map(across) })]);
const full = ({ devices }: Reading): string[] =>
  devices.filter(({ lastDone }) => lastDone[0]?.date !== null).map(({ id }) => id);

describe("a register in blocks", () => {
  const [north, south] = [["North Hospital"], ["South Hospital"]];
  it.each([
    ["merged titles below the headings", [HEADINGS, north, kit("A1"), south, kit("B1")], [1, 3]],
    ["titles that are not merged", [HEADINGS, north, kit("A1"), south, kit("B1")], []],
    [
      "the headings said again",
      [north, HEADINGS, kit("A1"), [], south, HEADINGS, kit("B1")],
      [0, 4],
    ],
    ["titles and blank rows", [HEADINGS, north, [], kit("A1"), [], south, kit("B1")], []],
  ] as [string, Typed[][], number[]][])(
    "has every device read, its titles taken for sites, and told: %s",
    (_, rows, merged) => {
      const reading = read(rows, merged);
      expect(reading.devices.map(({ id, site }) => `${id} ${site}`)).toEqual([
        "A1 North Hospital",
        "B1 South Hospital",
      ]);
      const [told, ...others] = reading.problems.filter(({ kind }) => kind.startsWith("site"));
      expect(others).toEqual([]);
      expect(told?.cause).toContain('"North Hospital" (row ');
      expect(told?.cause).toContain('1 device) and "South Hospital" (row ');
      expect(reading.registers[0]?.rows).toHaveLength(2);
    },
  );

  const titled = (...titles: string[]): Typed[][] => [
    HEADINGS,
    ...titles.flatMap((title, at): Typed[][] => [[title], kit(`A${at}`), kit(`B${at}`)]),
  ];
  it.each([
    ["years", titled("2024", "2025")],
    ["states", titled("In use", "Retired devices")],
    ["notes", titled("Please return these by Friday.", "North Hospital")],
    ["devices that have nothing but a name", titled("C7", "C8")],
    ["a title twice", titled("North Hospital", "North Hospital")],
    ["devices above the first", [HEADINGS, kit("Z1"), ...titled("North", "South").slice(1)]],
    ["a title of the sheet", [["Our kit"], HEADINGS, kit("Z1"), [], ["South"], kit("S1")]],
    ["ids without digits", [HEADINGS, ["Robin"], kit("Wren"), ["Finch"], kit("Tern")]],
  ] as [string, Typed[][]][])("takes no site from %s, and asks", (_, rows) => {
    const reading = read(rows);
    expect(new Set(reading.devices.map(({ site }) => site))).toEqual(new Set([""]));
    expect(reading.problems.map(({ kind }) => kind)).toContain("site missing");
    expect(reading.problems.map(({ kind }) => kind)).not.toContain("site titles");
  });

  it("takes titles that the Sites sheet knows, and none beside one it does not", () => {
    const sites = ["Ward 3", "Ward 4"].map(bareSite);
    const sitesOf = (...titles: string[]): string[] =>
      readSheets([sheetOf("Equipment", titled(...titles))], oursOf({}, { sites })).devices.map(
        ({ site }) => site,
      );
    expect(sitesOf("Ward 3", "Site: ward 4")).toEqual(["Ward 3", "Ward 3", "ward 4", "ward 4"]);
    expect(new Set(sitesOf("Ward 3", "Ward 5"))).toEqual(new Set([""]));
  });

  it("with blank rows alone is one register, and nothing is asked", () => {
    const reading = read([HEADINGS, kit("A1"), [], kit("B1"), [], [], kit("C1")]);
    expect(full(reading)).toEqual(["A1", "B1", "C1"]);
    expect(reading.problems).toEqual([]);
  });

  it("under one title is no register in blocks", () => {
    const reading = read([["Equipment of the region"], HEADINGS, kit("A1"), kit("B1")], [0]);
    expect(reading.problems).toEqual([]);
  });
});

describe("a turned sheet", () => {
  const dates = [on("2026-05-04"), on("2026-05-04"), on("2026-05-04")];
  it.each([
    [
      [
        ["Device", "A1", "A2", "A3"],
        ["Site", "N", "N", "S"],
        ["Electrode set replaced", ...dates],
        ["Ear cushion replaced", ...dates],
      ],
    ],
    [
      [
        ["", "A1", "A2", "A3"],
        ["Model", "x", "x", "x"],
        ["Site", "N", "N", "S"],
        ["Electrode set replaced", ...dates],
        ["Ear cushion replaced", ...dates],
      ],
    ],
    [
      [
        ["Our kit"],
        [],
        ["Gerät", "A1", "A2", "A3"],
        ["Standort", "N", "N", "S"],
        ["Elektrodensatz ersetzt am", ...dates],
      ],
    ],
  ] as Typed[][][][])("is told, with what to do (%#)", (rows) => {
    expect(() => read(rows)).toThrow(
      /has its headings below each other in column A and a column for each device: copy it, paste it on a new sheet with Transpose/,
    );
  });
  it("is not what a list without known headings is taken for", () => {
    expect(() =>
      read([
        ["a", "b"],
        ["c", "d"],
        ["e", "f"],
      ]),
    ).toThrow(/no equipment register found/);
    expect(() =>
      read([
        ["a", "b"],
        ["c", "d"],
        ["e", "f"],
      ]),
    ).not.toThrow(/Transpose/);
  });
});
