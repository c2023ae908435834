import { describe, expect, it } from "vitest";
import type { Reading } from "../../../../src/book/records/records.ts";
import type { CellValue } from "../../../../src/book/workbook/snapshot.ts";
import { on, readSheets, sheetOf, type Typed } from "../../../scenes/scene.ts";

const MAY = on("2026-05-04");
const HEADINGS = ["Device", "Serial number", "Electrode set replaced", "Ear cushion replaced"];

function site(name: string, ids: readonly Typed[], headings: readonly string[] = HEADINGS) {
  const rows = ids.map((id, at): Typed[] => [id, `${name} ${at + 1}`, MAY, MAY]);
  return sheetOf(name, [[...headings], ...rows]);
}

const ALPHA = site("Alpha", ["A-1", "A-2", "A-3", "A-4"]);

function sheetsOf({ devices }: Reading): Record<string, number> {
  const count = (sheet: string): number => devices.filter((one) => one.sheet === sheet).length;
  return { Alpha: count("Alpha"), Bravo: count("Bravo") };
}

/** A sheet for each site, one of which has lost the names of its devices, or has some of its rows twice. */
describe("a sheet that is headed as the register", () => {
  const error: CellValue = { error: "#N/A" };
  it.each([
    ["errors in half of the cells", ["B-1", "B-2", error, error]],
    ["nothing in any", [null, null, null, null]],
    ["one name in all", ["B-1", "B-1", "B-1", "B-1"]],
    ["a row twice", ["B-1", "B-2", "B-1", "B-2"]],
  ] as [string, Typed[]][])("is read with %s as its devices", (_, ids) => {
    expect(sheetsOf(readSheets([ALPHA, site("Bravo", ids)]))).toEqual({ Alpha: 4, Bravo: 4 });
  });

  it("is not read where its devices are on the register", () => {
    const reading = readSheets([ALPHA, site("Bravo", ["A-1", "A-2", "A-1", "A-2"])]);
    expect(sheetsOf(reading)).toEqual({ Alpha: 4, Bravo: 0 });
  });

  it("is no empty form", () => {
    const form = sheetOf("Bravo", [[...HEADINGS], [], []]);
    expect(readSheets([ALPHA, form]).registers.map(({ sheet }) => sheet)).toEqual(["Alpha"]);
  });
});

it("a list that names devices of its own again and again is told", () => {
  const rows: Typed[][] = ["B-1", "B-2"].flatMap((id) => [
    [id, `S ${id}`, "Electrodes", MAY],
    [id, `S ${id}`, "Cushions", MAY],
  ]);
  const list = sheetOf("Bravo", [["Device", "Serial number", "Part", "Last replaced"], ...rows]);
  const { problems } = readSheets([ALPHA, list]);
  expect(
    problems.filter(({ kind }) => kind === "register not read").map(({ cause }) => cause),
  ).toEqual(["Bravo looks like a register, but is not read: 2 devices of it are not on Alpha."]);
});
