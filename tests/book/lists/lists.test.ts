import { TextDecoder } from "node:util";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { columnValues } from "../../../src/book/lists/cell-values.ts";
import type { Decode } from "../../../src/book/lists/encoding.ts";
import { listBook, type ListForm } from "../../../src/book/lists/list-book.ts";
import { separated, separatorOf } from "../../../src/book/lists/separated.ts";
import type { CellValue } from "../../../src/book/workbook/snapshot.ts";

/** Lists as programs and people of several countries save them. */
const decode: Decode = (bytes, encoding) => {
  try {
    return new TextDecoder(encoding, { fatal: true, ignoreBOM: true }).decode(bytes);
  } catch {
    return null;
  }
};
const OPEN: ListForm = { encoding: null, separator: null };

function cellsOf(name: string, bytes: Uint8Array, form = OPEN): CellValue[][] {
  const rows: CellValue[][] = [];
  const [edit] = listBook([{ name, bytes }], form, decode).plan.edits;
  if (edit?.kind !== "addSheet") throw new Error("no sheet");
  for (const { row, column, value } of edit.cells) (rows[row] ??= [])[column] = value;
  return rows;
}

/** Letters beyond ASCII in encodings of one byte, from the tables of ISO/IEC 8859 and of the code pages. */
const BYTES: Readonly<Record<string, Readonly<Record<string, number>>>> = {
  "windows-1252": { ä: 0xe4, é: 0xe9, ß: 0xdf, "€": 0x80, ç: 0xe7, ñ: 0xf1, "’": 0x92 },
  "windows-1250": { ą: 0xb9, ś: 0x9c, ł: 0xb3, ó: 0xf3, ż: 0xbf, Ł: 0xa3, ź: 0x9f, ń: 0xf1 },
  "iso-8859-2": { ą: 0xb1, ś: 0xb6, ł: 0xb3, ó: 0xf3, ż: 0xbf, Ł: 0xa3, ź: 0xbc, ń: 0xf1 },
  "iso-8859-15": { œ: 0xbd, é: 0xe9, "€": 0xa4, û: 0xfb },
};

function encoded(text: string, encoding: string): Uint8Array {
  if (encoding === "utf-8") return new TextEncoder().encode(text);
  const codes = Array.from(text).flatMap((letter) => {
    const code = letter.charCodeAt(0);
    if (encoding === "utf-16le") return [code & 255, code >> 8];
    if (encoding === "utf-16be") return [code >> 8, code & 255];
    const byte = code < 128 ? code : BYTES[encoding]?.[letter];
    if (byte === undefined) throw new Error(`${letter} is not in the table of ${encoding}`);
    return [byte];
  });
  return Uint8Array.from(codes);
}

const MARKS = { "utf-8": [0xef, 0xbb, 0xbf], "utf-16le": [0xff, 0xfe], "utf-16be": [0xfe, 0xff] };

describe("the letters of a list", () => {
  const german = "Gerät;Straße\nA1;Schäferhof\n";
  const polish = "Nr urządzenia;Ośrodek\nA1;Źródło\n".replace("Ź", "ź");
  const french = "Unité;Cœur de site\nA1;Sûr\n";
  it.each([
    ["windows-1252", german],
    ["windows-1250", polish],
    ["iso-8859-2", polish],
    ["iso-8859-15", french],
    ["utf-8", polish],
    ["utf-16le", german],
    ["utf-16be", german],
  ])("stored as %s are read without being told", (encoding, text) => {
    const rows = text
      .trim()
      .split("\n")
      .map((line) => line.split(";"));
    expect(cellsOf("a.csv", encoded(text, encoding))).toEqual(rows);
    const mark = MARKS[encoding as keyof typeof MARKS] as readonly number[] | undefined;
    if (mark !== undefined) {
      const marked = Uint8Array.from([...mark, ...encoded(text, encoding)]);
      expect(cellsOf("a.csv", marked)).toEqual(rows);
    }
  });

  it("that depend on a guess are told with a word by which to see it", () => {
    const { lines } = listBook(
      [{ name: "a.csv", bytes: encoded(german, "windows-1252") }],
      OPEN,
      decode,
    );
    expect(lines.join(" ")).toContain(
      'windows-1252, such as in "Gerät"; if that is misspelt, say --encoding',
    );
    const certain = listBook([{ name: "a.csv", bytes: encoded(german, "utf-8") }], OPEN, decode);
    expect(certain.lines).toHaveLength(1);
  });

  it("are read as a person says", () => {
    // 0x8e is é in the encoding of old Macs (from memory of its table).
    const bytes = Uint8Array.from([
      ...encoded("Unit", "utf-8"),
      0x8e,
      ...encoded(";b\n1;2\n", "utf-8"),
    ]);
    expect(cellsOf("a.csv", bytes, { ...OPEN, encoding: "macintosh" })[0]?.[0]).toBe("Unité");
  });
});

describe("the cells of a list", () => {
  it.each(["\t", ";", "|", ","])(
    "are found between %j, with decimal commas and quotation marks",
    (separator) => {
      const quote = (text: string): string =>
        text.includes(separator) || /["\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
      const rows = [
        ["Unit", "Site", "Hours", "Note"],
        ["A1", "North", "1,5", 'a 5" cable'],
        ["A2", "South, upper floor", "22,25", "two\nlines; and more"],
        ["A3", "a|b", "3,75", ""],
      ];
      const text = rows.map((row) => row.map(quote).join(separator)).join("\r\n");
      const found = cellsOf("a.csv", encoded(text, "utf-8"));
      expect(found.map((row) => row[0])).toEqual(["Unit", "A1", "A2", "A3"]);
      expect(found.map((row) => row[1])).toEqual(rows.map((row) => row[1]));
      expect(found.map((row) => row[2])).toEqual(["Hours", 1.5, 22.25, 3.75]);
      expect(found[2]?.[3]).toBe("two\nlines; and more");
      expect(found[1]?.[3]).toBe('a 5" cable');
    },
  );

  it("come back from any text that follows RFC 4180", () => {
    const cell = fc.string({ unit: fc.constantFrom("a", '"', ",", ";", "\n", "\r\n", " ", "é") });
    const table = fc.array(fc.array(cell, { minLength: 2, maxLength: 4 }), { minLength: 1 });
    fc.assert(
      fc.property(table, (rows) => {
        const text = rows.map((row) =>
          row.map((one) => `"${one.replaceAll('"', '""')}"`).join(","),
        );
        const found = separated(`${text.join("\r\n")}\r\n`, ",");
        expect(found.rows.map(({ cells }) => cells)).toEqual(rows);
        expect(found.faults).toEqual([]);
      }),
    );
  });

  it("are separated as the first line of some programs says", () => {
    expect(cellsOf("a.csv", encoded("sep=|\nUnit|Note\nA1|a;b;c\n", "utf-8"))).toEqual([
      ["Unit", "Note"],
      ["A1", "a;b;c"],
    ]);
    expect(separatorOf("Unit;Uses;Hours\nA1;1,5;2,5\nA2;2,5;7,25\n")).toBe("semicolon");
    expect(separatorOf("just one\nword a line\n")).toBeNull();
  });
});

describe("what a cell of a list is", () => {
  it.each([
    ["whole numbers", ["12", "7", ""], [12, 7, null]],
    ["a decimal comma where one cell shows it", ["1,5", "1.250", "1.250,5"], [1.5, 1250, 1250.5]],
    ["a decimal point where one cell shows it", ["1.5", "1,250"], [1.5, 1250]],
    ["text where a mark may be both", ["1,500", "12"], ["1,500", 12]],
    ["text where cells contradict each other", ["1,5", "2.5", "3,250"], ["1,5", "2.5", "3,250"]],
    ["identifiers with noughts", ["0042", "117"], ["0042", "117"]],
    ["identifiers longer than a number", ["12345678901234567", "2"], ["12345678901234567", "2"]],
    [
      "spaces and apostrophes for thousands",
      ["1 250", "1'250", "1\u00a0250,5"],
      [1250, 1250, 1250.5],
    ],
    [
      "what looks like a number",
      ["1E5", "0x10", "Infinity", "=1+1"],
      ["1E5", "0x10", "Infinity", "=1+1"],
    ],
  ] as const)("%s", (_, texts, values) => {
    expect(columnValues(texts).values).toEqual(values);
  });

  it("a whole day year first is that day; any other date stays text", () => {
    const texts = ["2026-02-17", "2026-02-17 00:00:00", "17.02.2026", "02/03/2026", "2026-02-30"];
    const { values, days } = columnValues(texts);
    // 46070 is 2026-02-17: 46034 is 2026-01-12 in the examples of REPLACEAHEAD, 36 days before.
    expect(values).toEqual([46070, 46070, "17.02.2026", "02/03/2026", "2026-02-30"]);
    expect([...days]).toEqual([0, 1]);
  });
});

describe("a list that cannot be read", () => {
  const refused = (text: string | Uint8Array, form = OPEN): string => {
    const bytes = typeof text === "string" ? encoded(text, "utf-8") : text;
    try {
      listBook([{ name: "a.csv", bytes }], form, decode);
    } catch (error) {
      return (error as Error).message;
    }
    return "";
  };
  it.each([
    ["", "a.csv cannot be read as a list: it is empty"],
    ["one\ntwo\n", "no tab, semicolon, bar or comma separates its cells"],
    ['a;b\n1;"two\n3;4\n', "the quotation mark that opens in line 2 is never closed"],
    ['a;b\n1;"two" x\n3;4\n', "line 2 has text behind a closing quotation mark"],
    [
      "a;b\n1;2\n3;4;5\n6;7\n8;9;;10\n1;1\n",
      "line 3 has 3 cells where most lines have 2; line 5 has 4 cells",
    ],
    ["PK\u0003\u0004;a;b", "it is a workbook or another packed file"],
    [Uint8Array.from([65, 0, 0, 0, 66, 0, 0, 0]), "it holds zero bytes, so it is no text"],
  ])("%j: %s", (text, sentence) => {
    expect(refused(text)).toContain(sentence);
  });
  it("says so when the encoding that was said is another one", () => {
    expect(refused(Uint8Array.from([0xff, 0xfe, 0xfd]), { ...OPEN, encoding: "utf-8" })).toContain(
      "its bytes are not utf-8",
    );
  });
  it("names what is wrong in each of several files", () => {
    const files = ["a.csv", "b.csv"].map((name) => ({ name, bytes: new Uint8Array() }));
    expect(() => listBook(files, OPEN, decode)).toThrow(/a\.csv cannot .*; b\.csv cannot /);
  });
});

describe("the sheet of a list", () => {
  it("is called after its file, never like a sheet of ours or one that is there", () => {
    const bytes = encoded("a;b\n1;2\n", "utf-8");
    const names = ["Parts.csv", "parts (2).csv", "old/new: [x].csv", "x.csv", "x.tsv", ".csv"];
    const files = names.map((name) => ({ name, bytes }));
    const sheets = listBook(files, OPEN, decode).plan.edits.map((edit) =>
      edit.kind === "addSheet" ? edit.sheet : "",
    );
    expect(sheets).toEqual(["Parts list", "parts (2) list", "old new   x", "x", "x 2", "List"]);
  });
  it("tells lines that are shorter than most", () => {
    const bytes = encoded("a;b\n1;2\nbroken\n3;4\n5;6\n", "utf-8");
    expect(listBook([{ name: "x.csv", bytes }], OPEN, decode).lines.join()).toContain("line 3.");
  });
});
