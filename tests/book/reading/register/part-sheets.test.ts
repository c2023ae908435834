import { describe, expect, it } from "vitest";
import { undatedParts } from "../../../../src/book/reading/unread/missing-columns.ts";
import { beginWorkbook } from "../../../../src/book/reading/begin-workbook.ts";
import { partSheets } from "../../../../src/book/reading/register/part-sheets.ts";
import { EVERYTHING, readWorkbook } from "../../../../src/book/reading/workbook.ts";
import { finished } from "../../../../src/book/workbook/steps.ts";
import { bookOf, on, REPORT_DATE, sheetOf, type Typed } from "../../../scenes/scene.ts";

const sheet = (name: string, heading: string, ids: readonly string[] = ["A1", "A2", "A3"]) =>
  sheetOf(name, [
    ["Device", "Site", heading],
    ...ids.map((id): Typed[] => [id, "North", on("2026-05-04")]),
  ]);
function sheetsOf(...sheets: readonly ReturnType<typeof sheetOf>[]): string[] {
  const begun = finished(beginWorkbook(bookOf(sheets), REPORT_DATE, {}, EVERYTHING));
  return partSheets(begun.search, begun.reading.ours.parts);
}

describe("a sheet for each part", () => {
  it.each([
    [["Electrodes", "Ear cushions"], "Date"],
    [["Elektroden", "Ohrpolster"], "Datum"],
    [["Électrodes", "Coussinets"], "Date"],
    [["Electrodos", "Almohadillas"], "Fecha"],
    [["Electrodes", "Calibration"], "Last changed"],
  ])("is found by its name: %j", (names, heading) => {
    expect(sheetsOf(...names.map((name) => sheet(name, heading)))).toEqual(names);
  });

  it("is found by its heading", () => {
    const sheets = [sheet("One", "Electrodes replaced"), sheet("Two", "Ear cushions replaced")];
    expect(sheetsOf(...sheets)).toEqual(["One", "Two"]);
  });

  it("is none where one sheet has all, or the devices are others", () => {
    expect(sheetsOf(sheet("One", "Electrodes replaced"))).toEqual([]);
    const copy = [sheet("One", "Electrodes replaced"), sheet("Two", "Electrodes replaced")];
    expect(sheetsOf(...copy)).toEqual([]);
    const site = [
      sheet("North", "Electrodes replaced"),
      sheet("South", "Ear cushions replaced", ["B1", "B2", "B3"]),
    ];
    expect(sheetsOf(...site)).toEqual([]);
    expect(sheetsOf(sheet("Electrodes", "Date"), sheet("Loans", "Date"))).toEqual([]);
    expect(sheetsOf(sheet("Electrodes", "Date"), sheet("Ear cushions", "Planned for"))).toEqual([]);
  });

  it("is never advised to be chosen besides, which would put each device in several rows", () => {
    const book = bookOf([sheet("Electrodes", "Date"), sheet("Ear cushions", "Date")]);
    const { problems } = readWorkbook(book, REPORT_DATE);
    const fixes = problems
      .filter(({ kind }) => kind === "no column" || kind === "register not read")
      .map(({ fix }) => fix);
    expect(fixes.length).toBe(3);
    for (const fix of fixes) {
      expect(fix).toContain("makes a register of Electrodes and Ear cushions");
      expect(fix).not.toContain("--match");
    }
    expect(undatedParts(book, readWorkbook(book, REPORT_DATE)).length).toBeGreaterThan(0);
  });
});
