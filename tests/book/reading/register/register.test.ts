import { describe, expect, it } from "vitest";
import { BookError } from "../../../../src/book/workbook/errors.ts";
import { readBook } from "../../../../src/book/reading/read.ts";
import type { Reading } from "../../../../src/book/records/records.ts";
import { PARTS } from "../../../../src/book/sheets/parts.ts";
import type { CellValue } from "../../../../src/book/workbook/snapshot.ts";
import {
  onlyRegister,
  bookOf,
  month,
  on,
  oursOf,
  readSheets,
  sheetOf,
  told,
  type Typed,
} from "../../../scenes/scene.ts";

const HEADINGS = ["Device", "Site", "Model", "Electrode set replaced", "Ear cushion replaced"];

function rowsOf(count: number, prefix = "VR"): Typed[][] {
  return Array.from({ length: count }, (_, at): Typed[] => [
    `${prefix}-${String(at + 1).padStart(3, "0")}`,
    `S0${(at % 8) + 1}`,
    "B2",
    on("2026-05-04"),
    on("2026-03-02"),
  ]);
}

const fields = (reading: Reading): Record<string, string> =>
  Object.fromEntries(onlyRegister(reading).matches.map(({ field, heading }) => [field, heading]));
const leftOut = (reading: Reading): string[] =>
  onlyRegister(reading).leftOut.map(({ row, reason }) => `${row + 1} ${reason}`);

describe("finding the register", () => {
  it("stands on the first row of a plain sheet", () => {
    const reading = readSheets([sheetOf("Equipment", [HEADINGS, ...rowsOf(3)])]);
    expect(onlyRegister(reading)).toMatchObject({
      sheet: "Equipment",
      headerRow: 0,
      rows: [1, 2, 3],
    });
    expect(fields(reading)).toEqual({
      device: "Device",
      site: "Site",
      model: "Model",
      "last:SET": "Electrode set replaced",
      "last:CUSHION": "Ear cushion replaced",
    });
    expect(reading.problems).toEqual([]);
  });

  it("is found below titles and blanks, from any column on, on any sheet", () => {
    const shifted = [HEADINGS, ...rowsOf(3)].map((row): Typed[] => [null, null, ...row]);
    const reading = readSheets([
      sheetOf("Start", [["Equipment of the region"], ["Ask the program manager"]]),
      sheetOf("Sheet2", [["Equipment register 2026"], [], [null, "as of June"], ...shifted]),
    ]);
    expect(onlyRegister(reading)).toMatchObject({ sheet: "Sheet2", headerRow: 3, rows: [4, 5, 6] });
    expect(onlyRegister(reading).headings).toEqual(["", "", ...HEADINGS]);
    expect(reading.devices.map(({ id }) => id)).toEqual(["VR-001", "VR-002", "VR-003"]);
  });

  it("is not a sheet of counts, a log or one of ours", () => {
    const counts = [["Device", "Site", on("2026-04-01"), on("2026-05-01")]];
    const log = ["VR-001", "VR-002", "VR-001", "VR-002", "VR-001"].map((id): Typed[] => [
      id,
      "S01",
      on("2026-05-04"),
    ]);
    const reading = readSheets([
      sheetOf("Job log", [["Job log"], [], ["Device", "Site", "Electrode set replaced"], ...log]),
      sheetOf("Parts (2)", [[PARTS.title], [], HEADINGS, ...rowsOf(2, "OLD")]),
      sheetOf("Changes", [["Device", "Site", "Electrode set replaced"], ...log]),
      sheetOf("Counts", [...counts, ["VR-001", "S01", 20, 21], ["VR-002", "S02", 30, 31]]),
      sheetOf("Register", [HEADINGS, ...rowsOf(2)]),
    ]);
    expect(onlyRegister(reading).sheet).toBe("Register");
  });

  it("prefers a visible sheet to a hidden copy of it", () => {
    const rows = [HEADINGS, ...rowsOf(3)];
    const reading = readSheets([
      sheetOf("Old", rows, { visibility: "hidden" }),
      sheetOf("New", rows),
    ]);
    expect(onlyRegister(reading).sheet).toBe("New");
  });

  it("joins two heading rows with merged parents, and says so", () => {
    const rows: Typed[][] = [
      ["Equipment register"],
      ["Device", "Site", "Contact electrode set", null, "Ear cushion", null],
      [null, null, "Last replaced", "Lot", "Last replaced", "Lot"],
      ["VR-001", "S01", on("2026-05-04"), "A1", on("2026-04-02"), "B1"],
      ["VR-002", "S02", on("2026-05-05"), "A2", on("2026-04-03"), "B2"],
    ];
    const area = (firstColumn: number, lastColumn: number, lastRow: number) => ({
      firstRow: 1,
      lastRow,
      firstColumn,
      lastColumn,
    });
    const merges = [area(0, 0, 2), area(1, 1, 2), area(2, 3, 1), area(4, 5, 1)];
    for (const sheet of [sheetOf("E", rows, { merges }), sheetOf("E", rows)]) {
      const reading = readSheets([sheet]);
      expect(onlyRegister(reading)).toMatchObject({ headerRow: 2, rows: [3, 4] });
      expect(onlyRegister(reading).headings[4]).toBe("Ear cushion Last replaced");
      expect(fields(reading)).toEqual({
        device: "Device",
        site: "Site",
        "last:SET": "Contact electrode set Last replaced",
        "last:CUSHION": "Ear cushion Last replaced",
      });
      expect(told(reading)).toEqual(["two-row heading *3"]);
    }
  });

  it("joins one text below several parents, though none of them stands over two columns", () => {
    const rows = [
      ["", "", "Electrode set", "Ear cushion"],
      ["Unit ID", "Location", "replaced", "Replaced"],
      ["VR-001", "S01", on("2026-05-04"), on("2026-04-02")],
      ["VR-002", "S02", on("2026-05-05"), on("2026-04-03")],
    ];
    const reading = readSheets([sheetOf("E", rows)]);
    expect(fields(reading)).toEqual({
      device: "Unit ID",
      site: "Location",
      "last:SET": "Electrode set replaced",
      "last:CUSHION": "Ear cushion Replaced",
    });
    expect(told(reading)).toEqual(["two-row heading *2"]);
  });

  it("does not join a title with the headings below it", () => {
    const merges = [{ firstRow: 0, lastRow: 0, firstColumn: 0, lastColumn: 4 }];
    const sheet = sheetOf("E", [["Device register"], HEADINGS, ...rowsOf(2)], { merges });
    expect(onlyRegister(readSheets([sheet])).headings).toEqual(HEADINGS);
  });

  it("begins at the first of headings that are repeated: no device above them is lost", () => {
    // A device named twice makes the rows below the second headings look better.
    const rows = [HEADINGS, ...rowsOf(1), HEADINGS, ...rowsOf(12)];
    const register = onlyRegister(readSheets([sheetOf("E", rows)]));
    expect(register).toMatchObject({ headerRow: 0, leftOut: [{ row: 2 }] });
    expect(register.rows).toHaveLength(13);
  });

  it("is not a small table above it that shares two headings", () => {
    const headings = ["Device", "Site", "Electrode set replaced", "Ear cushion replaced"];
    const lent: Typed[][] = [
      ["Device", "Site", "Note"],
      ["VR-901", "S01", "lent"],
      ["VR-902", "S02", "lent"],
    ];
    const devices = rowsOf(20).map(([id = null, site = null, , ...dates]) => [id, site, ...dates]);
    const reading = readSheets([sheetOf("E", [...lent, [], headings, ...devices])]);
    expect(onlyRegister(reading)).toMatchObject({ headerRow: 4, headings, leftOut: [] });
    const dates = reading.devices.flatMap(({ lastDone }) => lastDone.map(({ date }) => date));
    expect(dates.filter((date) => date !== null)).toHaveLength(40);
  });

  it("reads an empty register: headings and nothing else", () => {
    const reading = readSheets([sheetOf("E", [HEADINGS])]);
    expect(reading.devices).toEqual([]);
    expect(onlyRegister(reading).leftOut).toEqual([]);
  });

  it("throws one sentence when there is none", () => {
    expect(() => readSheets([])).toThrow(
      new BookError(
        "no equipment register found: no sheet has a row of headings with a device column and one more known column; state in Setup which sheet, header row and columns to use",
      ),
    );
  });

  it("names the row most like headings and the option that makes it a register", () => {
    const kit = sheetOf("Kit", [
      ["Our kit 2026"],
      ["Where", "Given out", "No.", "Cups changed"],
      ["Quorrow", on("2026-01-10"), "K-1", on("2026-05-04")],
      ["Quorrow", on("2026-02-10"), "K-2", on("2026-05-04")],
    ]);
    const births = sheetOf("Births", [["Site", "Births"]]);
    expect(() => readSheets([births, kit])).toThrow(
      new BookError(
        'no equipment register found: no sheet has a row of headings with a device column and one more known column; the most promising is row 2 of the sheet Kit, with "Where", "Given out", "No." and "Cups changed"; write Device over the column that names the devices, or give --match "device=No."',
      ),
    );
    const reading = readSheets(
      [births, kit],
      oursOf({ matches: new Map([["column device", "No."]]) }),
    );
    expect(reading.devices.map(({ id }) => id)).toEqual(["K-1", "K-2"]);
  });
});

describe("rows that are not devices", () => {
  it("are left out with a reason, each total and repeated heading with a notice", () => {
    const [one = [], two = [], three = []] = rowsOf(3);
    const reading = readSheets([
      sheetOf("E", [
        HEADINGS,
        one,
        ["S01 total", null, null, 2, null],
        [],
        HEADINGS,
        two,
        ["Devices of the southern sites, see also the list of loans"],
        [null, "S04", "B2", null, null],
        three,
        [null, null, "Total", 3, null],
        [],
      ]),
    ]);
    expect(reading.devices.map(({ id }) => id)).toEqual(["VR-001", "VR-002", "VR-003"]);
    expect(leftOut(reading)).toEqual([
      "3 subtotal",
      "4 blank",
      "5 repeated heading",
      "7 a label or note",
      "8 no device id",
      "10 subtotal",
    ]);
    expect(told(reading)).toEqual([
      "subtotal row *3",
      "repeated heading *5",
      "subtotal row *10",
      "device missing A8",
    ]);
    expect(reading.problems.filter(({ severity }) => severity === "fault")).toHaveLength(1);
  });

  it("are rows with a total formula and no device", () => {
    const formulas = new Map([[2 * 16384 + 3, "SUBTOTAL(3,D2:D2)"]]);
    const reading = readSheets([
      sheetOf("E", [HEADINGS, ...rowsOf(1), [null, null, null, 1, null]], { formulas }),
    ]);
    expect(leftOut(reading)).toEqual(["3 subtotal"]);
  });

  it("are the totals row of a native table", () => {
    const area = { firstRow: 0, lastRow: 2, firstColumn: 0, lastColumn: 4 };
    const tables = [{ name: "List", area, headings: HEADINGS, totalsRow: true }];
    const rows = [HEADINGS, ...rowsOf(1), [1, null, null, 1, null]];
    expect(leftOut(readSheets([sheetOf("E", rows, { tables })]))).toEqual(["3 subtotal"]);
  });

  it("are not devices whose other columns say total", () => {
    const row: Typed[] = ["VR-001", "S01", "Total B2", on("2026-05-04"), on("2026-03-02")];
    expect(readSheets([sheetOf("E", [HEADINGS, row])]).devices).toHaveLength(1);
  });

  it("hidden rows, hidden columns and filters are stated, and everything is read", () => {
    const filter = {
      area: { firstRow: 0, lastRow: 3, firstColumn: 0, lastColumn: 4 },
      active: true,
    };
    const reading = readSheets([
      sheetOf("E", [HEADINGS, ...rowsOf(3)], {
        hiddenRows: new Set([2, 40]),
        hiddenColumns: new Set([2]),
        filter,
      }),
    ]);
    expect(reading.devices).toHaveLength(3);
    expect(told(reading)).toEqual(["hidden rows **", "hidden columns **", "filtered **"]);
    expect(reading.problems.map(({ cause }) => cause)).toEqual([
      "Hidden rows are included: 3.",
      "Hidden columns are included: C.",
      "A filter hides rows; all rows are included.",
    ]);
  });
});

describe("choices of the programme", () => {
  const sheets = [
    sheetOf("First", [HEADINGS, ...rowsOf(3)]),
    sheetOf("Second", [
      ["Device", "Site"],
      ["Number", "Where", "Changed", "Renewed"],
      ["X-1", "S01", on("2026-05-04"), on("2026-05-03")],
      ["X-2", "S02", on("2026-05-04"), on("2026-05-03")],
    ]),
  ];
  const chosen = (matches: Readonly<Record<string, string>>) =>
    oursOf({ matches: new Map(Object.entries(matches)) });

  it("name the sheet, the header row and the columns", () => {
    const reading = readSheets(
      sheets,
      chosen({
        register: "second",
        "header row": "2",
        "column device": "number",
        "column last:SET": "Changed",
        "column last:cushion": "Renewed",
      }),
    );
    expect(onlyRegister(reading)).toMatchObject({ sheet: "Second", headerRow: 1, rows: [2, 3] });
    expect(onlyRegister(reading).matches).toEqual([
      { field: "device", column: 0, heading: "Number", confidence: 1, by: "setup" },
      { field: "last:SET", column: 2, heading: "Changed", confidence: 1, by: "setup" },
      { field: "last:CUSHION", column: 3, heading: "Renewed", confidence: 1, by: "setup" },
    ]);
    expect(onlyRegister(reading).unmatched).toEqual(["Where"]);
  });

  it("may say that a field has no column", () => {
    const reading = readSheets(sheets, chosen({ "column site": "none" }));
    expect(fields(reading)["site"]).toBeUndefined();
  });

  it("are told when their column is gone, and the words decide again", () => {
    const reading = readSheets(sheets, chosen({ "column device": "Tag" }));
    expect(onlyRegister(reading).sheet).toBe("First");
    expect(told(reading)).toEqual(["chosen column missing **", "register not read **"]);
  });

  it("throw when the sheet is not there, or holds no register", () => {
    expect(() => readSheets(sheets, chosen({ register: "Third" }))).toThrow(
      new BookError("the register is set to the sheet Third, but the workbook has no such sheet"),
    );
    expect(() => readSheets(sheets, chosen({ register: "Second", "header row": "3" }))).toThrow(
      new BookError(
        "no equipment register found: the sheet Second has no row of headings in row 3 with a device column and one more known column; state in Setup which sheet, header row and columns to use",
      ),
    );
  });
});

describe("columns of the register", () => {
  it("that are ours are neither matched nor called unmatched, except our date column", () => {
    const own = ["Ear cushion: last replaced", "Ear cushion: next due", "Uses a month", "Years"];
    const rows: Typed[][] = [
      ["Device", ...own],
      ["VR-001", on("2026-05-04"), on("2026-11-04"), 20, 3],
    ];
    const reading = readSheets([sheetOf("E", rows)]);
    expect(fields(reading)).toEqual({
      device: "Device",
      "last:CUSHION": "Ear cushion: last replaced",
    });
    expect(onlyRegister(reading).unmatched).toEqual(["Years"]);
  });

  it("that do not say which part was replaced are asked about", () => {
    const rows: Typed[][] = [
      ["Device", "Site", "Last replaced"],
      ["VR-001", "S01", on("2026-05-04")],
    ];
    const reading = readSheets([sheetOf("E", rows)]);
    expect(told(reading)).toEqual(["unclear column C*"]);
    expect(reading.problems[0]).toMatchObject({
      severity: "notice",
      cause: '"Last replaced" does not say which part was replaced.',
    });
  });

  it("that fit a field equally well are asked about", () => {
    const rows: readonly (readonly CellValue[])[] = [
      ["Asset", "Device ID", "Site", "Status"],
      ["A1", "D1", "S01", "In service"],
      ["A2", "D2", "S02", "In service"],
    ];
    const reading = readSheets([sheetOf("E", rows)]);
    expect(told(reading)).toEqual(["unclear column A*"]);
    expect(onlyRegister(reading).matches[0]).toMatchObject({
      field: "device",
      column: 0,
      confidence: 0.5,
    });
  });
});

describe("devices", () => {
  it("carry site, commissioning day, retirement and the dates of their parts", () => {
    const rows: Typed[][] = [
      ["Device", "Site", "Commissioned", "Status", "Retired on", "Electrode set replaced"],
      [" VR-001\u00a0", " S01 ", on("2024-02-29"), "In service", null, on("2026-05-04")],
      ["VR-002", "S02", null, "Retired", null, null],
      [1003, "S02", null, "", on("2026-06-30"), null],
      ["VR-004", "S02", null, "", on("2026-07-01"), on("2026-05-04")],
    ];
    const { devices } = readSheets([sheetOf("E", rows)]);
    expect(devices.map(({ id, site, retired }) => [id, site, retired])).toEqual([
      ["VR-001", "S01", false],
      ["VR-002", "S02", true],
      ["1003", "S02", true],
      ["VR-004", "S02", false],
    ]);
    expect(devices[0]?.commissioned).toBe(month("2024-03") - 1);
    expect(devices[0]?.lastDone).toEqual([
      { part: "SET", column: 5, date: month("2026-05") + 3 },
      { part: "CUSHION", column: null, date: null },
      { part: "CALIBRATION", column: null, date: null },
    ]);
  });

  it("read their dates in the book's own date system", () => {
    // Microsoft KB Q214330: 5 July 1998 is 35981 in a 1900 workbook and 34519 in a 1904 one.
    const rows = [
      ["Device", "Commissioned"],
      ["VR-001", 34519],
      ["VR-002", 34519.75],
    ];
    const ours = oursOf();
    const book = bookOf([sheetOf("E", rows)], { dateSystem: 1904 });
    const days = readBook(book, ours).devices.map(({ commissioned }) => commissioned);
    expect(days).toEqual([35981, 35981]);
  });

  it.each(["retired", "Disposed", "SCRAPPED", "decommissioned", " written  off "])(
    "are out of service by the status word %s",
    (word) => {
      const rows = [
        ["Device", "Status"],
        ["VR-001", word],
      ];
      expect(readSheets([sheetOf("E", rows)]).devices[0]?.retired).toBe(true);
    },
  );
});
