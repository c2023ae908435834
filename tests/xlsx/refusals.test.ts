import { strToU8, unzipSync, zipSync } from "fflate";
import { describe, expect, it } from "vitest";
import type { Edit } from "../../src/book/workbook/plan.ts";
import {
  applyPlan,
  blankWorkbook,
  newWorkbook,
  openWorkbook,
  WorkbookError,
} from "../../src/xlsx/index.ts";
import { workbook } from "../reference/workbooks/full-plan.ts";

const SAVE_AGAIN = "open it in your spreadsheet program, save it again and try with that copy.";
const damaged = (what: string): string => `This workbook is damaged (${what}): ${SAVE_AGAIN}`;
const SHEET = "xl/worksheets/sheet1.xml";

type Files = Record<string, Uint8Array>;

/** A small book with some of its parts replaced. */
function book(
  change: Record<string, string | Uint8Array | null>,
  name = "dates1904.xlsx",
): Uint8Array {
  const files: Files = unzipSync(workbook(name));
  const changed = new Map(Object.entries(files));
  for (const [path, content] of Object.entries(change)) {
    if (content === null) changed.delete(path);
    else changed.set(path, typeof content === "string" ? strToU8(content) : content);
  }
  return zipSync(Object.fromEntries(changed));
}

const MAIN = 'xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"';
const sheetOf = (rows: string): string =>
  `<worksheet ${MAIN}><sheetData>${rows}</sheetData></worksheet>`;

function opening(bytes: Uint8Array): () => unknown {
  return () => openWorkbook(bytes);
}

/** The archive's end record moved on by a change of its fields. */
function withEnd(bytes: Uint8Array, offset: number, value: number): Uint8Array {
  const copy = bytes.slice();
  new DataView(copy.buffer).setUint32(copy.length - 22 + offset, value, true);
  return copy;
}

const OLE = [0xd0, 0xcf, 0x11, 0xe0, 0xa1, 0xb1, 0x1a, 0xe1];
const wide = (text: string): number[] =>
  Array.from(text).flatMap((letter) => [letter.charCodeAt(0), 0]);

describe("a file that is no workbook to be changed", () => {
  it.each([
    [
      "an encrypted workbook",
      new Uint8Array([...OLE, ...new Array<number>(600).fill(0), ...wide("EncryptedPackage")]),
      "This workbook is encrypted, which some programs also do to a protected one they open without a password: in your spreadsheet program take off its protection and its password to open, save it again and use that.",
    ],
    [
      "an old workbook",
      new Uint8Array([...OLE, ...new Array<number>(600).fill(7)]),
      "This is a workbook of the old .xls form: open it in your spreadsheet program and save it as .xlsx.",
    ],
    [
      "a signed workbook",
      book({ "_xmlsignatures/origin.sigs": "" }),
      "This workbook is digitally signed and any change would break the signature: save an unsigned copy and use that.",
    ],
    [
      "a binary workbook",
      book({ "xl/workbook.bin": "x" }),
      "This is a binary workbook (.xlsb): open it in your spreadsheet program and save it as .xlsx.",
    ],
    [
      "an OpenDocument file",
      zipSync({ mimetype: strToU8("x"), "content.xml": strToU8("<x/>") }),
      "This is an OpenDocument file: open it in your spreadsheet program and save it as .xlsx.",
    ],
    [
      "text",
      strToU8("Device,Site\nD001,S01\n".repeat(20)),
      "This file is no .xlsx or .xlsm workbook: open it in your spreadsheet program and save it as .xlsx.",
    ],
    [
      "nothing",
      new Uint8Array(0),
      "This file is no .xlsx or .xlsm workbook: open it in your spreadsheet program and save it as .xlsx.",
    ],
    [
      "another archive",
      zipSync({ "a.txt": strToU8("a") }),
      "This file holds no workbook: open it in your spreadsheet program and save it as .xlsx.",
    ],
    [
      "an archive in the zip64 form",
      withEnd(workbook("bare.xlsx"), 16, 0xffffffff),
      "This workbook is packed in the zip64 form, which is not supported: open it in your spreadsheet program and save it again.",
    ],
    [
      "a workbook without a worksheet",
      book({ "xl/workbook.xml": `<workbook ${MAIN}><sheets/></workbook>` }),
      "This workbook has no worksheet: add one in your spreadsheet program.",
    ],
    ["a part that is missing", book({ [SHEET]: null }), damaged(`${SHEET}: the part is missing`)],
  ])("%s is refused with one sentence", (_, bytes, sentence) => {
    expect(opening(bytes)).toThrow(new WorkbookError(sentence));
  });
});

describe("XML that is not what workbooks hold", () => {
  it.each([
    [
      "a document type",
      '<!DOCTYPE x [<!ENTITY a "b">]><worksheet/>',
      "it holds a document type, which workbooks never need",
    ],
    [
      "an entity",
      sheetOf('<row r="1"><c r="A1" t="str"><v>&a;</v></c></row>'),
      "it holds an entity that workbooks never need",
    ],
    [
      "a reference to no character",
      sheetOf('<row r="1"><c r="A1" t="str"><v>&#0;</v></c></row>'),
      "it holds an entity that workbooks never need",
    ],
    [
      "an object's own word as entity",
      sheetOf("<row>&constructor;</row>"),
      "it holds an entity that workbooks never need",
    ],
    ["an open element", `<worksheet ${MAIN}><sheetData>`, "it ends too early"],
    [
      "elements that cross",
      `<worksheet ${MAIN}><a><b></a></b></worksheet>`,
      "its XML is not well formed at character 84",
    ],
    ["an attribute twice", `<worksheet a="1" a="2"/>`, "its XML is not well formed at character 1"],
    [
      "an attribute without quotes",
      `<worksheet a=1/>`,
      "its XML is not well formed at character 15",
    ],
    ["two roots", `<worksheet/><worksheet/>`, "its XML is not well formed at character 13"],
    ["text around it", `${sheetOf("")}more`, "text outside its root"],
    ["another root", "<chartsheet/>", "it is no worksheet"],
    ["no cells", `<worksheet ${MAIN}></worksheet>`, "it has no cells"],
    [
      "an unknown encoding",
      `<?xml version="1.0" encoding="windows-1252"?>${sheetOf("")}`,
      "its encoding windows-1252 is not one workbooks use",
    ],
    ["a row beyond the grid", sheetOf('<row r="1048577"/>'), "it has a row 1048577"],
    [
      "a column beyond the grid",
      sheetOf('<row r="1"><c r="XFE1"/></row>'),
      "it has a cell XFE1 in row 1",
    ],
    ["a cell of another row", sheetOf('<row r="1"><c r="A2"/></row>'), "it has a cell A2 in row 1"],
    [
      "no number",
      sheetOf('<row r="1"><c r="A1"><v>ten</v></c></row>'),
      "it holds ten where a number must be",
    ],
    [
      "a text that is not there",
      sheetOf('<row r="1"><c r="A1" t="s"><v>99</v></c></row>'),
      "it points to a text 99 that is not there",
    ],
  ])("%s is refused", (_, text, why) => {
    expect(opening(book({ [SHEET]: text }))).toThrow(
      new WorkbookError(damaged(`${SHEET}: ${why}`)),
    );
  });

  it("bytes that are not UTF-8 are refused, never guessed", () => {
    const bytes = strToU8(sheetOf('<row r="1"><c r="A1" t="str"><v>M?ller</v></c></row>'));
    bytes[bytes.indexOf(0x3f)] = 0xfc;
    expect(opening(book({ [SHEET]: bytes }))).toThrow(damaged(`${SHEET}: its text is not UTF-8`));
  });
});

describe("files made to fill the memory", () => {
  const blanks = new Uint8Array(64 << 20).fill(32);
  const bytes = zipSync({ ...unzipSync(workbook("bare.xlsx")), [SHEET]: blanks }, { level: 1 });

  it("are refused by their ratio before they are unpacked", () => {
    const before = process.memoryUsage.rss();
    expect(opening(bytes)).toThrow(
      `This workbook (${SHEET}) is too large to be opened safely: split it into smaller workbooks.`,
    );
    expect(process.memoryUsage.rss() - before).toBeLessThan(32 << 20);
  });

  it("are given up when they hold more than they say", () => {
    const lie = bytes.slice();
    const data = new DataView(lie.buffer);
    // The size stands behind the checksum and the packed size, in both headers.
    for (let at = 0; at < lie.length - 4; at += 1) {
      if (data.getUint32(at, true) === blanks.length) data.setUint32(at, 5000, true);
    }
    expect(opening(lie)).toThrow(damaged(`${SHEET}: it cannot be unpacked`));
  });

  it("are refused when entries share their bytes", () => {
    const bytes = workbook("bare.xlsx").slice();
    const data = new DataView(bytes.buffer);
    const records: number[] = [];
    for (let at = 0; at < bytes.length - 4; at += 1) {
      if (data.getUint32(at, true) === 0x02014b50) records.push(at);
    }
    const [first = 0, second = 0] = records;
    data.setUint32(second + 42, data.getUint32(first + 42, true), true);
    expect(opening(bytes)).toThrow(damaged("archive: its entries overlap"));
  });

  it("are refused when a few cells far apart stand for millions of blank ones", () => {
    const row = (at: number): string => `<row r="${at}"><c r="XFD${at}"><v>1</v></c></row>`;
    const rows = Array.from({ length: 5000 }, (_, at) => row(at + 1)).join("");
    expect(opening(book({ [SHEET]: sheetOf(rows) }))).toThrow(
      "This workbook has more cells than can be read safely: split it into smaller workbooks.",
    );
  });

  it("are told from an honest sheet of a hundred thousand rows", () => {
    const rows = Array.from(
      { length: 100_000 },
      (_, at) =>
        `<row r="${at + 1}" spans="1:2"><c r="A${at + 1}" s="1"><v>45000</v></c><c r="B${at + 1}" t="str"><v>in use</v></c></row>`,
    );
    const open = openWorkbook(book({ [SHEET]: sheetOf(rows.join("")) }));
    expect(open.snapshot.sheets[0]?.values).toHaveLength(100_000);
  });

  it.each([
    ["file", { file: 100 }],
    ["parts", { parts: 2 }],
  ])("keep to a limit of the caller's on the %s", (_, limits) => {
    expect(() => openWorkbook(workbook("bare.xlsx"), { limits })).toThrow(
      "This file is too large to be opened safely: split it into smaller workbooks.",
    );
  });
});

describe("plans that cannot be carried out", () => {
  it("are refused before anything is packed where a part could not be opened again", () => {
    const tooMuch = (has: number): WorkbookError =>
      new WorkbookError(
        `Nothing was written: with this the part ${SHEET} would have ${has} MB or more, and 3 MB is the most that can be opened safely; split the workbook into smaller ones.`,
      );
    const open = openWorkbook(workbook("bare.xlsx"), { limits: { part: 3 << 20 } });
    const sheet = open.snapshot.sheets[0]?.name ?? "";
    const write = (edit: Edit) => () => applyPlan(open, { summary: "", edits: [edit] });
    const texts = Array.from({ length: 150 }, (_, at) => at + 10);
    const blocks = [{ column: 0, rows: texts, values: texts.map(() => "x".repeat(30_000)) }];
    expect(write({ kind: "fillCells", sheet, blocks, expects: {} })).toThrow(tooMuch(4));
    const rows = Array.from({ length: 200_000 }, (_, at) => at + 10);
    const cells = { column: 40, rows, values: rows.map(() => 1) };
    const place = { sheet, headerRow: 9, like: 0, width: 9, expects: {} };
    expect(write({ kind: "addColumn", title: "Ones", cells, ...place })).toThrow(tooMuch(5));
  });

  const open = openWorkbook(workbook("formulas.xlsx"));
  const fill = (row: number, column: number, value: string | number): Edit => ({
    kind: "fillCells",
    sheet: "Register",
    blocks: [{ column, rows: [row], values: [value] }],
    expects: {},
  });
  const sheet = (name: string): Edit => ({
    kind: "addSheet",
    sheet: name,
    cells: [],
    widths: [],
    freezeRows: 0,
  });
  const column = (at: number): Edit => ({
    kind: "addColumn",
    sheet: "Register",
    headerRow: 0,
    title: "X",
    like: 0,
    width: 9,
    cells: { column: at, rows: [1], values: [1] },
    expects: {},
  });

  it.each<[string, Edit, string]>([
    [
      "a text longer than a cell",
      fill(1, 20, "x".repeat(32_768)),
      "The text for Register!U2 has 32768 characters and a cell holds 32767: shorten it.",
    ],
    ["no number", fill(1, 20, Infinity), "The value for Register!U2 is no number a cell can hold."],
    [
      "a cell of an array formula",
      fill(2, 5, 1),
      "Register!F3 belongs to an array formula: clear that formula first.",
    ],
    [
      "a row beyond the grid",
      fill(1_048_576, 0, 1),
      "Register has no room left: the plan writes beyond the grid.",
    ],
    [
      "a column over others",
      column(1),
      "Register!B1 is not empty, so no column is added there: make the plan again.",
    ],
    [
      "a sheet that is not there",
      { ...fill(0, 0, 1), sheet: "Elsewhere" } as Edit,
      "Nothing was changed: the sheet Elsewhere is gone.",
    ],
    [
      "a sheet that is there",
      sheet("register"),
      "Nothing was changed: a sheet named register is already there.",
    ],
    [
      "a sheet with a name no sheet may have",
      sheet("a/b"),
      '"a/b" cannot be the name of a sheet: use 1 to 31 characters without [ ] : * ? / \\ and no apostrophe at the ends.',
    ],
    [
      "a table without its headings",
      {
        kind: "addTable",
        sheet: "Register",
        name: "T_1",
        area: { firstRow: 0, firstColumn: 0, lastRow: 8, lastColumn: 0 },
        headings: ["Other"],
      },
      'The heading "Other" of a table on Register is twice there or not in its cell: make the plan again.',
    ],
    [
      "a long formula",
      {
        kind: "fillCells",
        sheet: "Register",
        blocks: [
          {
            column: 20,
            rows: [1],
            values: [1],
            formula: { text: "1+".repeat(5000) + "1", live: false },
          },
        ],
        expects: {},
      },
      "A formula of 10001 characters is longer than the 8192 a cell may hold: shorten it.",
    ],
    [
      "choices with a comma",
      {
        kind: "addChoices",
        sheet: "Register",
        area: { firstRow: 1, firstColumn: 9, lastRow: 2, lastColumn: 9 },
        choices: { kind: "list", values: ["a,b"] },
        message: "No.",
      },
      "A list of choices on Register is longer than 255 characters or holds a comma: keep the choices in cells instead.",
    ],
  ])("%s: one sentence", (_, edit, sentence) => {
    expect(() => applyPlan(open, { summary: "x", edits: [edit] })).toThrow(
      new WorkbookError(sentence),
    );
  });

  it("a table with a totals row does not grow downwards", () => {
    const tables = openWorkbook(workbook("tables.xlsx"));
    const area = { firstRow: 1, firstColumn: 1, lastRow: 7, lastColumn: 2 };
    const edit: Edit = { kind: "growTable", sheet: "Totals", table: "Wipes", area, columns: [] };
    expect(() => applyPlan(tables, { summary: "x", edits: [edit] })).toThrow(
      "The table Wipes has a totals row in the way: turn it off first.",
    );
  });

  it("a book of a plan needs a sheet, and a blank one a name", () => {
    expect(() => newWorkbook({ summary: "x", edits: [] })).toThrow(
      "A new workbook needs at least one sheet: add one to the plan.",
    );
    expect(() => blankWorkbook("")).toThrow(WorkbookError);
  });
});
