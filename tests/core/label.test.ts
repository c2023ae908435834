import { readFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { LABELPART } from "../../functions/label.ts";
import { day, isoText } from "../../src/core/day.ts";
import { InputError, NoAnswerError } from "../../src/core/errors.ts";
import { checkDigit, type Label, labelPart, readLabel } from "../../src/core/label.ts";
import type { Published } from "./published.ts";

const GS = "\u001d";
const none: Label = { item: null, lot: null, serial: null, made: null, expires: null };

const digits: readonly Published<string>[] = [
  {
    source: "GS1, How to calculate a check digit manually (text read)",
    given: "629104150021",
    value: 3,
  },
  { source: "GS1 Sweden, worked check digit (text read)", given: "730001100001", value: 7 },
  ...["02345673", "416000336108", "1234567890128", "12345678901231", "123456789012345675"].map(
    (number) => ({
      source: `GS1 Barcode Syntax Dictionary, tests of the check digit (text read): ${number}`,
      given: number.slice(0, -1),
      value: Number(number.slice(-1)),
    }),
  ),
];

const wholeLabel = "(01)51022222233336(11)141231(17)150707(10)A213B1(21)1234";
const labels: readonly Published<string, Label>[] = [
  {
    source: "FDA, UDI formats by issuing agency, version 1.3, 2017, GS1 example (text read)",
    given: wholeLabel,
    value: {
      ...{ item: "51022222233336", lot: "A213B1", serial: "1234" },
      ...{ made: day("2014-12-31"), expires: day("2015-07-07") },
    },
  },
  {
    source: "GS1 General Specifications, day 00 is the last of the month (text read elsewhere)",
    given: "(17)210300",
    value: { ...none, expires: day("2021-03-31") },
  },
  {
    source: "GS1 Barcode Syntax Dictionary, tests of yymmd0 (text read): 200600",
    given: "(17)200600",
    value: { ...none, expires: day("2020-06-30") },
  },
  {
    source: "GS1 Barcode Syntax Dictionary, tests of yymmdd (text read): 240229",
    given: "(11)240229",
    value: { ...none, made: day("2024-02-29") },
  },
];

describe("published", () => {
  for (const { source, given, value } of digits) {
    it(source, () => {
      expect(checkDigit(given)).toBe(value);
    });
  }
  for (const { source, given, value } of labels) {
    it(source, () => {
      expect(readLabel(given)).toEqual(value);
    });
  }
  it("GS1 Barcode Syntax Dictionary, tests of yymmdd (text read): three dates that are none", () => {
    for (const date of ["210229", "200431", "201310"]) {
      expect(() => readLabel(`(17)${date}`)).toThrow("with a date as yymmdd in (17)");
    }
  });
  it("GS1 Barcode Syntax Dictionary, tests of the check digit (text read): five that are wrong", () => {
    const wrong = ["12345673", "416000336109", "1234567890129", "12345678901232"];
    for (const number of [...wrong, "123456789012345670"]) {
      expect(checkDigit(number.slice(0, -1))).not.toBe(Number(number.slice(-1)));
    }
  });
  it("GS1 General Specifications, century of two digits (rule from memory): from any year looked from", () => {
    for (let from = 1960; from <= 2150; from += 5) {
      // Fifty years off the present two digits is this century: later before mid-century, earlier after.
      const back = from % 100 < 50 ? 49 : 50;
      for (let two = 0; two < 100; two += 1) {
        const label = `(17)${String(two).padStart(2, "0")}0115`;
        const { expires } = readLabel(label, from);
        const near = Array.from({ length: 100 }, (_, at) => from - back + at);
        const wanted = near.find((year) => year % 100 === two) ?? 0;
        expect(expires && isoText(expires)).toBe(`${wanted}-01-15`);
      }
    }
  });
  it("Our own choice, looked from 2000: 00 to 50 are this century, 51 to 99 the last", () => {
    const year = (two: string): string =>
      isoText(readLabel(`(17)${two}0101`).expires ?? day("1900-03-01"));
    expect(["00", "26", "50", "51", "99"].map(year)).toEqual([
      ...["2000-01-01", "2026-01-01", "2050-01-01", "1951-01-01", "1999-01-01"],
    ]);
  });
});

const made = JSON.parse(
  readFileSync(new URL("../reference/label.json", import.meta.url), "utf8"),
) as {
  readonly made: string;
  readonly rows: readonly {
    readonly scan: string;
    readonly gives: Readonly<Record<"01" | "10" | "21" | "11" | "17", string | null>>;
  }[];
};

describe(`second implementation: ${made.made}, labels put together from their parts`, () => {
  it("reads 400 labels, half bracketed, half raw, as they were put together", () => {
    expect(made.rows.length).toBe(400);
    for (const { scan, gives } of made.rows) {
      const label = readLabel(scan);
      const text = (date: Label["made"]): string | null => (date === null ? null : isoText(date));
      expect([scan, label.item, label.lot, label.serial]).toEqual([
        ...[scan, gives["01"], gives["10"], gives["21"]],
      ]);
      expect([text(label.made), text(label.expires)]).toEqual([gives["11"], gives["17"]]);
    }
  });
});

const plain = fc.stringMatching(/^[!"%&'*-9:;<=>?A-Z_a-z]{1,20}$/);

describe("properties", () => {
  it("bracketed and raw say the same; lot and serial stay the text they are", () => {
    const check = fc.property(plain, plain, (lot, serial) => {
      const one = readLabel(`(01)09506000134352(10)${lot}(21)${serial}`);
      expect(one).toMatchObject({ item: "09506000134352", lot, serial });
      expect(readLabel(`010950600013435210${lot}${GS}21${serial}`)).toEqual(one);
      expect(readLabel(`]d2${GS}21${serial}${GS}10${lot}${GS}0109506000134352\r\n`)).toEqual(one);
    });
    fc.assert(check);
  });
  it("one wrong digit in an item number never passes", () => {
    const body = fc.stringMatching(/^\d{13}$/);
    const check = fc.property(body, fc.nat(13), fc.integer({ min: 1, max: 9 }), (body, at, by) => {
      const number = `${body}${checkDigit(body)}`;
      expect(readLabel(`01${number}`).item).toBe(number);
      const other = (Number(number[at]) + by) % 10;
      const wrong = `${number.slice(0, at)}${other}${number.slice(at + 1)}`;
      expect(() => readLabel(`01${wrong}`)).toThrow("with a right check digit in (01)");
    });
    fc.assert(check);
  });
  it("never throws anything but our two errors, whatever is scanned", () => {
    const piece = fc.constantFrom(
      ...["01", "10", "17", "(", ")", "(01)", "(10)", GS, "]d2", "0", "9", "A"],
    );
    const scan = fc.oneof(
      fc.string(),
      fc.array(piece).map((pieces) => pieces.join("")),
    );
    const check = fc.property(scan, (given) => {
      try {
        readLabel(given);
      } catch (error) {
        expect(error).toBeInstanceOf(InputError);
      }
    });
    fc.assert(check, { numRuns: 3_000 });
  });
  it("walks over elements it does not give, of every known length", () => {
    const fixed = ["2007", "04" + "1".repeat(16)];
    for (const two of ["00", "01", "02", "03", "41"]) {
      const head = two === "41" ? "414" : two;
      const body = "1".repeat({ "00": 17, "41": 12 }[two] ?? 13);
      fixed.push(`${head}${body}${checkDigit(body)}`);
      // The last digit is checked, on a number that is not given as well.
      const wrong = `${head}${body}${(checkDigit(body) + 1) % 10}10L`;
      expect(() => readLabel(wrong)).toThrow(`with a right check digit in (${two})`);
    }
    for (let two = 11; two <= 19; two += 1) fixed.push(`${two}260131`);
    for (let two = 31; two <= 36; two += 1) fixed.push(`${two}03001250`);
    for (const element of fixed) {
      expect([element, readLabel(`${element}10L`).lot]).toEqual([element, "L"]);
      expect(() => readLabel(element.slice(0, -1))).toThrow(`digits in (${element.slice(0, 2)})`);
    }
    expect(readLabel(`${fixed.join("")}10L`).lot).toBe("L");
    expect(readLabel(`3712${GS}8008260101${GS}91x${GS}2105`)).toEqual({
      ...none,
      serial: "05",
    });
  });
  it("an element said twice alike is one", () => {
    expect(readLabel("(10)A(10)A").lot).toBe("A");
    expect(() => readLabel("(10)A(10)B")).toThrow("scan must be a GS1 label with one (10) only");
  });
  it("a lot that runs into the next element shows where it gets too long", () => {
    const lost = "10ABCDEFGHIJ21123456789012345";
    expect(() => readLabel(lost)).toThrow("with at most 20 characters in (10)");
  });
});

describe("bad input", () => {
  const faults: readonly [string, string][] = [
    ["", "a GS1 label, got a blank cell"],
    ["hello", "a GS1 label with identifiers known to GS1"],
    ["51022222233336", "a GS1 label with identifiers known to GS1"],
    ["]A0012345", "a GS1 label with identifiers known to GS1"],
    ["(1)5", "a GS1 label with identifiers known to GS1"],
    ["(101)5", "a GS1 label with identifiers known to GS1"],
    ["(24)5", "a GS1 label with identifiers known to GS1"],
    ["x(10)5", "a GS1 label with identifiers known to GS1"],
    ["(01)0950600013435", "a GS1 label with 16 digits in (01), identifier included"],
    ["010950600013435A", "a GS1 label with 16 digits in (01), identifier included"],
    ["1727", "a GS1 label with 8 digits in (17), identifier included"],
    ["(17)1502300", "a GS1 label with 8 digits in (17), identifier included"],
    ["(01)09506000134353", "a GS1 label with a right check digit in (01)"],
    ["(10)", "a GS1 label with GS1 characters only in (10)"],
    ["(10)A B", "a GS1 label with GS1 characters only in (10)"],
    ["(10)é", "a GS1 label with GS1 characters only in (10)"],
    ["(21)123456789012345678901", "a GS1 label with at most 20 characters in (21)"],
    ["(13)000000", "a GS1 label with a date as yymmdd in (13)"],
  ];
  for (const [scan, message] of faults) {
    it(`says of ${JSON.stringify(scan)}: ${message}`, () => {
      expect(() => readLabel(scan)).toThrow(InputError);
      expect(() => readLabel(scan)).toThrow(`scan must be ${message}`);
    });
  }
  it("names a part that is none and says what a label does not say", () => {
    expect(() => labelPart(wholeLabel, "colour")).toThrow(
      'part must be item, lot, serial, made or expires, got "colour"',
    );
    expect(() => labelPart(wholeLabel, "toString")).toThrow(InputError);
    expect(() => labelPart("(10)5", "expires")).toThrow(NoAnswerError);
    expect(() => labelPart("(10)5", "expires")).toThrow("the label has no element (17), expires");
    expect(() => readLabel("(10)5", 26)).toThrow(
      "seenFrom must be a year from 1951 to 9900, got 26",
    );
    expect(() => checkDigit("12a")).toThrow('digits must be digits only, got "12a"');
    expect(() => checkDigit("")).toThrow("digits must be digits only, got a blank cell");
  });
});

describe("in a cell", () => {
  it("answers row by row, text as text and dates as dates of the workbook", () => {
    const found = LABELPART.call([[wholeLabel, "(10)007", "x", null], "lot"]);
    expect(found).toMatchObject([["A213B1"], ["007"], [{ error: "#VALUE!" }], [""]]);
    expect(LABELPART.call([wholeLabel, ["made", "expires"]])).toEqual([
      [day("2014-12-31")],
      [day("2015-07-07")],
    ]);
    expect(LABELPART.call([wholeLabel, "expires"], 1462)).toBe(day("2015-07-07") - 1462);
    expect(LABELPART.call(["(21)1234", "serial"], 1462)).toBe("1234");
  });
});
