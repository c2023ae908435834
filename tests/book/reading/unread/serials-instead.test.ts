import { describe, expect, it } from "vitest";
import { doubtsSay } from "../../../../src/book/records/doubts.ts";
import { on, readSheets, sheetOf, type Typed } from "../../../scenes/scene.ts";

const said = (rows: readonly Typed[][]): string =>
  doubtsSay(readSheets([sheetOf("Kit", rows)])).join(" ");

/** Devices with a text in the first column, a serial number and a date; invented. */
function register(head: readonly Typed[], first: readonly Typed[]): Typed[][] {
  const rows = first.map((text, at): Typed[] => [text, `70${at}81`, on("2026-05-04")]);
  return [[...head, "Serial no", "Electrode set replaced"], ...rows];
}

describe("a column headed as that of the devices that names none", () => {
  const twelve = (cell: Typed): Typed[] => Array<Typed>(12).fill(cell);
  it.each([
    ["dashes", twelve("-"), "names few or none"],
    ["ditto marks", twelve('"'), "names few or none"],
    ["zeros", twelve("0"), "names few or none"],
    ["one name", twelve("NB-101"), 'has "NB-101" in each row'],
  ] as [string, Typed[], string][])("is told above all figures: %s", (_, cells, why) => {
    expect(said(register(["Device"], cells))).toContain(
      `"Device" is headed as the column of the devices, but ${why}, so "Serial no" stands in for it.`,
    );
  });
  it("is not where it says the kind of device, or serial numbers have no such column beside them", () => {
    expect(said(register(["Device"], twelve("Screener")))).toBe("");
    expect(said(register(["Colour"], twelve("-")))).toBe("");
  });
});
