import { onlyRegister } from "../scenes/scene.ts";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { strFromU8, strToU8, unzipSync, zipSync } from "fflate";
import { afterAll, describe, expect, it } from "vitest";
import type { SheetCell } from "../../src/book/workbook/plan.ts";
import { type CellValue, valueAt } from "../../src/book/workbook/snapshot.ts";
import { readWorkbook } from "../../src/book/reading/workbook.ts";
import { NODE_CODEC } from "../../src/cli/files.ts";
import { day } from "../../src/core/day.ts";
import { newWorkbook, openWorkbook, WorkbookError } from "../../src/xlsx/index.ts";
import { newEntry, pack, writeZip } from "../../src/xlsx/file/write-zip.ts";
import { type Said, sheetAt, sparespan } from "../cli/session.ts";

/** Files as large, or as odd, as files can be: each gives an answer or a sentence, and none hangs. */
const folder = mkdtempSync(join(tmpdir(), "sparespan-extremes-"));
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

const MINUTES = 600_000;
const MEGABYTE = 1 << 20;
const TOO_LARGE = "is too large to be opened safely: split it into smaller workbooks.";
const SHEET = "xl/worksheets/sheet1.xml";
const BOOK = "xl/workbook.xml";
const STYLES = "xl/styles.xml";

/** A small register, as rows of cells. */
const ROWS: readonly (readonly CellValue[])[] = [
  ["Device", "Site", "Electrode set replaced", "Ear cushion replaced"],
  ["VR-101", "S01", 46000, 46010],
  ["VR-102", "S02", 46020, 46030],
];

function register(rows: readonly (readonly CellValue[])[] = ROWS): Uint8Array {
  const cells = rows.flatMap((line, row) =>
    line.map((value, column): SheetCell => ({
      row,
      column,
      value,
      ...(typeof value === "number" ? { format: "yyyy-mm-dd" } : {}),
    })),
  );
  const sheet = { kind: "addSheet", sheet: "Kit", cells, widths: [], freezeRows: 1 } as const;
  return newWorkbook({ summary: "a register", edits: [sheet] }, { codec: NODE_CODEC });
}

/** A book with the text of one of its parts changed. */
function patched(bytes: Uint8Array, path: string, change: (text: string) => string): Uint8Array {
  const parts = unzipSync(bytes);
  const text = change(strFromU8(parts[path] ?? new Uint8Array()));
  return zipSync({ ...parts, [path]: strToU8(text) }, { level: 1 });
}

function kept(name: string, bytes: Uint8Array): string {
  const path = join(folder, name);
  writeFileSync(path, bytes);
  return path;
}

function opening(bytes: Uint8Array): () => unknown {
  return () => openWorkbook(bytes, { codec: NODE_CODEC });
}

/** The columns are added, or a sentence says why not. */
async function columnsOn(name: string, bytes: Uint8Array): Promise<Said & { readonly to: string }> {
  const to = join(folder, `with-columns-${name}`);
  rmSync(to, { force: true });
  return { ...(await sparespan("columns", kept(name, bytes), "-o", to)), to };
}

describe("archives", () => {
  /** A book with so many parts more, each of so many blanks; they are packed once. */
  function stuffed(count: number, size: number): Uint8Array {
    const filler = pack(new Uint8Array(size).fill(32), NODE_CODEC);
    const parts = Object.entries(unzipSync(register())).map(([name, content]) =>
      newEntry(name, pack(content, NODE_CODEC)),
    );
    const more = Array.from({ length: count }, (_, at) => newEntry(`xl/media/x${at}.bin`, filler));
    return writeZip([...parts, ...more]);
  }

  it("whose many parts together would fill the memory are refused before anything is unpacked", () => {
    const bytes = stuffed(1001, MEGABYTE);
    expect(bytes.length).toBeLessThan(8 * MEGABYTE);
    const before = process.memoryUsage.rss();
    expect(opening(bytes)).toThrow(TOO_LARGE);
    expect(process.memoryUsage.rss() - before).toBeLessThan(64 * MEGABYTE);
  });

  it("with fifteen thousand parts are opened, with more than twenty thousand refused", () => {
    expect(openWorkbook(stuffed(15_000, 10)).snapshot.sheets).toHaveLength(1);
    expect(opening(stuffed(20_001, 10))).toThrow(TOO_LARGE);
    expect(opening(stuffed(65_535, 0))).toThrow(WorkbookError);
  });
});

describe("XML made to hang or to fill the memory", () => {
  const levels = Array.from({ length: 30 }, (_, at) => {
    const inner = at === 0 ? "ha" : `&e${at - 1};`.repeat(10);
    return `<!ENTITY e${at} "${inner}">`;
  });
  const bomb = `<!DOCTYPE x [${levels.join("")}]>`;

  it.each(["_rels/.rels", BOOK, "xl/_rels/workbook.xml.rels", STYLES, SHEET])(
    "entities that grow tenfold thirty times in %s are refused",
    (path) => {
      const bytes = patched(register(), path, (text) =>
        text.replace(/(<\?xml[^>]*>)?/, `$1${bomb}`),
      );
      expect(opening(bytes)).toThrow(
        `(${path}: it holds a document type, which workbooks never need)`,
      );
    },
  );

  it("a document type in the list of parts is found when parts are added, and nothing is written", async () => {
    const bytes = patched(register(), "[Content_Types].xml", (text) => bomb + text);
    const { code, err } = await columnsOn("types.xlsx", bytes);
    expect(code).toBe(2);
    expect(err).toContain("it holds a document type, which workbooks never need");
  });

  it(
    "a million open elements, a hundred thousand attributes and a megabyte of references are read",
    () => {
      const deep = "<a>".repeat(1e6) + "</a>".repeat(1e6);
      const wide = Array.from({ length: 1e5 }, (_, at) => ` a${at}="${at}"`).join("");
      const odd = `<extLst><b${wide}/>${"&amp;".repeat(2e5)}${deep}</extLst></worksheet>`;
      const bytes = patched(register(), SHEET, (text) => text.replace("</worksheet>", odd));
      expect(openWorkbook(bytes).snapshot.sheets[0]?.values).toEqual(ROWS);
    },
    MINUTES,
  );
});

describe("sheets at the edges of the grid", () => {
  it(
    "1,048,576 filled rows are read, and each without a device is told",
    () => {
      const tail = Array.from(
        { length: 1_048_576 - ROWS.length },
        (_, at) =>
          `<row r="${at + ROWS.length + 1}"><c r="B${at + ROWS.length + 1}"><v>7</v></c></row>`,
      );
      const bytes = patched(register(), SHEET, (text) =>
        text.replace("</sheetData>", `${tail.join("")}</sheetData>`),
      );
      const { snapshot } = openWorkbook(bytes, { codec: NODE_CODEC });
      const reading = readWorkbook(snapshot, day("2026-07-06"));
      const { devices, problems } = reading;
      const left = 1_048_576 - ROWS.length;
      expect([devices.length, onlyRegister(reading).leftOut.length]).toEqual([2, left]);
      expect(problems.filter(({ kind }) => kind === "device missing")).toHaveLength(left);
    },
    5 * MINUTES,
  );

  it(
    "130,000 devices are checked, listed and given their columns",
    async () => {
      const fleet = Array.from({ length: 130_000 }, (_, at) => [`VR-${at}`, "S01", 45000, 45010]);
      const path = kept("fleet.xlsx", register([ROWS[0] ?? [], ...fleet]));
      const today = await sparespan("today", path);
      expect(today.out).toContain(": 130000 devices. Parts: Overdue 260000 ");
      const to = join(folder, "fleet-with-columns.xlsx");
      expect((await sparespan("columns", path, "-o", to, "--as", "values")).code).toBe(0);
      expect(sheetAt(to, "Kit").values).toHaveLength(130_001);
    },
    5 * MINUTES,
  );

  it("a cell in the last column leaves no room: a sentence, and no file", async () => {
    const bytes = patched(register(), SHEET, (text) =>
      text.replace("</row>", '<c r="XFD1" t="str"><v>edge</v></c></row>'),
    );
    const { code, err } = await columnsOn("wide.xlsx", bytes);
    expect(code).toBe(2);
    expect(err).toMatch(/Kit has no room left: the plan writes beyond the grid\.\n$/);
  });

  it(
    "16,384 headings are read",
    async () => {
      const heads = Array.from({ length: 16_384 }, (_, at) => ROWS[0]?.[at] ?? `Own ${at}`);
      const { code, out } = await sparespan(
        "check",
        kept("heads.xlsx", register([heads, ...ROWS.slice(1)])),
      );
      expect(code).toBeLessThan(2);
      expect(out).toContain("; 2 devices, 0 rows left out.");
    },
    MINUTES,
  );
});

describe("texts at the edge of a cell", () => {
  const longest = "x".repeat(32_767);
  const long = register([
    [...(ROWS[0] ?? []), longest],
    ["VR-101", "S01", 46000, 46010, longest],
    [longest, longest, 46000, 46010, null],
  ]);

  it("of 32,767 characters as heading, device and site are read, and stay as they are", async () => {
    const { code, err, to } = await columnsOn("long.xlsx", long);
    expect(code, err).toBeLessThan(2);
    const sheet = sheetAt(to, "Kit");
    for (const [row, column] of [
      [0, 4],
      [1, 4],
      [2, 0],
      [2, 1],
    ] as const)
      expect(valueAt(sheet, row, column)).toBe(longest);
  });

  it("longer ones in a file are left as they are, and refused where they would be copied", async () => {
    const longer = "y".repeat(40_000);
    const bytes = patched(long, SHEET, (text) =>
      text.replace(new RegExp(`(r="E2"[^>]*><is><t>)${longest}`), `$1${longer}`),
    );
    const { code, to } = await columnsOn("longer.xlsx", bytes);
    expect(code).toBeLessThan(2);
    expect(valueAt(sheetAt(to, "Kit"), 1, 4)).toBe(longer);
    const site = patched(long, SHEET, (text) =>
      text.replace(new RegExp(`(r="B2"[^>]*><is><t>)S01`), `$1${longer}`),
    );
    const refused = await columnsOn("site.xlsx", site);
    expect(refused.code).toBe(2);
    expect(refused.err).toContain("has 40000 characters and a cell holds 32767: shorten it.");
  });

  it("a longer note is refused in a sentence, and nothing is written", async () => {
    const path = kept("note.xlsx", register());
    const before = readFileSync(path);
    const job = ["--device", "VR-101", "--part", "SET", "--job", "inspected", "--by", "LS1"];
    const note = ["--note", "z".repeat(32_768)];
    const { code, err } = await sparespan("log", path, ...job, ...note, "--in-place");
    expect(code).toBe(2);
    expect(err).toMatch(
      /^sparespan: The text for Job log!I4 has 32768 characters and a cell holds 32767: shorten it\.\n$/,
    );
    expect(readFileSync(path).equals(before)).toBe(true);
  });
});

describe("sheets that lie", () => {
  it.each(["A1", "A1:XFD1048576", "Z9:A1", "nonsense", ""])(
    "about their used range, %j: the cells count",
    async (ref) => {
      const bytes = patched(register(), SHEET, (text) =>
        text.replace(/<dimension ref="[^"]*"/, `<dimension ref="${ref}"`),
      );
      const { code, to } = await columnsOn("dimension.xlsx", bytes);
      expect(code).toBeLessThan(2);
      expect(
        sheetAt(to, "Kit")
          .values.slice(0, 3)
          .map((row) => row.slice(0, 4)),
      ).toEqual(ROWS);
    },
  );

  const row = (number: number, cells: string): string => `<row r="${number}">${cells}</row>`;
  const cell = (place: string): string => `<c r="${place}" t="str"><v>${place}</v></c>`;
  it.each([
    ["rows out of order", row(9, cell("A9")) + row(8, cell("A8")), "its rows are out of order"],
    ["a row twice", row(9, cell("A9")) + row(9, cell("A9")), "its rows are out of order"],
    ["cells out of order", row(9, cell("B9") + cell("A9")), "the cells of row 9 are out of order"],
    ["a cell twice", row(9, cell("A9") + cell("A9")), "the cells of row 9 are out of order"],
    ["a row beyond the last", row(1_048_577, ""), "it has a row 1048577"],
    ["a row of no number", row(0, ""), "it has a row 0"],
    [
      "a text before the first",
      '<row r="9"><c t="s"><v>-1</v></c></row>',
      "a text -1 that is not there",
    ],
    ["half a text", '<row r="9"><c t="s"><v>0.5</v></c></row>', "a text 0.5 that is not there"],
  ])("%s is refused when it is read, before anything could be lost", (_, xml, why) => {
    const bytes = patched(register(), SHEET, (text) =>
      text.replace("</sheetData>", `${xml}</sheetData>`),
    );
    expect(opening(bytes)).toThrow(why);
  });
});

describe("books with thousands of everything", () => {
  it(
    "30,000 names stay, and ours are added",
    async () => {
      const names = Array.from(
        { length: 30_000 },
        (_, at) => `<definedName name="Theirs_${at}">Kit!$A$${(at % 9) + 1}</definedName>`,
      );
      const bytes = patched(register(), BOOK, (text) =>
        text.replace("</sheets>", `</sheets><definedNames>${names.join("")}</definedNames>`),
      );
      const { code, to } = await columnsOn("names.xlsx", bytes);
      expect(code).toBeLessThan(2);
      const found = openWorkbook(readFileSync(to)).snapshot.names.map(({ name }) => name);
      expect(found.filter((name) => name.startsWith("Theirs_"))).toHaveLength(30_000);
      expect(found.some((name) => name.startsWith("Spare"))).toBe(true);
    },
    2 * MINUTES,
  );

  it(
    "150,000 shared formulas stay",
    async () => {
      const rows = Array.from({ length: 150_000 }, (_, at) => {
        const number = at + 5;
        return `<row r="${number}"><c r="D${number}"><f t="shared" ref="D${number}" si="${at}">1+${at}</f><v>1</v></c></row>`;
      });
      const bytes = patched(register(), SHEET, (text) =>
        text.replace("</sheetData>", `${rows.join("")}</sheetData>`),
      );
      const { code, err, to } = await columnsOn("formulas.xlsx", bytes);
      expect(code, err).toBeLessThan(2);
      const { formulas } = sheetAt(to, "Kit");
      expect([...formulas.values()].filter((text) => /^1\+\d+$/.test(text))).toHaveLength(150_000);
    },
    2 * MINUTES,
  );

  it(
    "64,000 cell formats with 4,000 number formats stay; where no more fit, a sentence says so",
    async () => {
      const grown = (count: number): Uint8Array => {
        const formats = Array.from(
          { length: 4000 },
          (_, at) => `<numFmt numFmtId="${200 + at}" formatCode="0&quot; ${at}&quot;"/>`,
        );
        const cells = Array.from(
          { length: count },
          (_, at) =>
            `<xf numFmtId="${200 + (at % 4000)}" fontId="0" fillId="0" borderId="0" xfId="0"><alignment indent="${Math.floor(at / 4000)}"/></xf>`,
        );
        return patched(register(), STYLES, (text) =>
          text
            .replace(/<numFmts.*?<\/numFmts>/, (list) =>
              list.replace("</numFmts>", `${formats.join("")}</numFmts>`),
            )
            .replace("</cellXfs>", `${cells.join("")}</cellXfs>`),
        );
      };
      const { code, err } = await columnsOn("styles.xlsx", grown(64_000));
      expect(code, err).toBeLessThan(2);
      const full = await columnsOn("full.xlsx", grown(65_490));
      expect(full.code).toBe(2);
      expect(full.err).toContain("cell formats");
    },
    2 * MINUTES,
  );

  it(
    "a book of many sheets that are all empty holds no register: a sentence",
    async () => {
      const edits = Array.from({ length: 600 }, (_, at) => ({
        kind: "addSheet" as const,
        sheet: `Empty ${at}`,
        cells: [],
        widths: [],
        freezeRows: 0,
      }));
      const bytes = newWorkbook({ summary: "sheets", edits }, { codec: NODE_CODEC });
      const { code, err } = await sparespan("check", kept("sheets.xlsx", bytes));
      expect(code).toBe(2);
      expect(err).toMatch(/^sparespan: no equipment register found: /);
    },
    MINUTES,
  );
});
