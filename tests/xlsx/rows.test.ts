import { strFromU8, strToU8, unzipSync, zipSync } from "fflate";
import { describe, expect, it } from "vitest";
import { NODE_CODEC } from "../../src/cli/files.ts";
import { chance } from "../../src/book/demo/chance.ts";
import { newWorkbook, openWorkbook } from "../../src/xlsx/index.ts";
import { plainNumber } from "../../src/xlsx/read/plain-value.ts";
import { randomBook } from "../scenes/random-book.ts";

/** Rows spelt in ways XML lets stand (XML 1.0, productions 3, 15, 18 and 42): read as the same cells. */
const SHEET = /worksheets\/sheet1\.xml$/;
const BOOK = newWorkbook(randomBook(12, 3, 1900), { codec: NODE_CODEC });

function respelt(change: (text: string) => string): Uint8Array {
  const parts = Object.entries(unzipSync(BOOK)).map(([name, bytes]): [string, Uint8Array] => [
    name,
    SHEET.test(name) ? strToU8(change(strFromU8(bytes))) : bytes,
  ]);
  return zipSync(Object.fromEntries(parts), { level: 1 });
}

function firstSheet(bytes: Uint8Array): unknown {
  const [sheet] = openWorkbook(bytes).snapshot.sheets;
  return [sheet?.values, sheet?.formats, [...(sheet?.formulas ?? [])], sheet?.merges];
}

const SPELLINGS: readonly (readonly [string, (text: string) => string])[] = [
  ["lines and indents", (text) => text.replace(/<(row|c|\/row)\b/g, "\r\n  <$1")],
  ["comments that hold an end", (text) => text.replaceAll("<row", "<!--</row></sheetData>--><row")],
  ["a comment in a row", (text) => text.replace(/(<row r="5".*?)<c/, "$1<!--</row>--><c")],
  ["a comment behind the rows", (text) => `${text}<!--</sheetData>-->`],
  ["spaces in the ends of rows", (text) => text.replaceAll("</row>", "</row >")],
  ["spaces in some of them", (text) => text.replace(/(<row r="5".*?<\/row)>/, "$1 >")],
  ["spaces around the rows", (text) => text.replace("<sheetData>", "<sheetData >")],
  ["more in the tags of rows", (text) => text.replaceAll("<row", '<row spans="1:9" ph="é>"')],
  ["literal text", (text) => text.replace(/<t>(D0[^<]*)</g, "<t><![CDATA[$1]]><")],
  ["references", (text) => text.replaceAll("<t>D0", "<t>&#68;0")],
  ["the other quotes", (text) => text.replace(/<c r="(\w+)"/g, "<c r='$1'")],
  ["elements nobody knows", (text) => text.replaceAll("<row", '<x a="1"><row/></x><row')],
];

describe("rows spelt in another way", () => {
  it.each(SPELLINGS)("with %s are the same rows", (_, change) => {
    expect(firstSheet(respelt(change))).toEqual(firstSheet(BOOK));
  });

  it("with a prefix are the same rows", () => {
    const prefixed = respelt((text) =>
      text.replace(/<(\/?)(?=\w)/g, "<$1p:").replace("xmlns=", "xmlns:p="),
    );
    expect(firstSheet(prefixed)).toEqual(firstSheet(BOOK));
  });

  it("are refused where they stand twice", () => {
    const twice = respelt((text) => text.replace("</sheetData>", "</sheetData><sheetData/>"));
    expect(() => openWorkbook(twice)).toThrow(/it has its cells twice/);
  });
});

describe("numbers in plain digits", () => {
  it("are the numbers that Number makes of them", () => {
    const random = chance(5);
    let plain = 0;
    for (let count = 0; count < 20_000; count += 1) {
      const whole = String(random.below(10 ** (1 + random.below(9))));
      const places = String(random.below(10 ** (1 + random.below(9))));
      const text = random.share() < 0.2 ? whole : `${whole}.${places}`;
      const bytes = strToU8(text);
      const number = plainNumber(bytes, 0, bytes.length);
      if (number === null) continue;
      plain += 1;
      expect(number).toBe(Number(text));
    }
    expect(plain).toBeGreaterThan(10_000);
    for (const other of ["", ".5", "5.", "1e3", "-1", "0x1", "1.5.2", " 1", "12345678901234567"]) {
      expect(plainNumber(strToU8(other), 0, other.length)).toBeNull();
    }
  });
});
