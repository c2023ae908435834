import { describe, expect, it } from "vitest";
import { readBook } from "../../../src/book/reading/read.ts";
import type { Problem } from "../../../src/book/records/records.ts";
import { cellKey } from "../../../src/book/workbook/snapshot.ts";
import { bookOf, on, oursOf, sheetOf, type Typed } from "../../scenes/scene.ts";

const MAY = on("2026-05-04");
const HEADINGS = ["Device", "Site", "Electrodes replaced", "Ear cushions replaced"];

describe("dates that are links", () => {
  function linked(formula: string): Problem | undefined {
    const rows: Typed[][] = [HEADINGS, ["H-1", "Alder", MAY, MAY], ["H-2", "Birch", MAY, MAY]];
    const formulas = new Map([[cellKey(1, 2), formula]]);
    const reading = readBook(bookOf([sheetOf("Kit", rows, { formulas })]), oursOf());
    return reading.problems.find(({ kind }) => kind === "linked date");
  }
  it.each([
    ["'[other book.xlsx]Sheet1'!C2", /^C2 is taken from another file/],
    ["[1]Sheet1!$C$2", /^C2 is taken from another file/],
    ["IF('[log 2026.xlsx]A'!B4=\"\",C9,'[log 2026.xlsx]A'!B4)", /^C2 is taken from another file/],
    ["C3", /^C2 takes the date of another row/],
    ["$D$3", /^C2 takes the date of another row/],
  ])("to what is not of their row are told: %s", (formula, cause) => {
    expect(linked(formula)).toMatchObject({ severity: "notice", column: 2, row: null });
    expect(linked(formula)?.cause).toMatch(cause);
  });
  it.each(["D2", "MAX(Log!C2:C9)", "Table1[[#This Row],[Day]]", "DATE(2026,5,4)"])(
    "are none within their row or to a sheet of the book: %s",
    (formula) => {
      expect(linked(formula)).toBeUndefined();
    },
  );
});

describe("a column that says since when devices are out of service", () => {
  it.each([
    ...[
      "Out of service since",
      "Außer Betrieb seit",
      "Hors service depuis",
      "Fuera de servicio desde",
    ],
    ...["Fuori servizio dal", "Fora de serviço desde", "Buiten gebruik sinds", "Wyłączony od"],
  ])("takes none out, and is told: %s", (heading) => {
    const book = (own: string) =>
      bookOf([
        sheetOf("Kit", [
          [...HEADINGS, own],
          ["H-1", "Alder", MAY, MAY, null],
          ["H-2", "Birch", MAY, MAY, MAY],
        ]),
      ]);
    const { devices, problems } = readBook(book(heading), oursOf());
    expect(devices.map(({ retired }) => retired)).toEqual([false, false]);
    expect(problems.find(({ column }) => column === 4)).toMatchObject({
      kind: "unclear column",
      fix: `If they are gone for good, give --match "retiredOn=${heading}", or Column retiredOn in Setup.`,
    });
    const gone = readBook(book("Retired on"), oursOf());
    expect(gone.devices.map(({ retired }) => retired)).toEqual([false, true]);
    expect(gone.problems).toEqual([]);
  });
});

describe("a date in three columns", () => {
  function split(cells: readonly (readonly Typed[])[]): Problem[] {
    const rows = cells.map((own, at): Typed[] => [`H-${at + 1}`, "Alder", ...own]);
    const headings = ["Equipo", "Centro", "Electrodos: día", "mes", "año"];
    const reading = readBook(bookOf([sheetOf("Equipos", [headings, ...rows])]), oursOf());
    return reading.problems.filter(({ kind }) => kind === "unclear column");
  }
  it.each([
    [
      "day, month and year",
      [
        [9, 3, 2026],
        [18, 5, 2026],
      ],
      "=DATE(E2,D2,C2)",
    ],
    [
      "year, month and day",
      [
        [2026, 3, 9],
        [2026, 5, 18],
      ],
      "=DATE(C2,D2,E2)",
    ],
    [
      "month, day and year",
      [
        [3, 19, 2026],
        [5, 18, 2026],
      ],
      "=DATE(E2,C2,D2)",
    ],
  ] as [string, Typed[][], string][])(
    "is told with a way to make one: %s",
    (order, cells, formula) => {
      const [told, ...more] = split(cells);
      expect(more).toEqual([]);
      expect(told).toMatchObject({ severity: "fault", column: 2 });
      expect(told?.cause).toContain(order);
      expect(told?.fix).toContain(formula);
    },
  );
  it.each([
    ["true dates", [[MAY, 3, 2026]]],
    ["other numbers", [[9, 40, 2026]]],
    ["texts", [[9, "mar", 2026]]],
  ] as [string, Typed[][]][])("is none: %s", (_, cells) => {
    expect(split(cells)).toEqual([]);
  });
});
