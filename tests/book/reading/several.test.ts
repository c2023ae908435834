import { describe, expect, it } from "vitest";
import { judge } from "../../../src/book/columns/judge.ts";
import { readWorkbook } from "../../../src/book/reading/workbook.ts";
import { BookError } from "../../../src/book/workbook/errors.ts";
import type { Part } from "../../../src/book/records/records.ts";
import { bareSite } from "../../../src/book/sheets/sites.ts";
import { SEVERAL, SEVERAL_DATE, summaryFirst, withRetired } from "../../scenes/several-sheets.ts";
import { bookOf, on, oursOf, readSheets, sheetOf, told, type Typed } from "../../scenes/scene.ts";

const HEADINGS = ["Device", "Model", "Electrode set replaced", "Ear cushion replaced"];
const rowsOf = (...ids: readonly string[]): Typed[][] =>
  ids.map((id) => [id, "B2", on("2026-05-04"), on("2026-03-02")]);
const register = (name: string, ...ids: readonly string[]) =>
  sheetOf(name, [HEADINGS, ...rowsOf(...ids)]);
const chosen = (matches: Record<string, string>) =>
  oursOf({ matches: new Map(Object.entries(matches)) });
const SITES = ["Northfield", "Southport"].map((name, at) => ({ ...bareSite(`S0${at + 1}`), name }));

describe("registers on several sheets", () => {
  it.each(SEVERAL)(
    "are all found, each device with its site: $habit",
    ({ book, sheets, sites }) => {
      const reading = readWorkbook(book(), SEVERAL_DATE, { reportDate: SEVERAL_DATE });
      expect(reading.registers.map(({ sheet }) => sheet)).toEqual(sheets);
      expect(Object.fromEntries(reading.devices.map(({ id, site }) => [id, site]))).toEqual(sites);
      expect(told(reading).filter((one) => !one.startsWith("no column"))).toEqual([]);
    },
  );

  it("do not take the totals of a summary for devices", () => {
    const { devices } = readWorkbook(summaryFirst(), SEVERAL_DATE);
    expect(devices).toHaveLength(5);
  });

  it("keep in service what a sheet lists that is called Retired, unless its row says it has left", () => {
    const snapshot = withRetired();
    const reading = readWorkbook(snapshot, SEVERAL_DATE, { reportDate: SEVERAL_DATE });
    const gone = reading.devices.filter(({ retired }) => retired);
    expect(gone.map(({ id }) => id)).toEqual(["HS-91"]);
    expect(told(reading)).toEqual([
      "duplicate device A3",
      "duplicate device A4",
      "unknown status **",
    ]);
    const states = judge(snapshot, reading)
      .rows(reading.ours.parts[0] as Part)
      .filter(({ device }) => device.id === "HS-12");
    expect(states.map(({ answers }) => answers.state)).toEqual(["Check row", "Check row"]);
  });

  it("of which one copies most devices of another leave it unread, and tell", () => {
    const copy = register("Last year", "A1", "A2", "A3", "A9");
    const reading = readSheets([register("Equipment", "A1", "A2", "A3", "A4"), copy]);
    expect(reading.registers.map(({ sheet }) => sheet)).toEqual(["Equipment"]);
    expect(reading.problems.map(({ kind, cause }) => [kind, cause])).toEqual([
      [
        "register not read",
        "Last year looks like a register, but is not read: 1 device of it is not on Equipment.",
      ],
    ]);
  });

  it("are told of a list of further devices that is kept otherwise", () => {
    const pool = sheetOf("Loan pool", [
      ["Device", "Serial number", "Lent to"],
      ["L1", "SN-1", "S01"],
      ["L2", "SN-2", null],
    ]);
    const about = sheetOf("Serials", [
      ["Device", "Serial number"],
      ["A1", "SN-7"],
      ["A2", "SN-8"],
    ]);
    const counts = sheetOf("Counts", [
      ["Device", on("2026-03-01"), on("2026-04-01"), on("2026-05-01")],
      ["A1", 120, 130, 140],
    ]);
    const reading = readSheets([register("Equipment", "A1", "A2"), pool, about, counts]);
    expect(told(reading)).toEqual(["register not read **", "late count *3"]);
    expect(reading.problems[0]?.sheet).toBe("Loan pool");
  });
});

describe("a choice of registers", () => {
  const sheets = [register("One", "A1"), register("Two", "B1"), register("Three", "C1")];

  it("reads those, in the order of the sheets, and names the others", () => {
    const reading = readSheets(sheets, chosen({ register: "Three", "register 2": "one" }));
    expect(reading.registers.map(({ sheet }) => sheet)).toEqual(["One", "Three"]);
    expect(reading.problems.map(({ kind, sheet }) => [kind, sheet])).toEqual([
      ["register not read", "Two"],
    ]);
  });

  it("of a sheet that is none, or not there, is refused by its name", () => {
    const notes = sheetOf("Notes", [["Ask the program manager"]]);
    expect(() =>
      readSheets([...sheets, notes], chosen({ register: "One", "register 2": "Notes" })),
    ).toThrow(
      new BookError(
        "no equipment register found: the sheet Notes has no row of headings with a device column and one more known column; state in Setup which sheet, header row and columns to use",
      ),
    );
    expect(() => readSheets(sheets, chosen({ register: "One", "register 2": "Four" }))).toThrow(
      "the register is set to the sheet Four, but the workbook has no such sheet",
    );
  });

  it("of a header row leaves other sheets the rows they have", () => {
    const lower = sheetOf("Lower", [["Title"], [], HEADINGS, ...rowsOf("D1")]);
    const reading = readSheets([...sheets, lower], chosen({ "header row": "3" }));
    expect(reading.registers.map(({ sheet, headerRow }) => [sheet, headerRow])).toEqual([
      ["One", 0],
      ["Two", 0],
      ["Three", 0],
      ["Lower", 2],
    ]);
  });

  it("of a column holds where a sheet has it, and is told where none has", () => {
    const own = sheetOf("Own", [
      ["Device", "Model", "Fresh ones", "Ear cushion replaced"],
      ...rowsOf("D1"),
    ]);
    const matches = { "column last:set": "Fresh ones" };
    const reading = readSheets([...sheets, own], chosen(matches));
    const set = reading.registers.map(
      ({ matches: all }) => all.find(({ field }) => field === "last:SET")?.heading,
    );
    expect(set).toEqual([...sheets.map(() => "Electrode set replaced"), "Fresh ones"]);
    expect(told(reading)).toEqual([]);
    const none = readSheets(sheets, chosen(matches));
    expect(told(none)).toEqual(["chosen column missing **"]);
  });
});

describe("the site of a sheet without a column for it", () => {
  const siteIn = (name: string, above: Typed[][], sites = SITES): (string | undefined)[] => {
    const one = sheetOf(name, [...above, HEADINGS, ...rowsOf("A1")]);
    const reading = readSheets([one, register("S02", "B1")], oursOf({}, { sites }));
    return [reading.devices[0]?.site, ...told(reading)];
  };

  it("is its name where Sites knows that, though a title was copied along", () => {
    expect(siteIn("Northfield", [["Site: Southport"]])).toEqual(["Northfield"]);
    expect(siteIn("s01", [["Site: Southport"]])).toEqual(["s01"]);
  });

  it("is what its title calls the site, else a known one that is mentioned, else its name", () => {
    expect(siteIn("Sheet1", [["Site", null, "Southport"]])).toEqual(["Southport"]);
    expect(siteIn("Kit Northfield 2026", [])).toEqual(["S01"]);
    expect(siteIn("Sheet1", [["Equipment of Northfield, ground floor"]])).toEqual(["S01"]);
    expect(siteIn("Sheet1", [["Northfield and Southport"]])).toEqual(["Sheet1", "unknown site **"]);
    expect(siteIn("Eastham", [])).toEqual(["Eastham", "unknown site **"]);
    expect(siteIn("Eastham", [], [])).toEqual(["Eastham"]);
  });

  it("is none where there is one register, as ever", () => {
    expect(readSheets([register("Northfield", "A1")]).devices[0]?.site).toBe("");
  });
});

it("keeps a book's devices apart by their sheet where rows are the same", () => {
  const snapshot = bookOf([
    sheetOf("One", [HEADINGS, ["A1", "B2", on("2026-06-01"), on("2026-06-01")]]),
    sheetOf("Two", [HEADINGS, ["B1", "B2", on("2025-01-01"), on("2025-01-01")]]),
  ]);
  const reading = readWorkbook(snapshot, SEVERAL_DATE, { reportDate: SEVERAL_DATE });
  const rows = judge(snapshot, reading).rows(reading.ours.parts[0] as Part);
  expect(rows.map(({ device, answers }) => [device.id, answers.state])).toEqual([
    ["A1", "Not due"],
    ["B1", "Overdue"],
  ]);
});
