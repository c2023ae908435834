import { describe, expect, it } from "vitest";
import type { Reading } from "../../../src/book/records/records.ts";
import { on, readSheets, sheetOf, type Typed } from "../../scenes/scene.ts";

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
    "has every device read, and its sites asked for: %s",
    (_, rows, merged) => {
      const reading = read(rows, merged);
      expect(full(reading)).toEqual(["A1", "B1"]);
      const [told] = reading.problems.filter(({ kind }) => kind === "site missing");
      expect(told?.cause).toContain('"North Hospital", "South Hospital" stand alone above rows');
      expect(told?.fix).toContain("Add a column Site");
    },
  );

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
