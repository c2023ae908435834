import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type CellSource, formulaOf, readRows } from "../../src/xlsx/read/cells.ts";
import { decode, encode } from "../../src/xlsx/file/codec.ts";

/**
 * The same cells in the spelling that is read at once, and with spaces in their tags, which are read token by token
 * (ECMA-376 part 1, 18.3.1.4, lets both stand).
 */
const TYPES = ["", ' t="n"', ' t="s"', ' t="str"', ' t="b"', ' t="e"', ' t="inlineStr"', ' t="d"'];
const VALUES = [
  "",
  "0",
  "1",
  "7",
  "007",
  "46000.5",
  "-3",
  "1e3",
  " 5 ",
  "1234567890",
  "D1",
  "#N/A",
];
const TEXTS = ["a&amp;b", "_x0041_", "a\nb", "<![CDATA[x]]>", "é", "true"];
const INSIDE = [
  "",
  '<f t="shared" si="0"/>',
  '<f t="shared" si="9"/>',
  "<f>B1*2</f>",
  '<f t="shared" ref="A1:A9" si="3">C1</f>',
];

interface Written {
  readonly style: string;
  readonly type: string;
  readonly formula: string;
  readonly value: string;
  readonly form: string;
  readonly skip: number;
}

const cell: fc.Arbitrary<Written> = fc.record({
  style: fc.constantFrom("", ' s="0"', ' s="12"', ' s="12345678901"'),
  type: fc.constantFrom(...TYPES),
  formula: fc.constantFrom(...INSIDE),
  value: fc.constantFrom(...VALUES, ...TEXTS),
  form: fc.constantFrom("value", "text", "bare", "both"),
  skip: fc.nat(2),
});

/** A row of such cells, written with this between the parts of a tag. */
function written(cells: readonly Written[], space: string): string {
  let column = -1;
  const xml = cells.map(({ style, type, formula, value, form, skip }) => {
    column += 1 + skip;
    const head = `<c${space} r="${String.fromCharCode(65 + column)}1"${style}${type}`;
    if (form === "bare") return `${head}/>`;
    const inside = form === "text" ? `<is><t>${value}</t></is>` : `${formula}<v>${value}</v>`;
    return `${head}>${inside}${form === "both" ? "<v>2</v>" : ""}</c>`;
  });
  return `<row r="1">${xml.join("")}</row>`;
}

function read(text: string): unknown {
  const rows = { part: "sheet", bytes: encode(text), decode };
  const source: CellSource = {
    strings: {
      texts: ["none", "one", "two", "three", "four", "five", "six", "seven"],
      struck: new Set(),
    },
    dateSystem: 1900,
    shared: new Map([[0, { row: 0, column: 0, text: "D1", pieces: ["", "", ""], steps: [-4, 0] }]]),
    blocks: [],
  };
  const found: unknown[] = [];
  try {
    readRows(rows, source, {
      cell: (one) =>
        found.push([one.row, one.column, one.style, one.value, formulaOf(one), one.array]),
    });
  } catch (error) {
    return String(error);
  }
  return found;
}

describe("cells in the usual spelling", () => {
  it("are read as the same cells in any other are", () => {
    let cells = 0;
    fc.assert(
      fc.property(fc.array(cell, { minLength: 1, maxLength: 6 }), (row) => {
        const plain = read(written(row, ""));
        if (Array.isArray(plain)) cells += plain.length;
        expect(plain).toEqual(read(written(row, " ")));
      }),
      { numRuns: 3000 },
    );
    expect(cells).toBeGreaterThan(1000);
  });
});
