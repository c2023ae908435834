import { describe, expect, it } from "vitest";
import type { Day } from "../../../src/core/day.ts";
import { type ResultColumns, resultSheet } from "../../../src/book/sheets/result-sheet.ts";

interface Row {
  readonly name: string;
  readonly cost: number;
}

const ABOUT = { name: "Made up", title: "A title", table: "SpareMadeUp", about: "none", room: 10 };
/** So many columns that the next is the 27th: AA in ECMA-376, part 1, 18.3.1.4. */
const MANY = Object.fromEntries(
  Array.from({ length: 23 }, (_, at) => [
    `Blank ${at + 1}`,
    { width: 5, about: "Nothing.", cell: () => null },
  ]),
);

const SHEET = resultSheet({
  ...ABOUT,
  columns: {
    Name: { width: 9, about: "Who.", cell: ({ name }) => name },
    Cost: { width: 9, format: "0.00", about: "How much.", cell: ({ cost }) => cost },
    Paid: { width: 9, input: true, about: "Fill in." },
    ...MANY,
    Open: {
      width: 9,
      about: "Left to pay.",
      formula: (of) => `${of("Cost")}-${of("Paid")}`,
      cell: ({ cost }) => cost,
    },
  } satisfies ResultColumns<Row>,
  keys: ["Name"],
});

const filled = { reportDate: 46_143 as Day, notes: [], rows: [{ name: "A", cost: 3 }] };

describe("a sheet of results", () => {
  it("has layout and cells from the same columns, in the same order", () => {
    const { layout, rows, keys } = SHEET.filled(filled);
    const headings = layout.columns.map(({ heading }) => heading);
    expect(headings).toEqual(["Name", "Cost", "Paid", ...Object.keys(MANY), "Open"]);
    expect(rows).toEqual([["A", 3, null, ...Object.keys(MANY).map(() => null), 3]]);
    expect(layout.columns[1]).toEqual({
      heading: "Cost",
      width: 9,
      format: "0.00",
      about: "How much.",
    });
    expect(layout.columns[2]?.input).toBe(true);
    expect(keys).toEqual(["Name"]);
  });
  it("takes a title of its own, and leaves the layout's", () => {
    expect(SHEET.filled({ ...filled, title: "Another" }).layout.title).toBe("Another");
    expect(SHEET.filled(filled).layout.title).toBe("A title");
  });
  it("names cells by their headings, in formulas and for charts, past column Z", () => {
    expect(SHEET.layout.columns.at(-1)?.formula).toBe("B{r}-C{r}");
    // Title, three lines of notes and the headings stand above the first row.
    const place = { sheet: "It's", headingRow: 4, chartsFrom: null };
    expect(SHEET.reference(place, "Open", { first: 0, last: 1 })).toBe("'It''s'!$AA$6:$AA$7");
  });
  it("refuses a formula that asks for a column it has not", () => {
    const columns: ResultColumns<Row> = {
      Open: { width: 9, about: "None.", formula: (of) => of("Price"), cell: () => null },
    };
    expect(() => resultSheet({ ...ABOUT, columns })).toThrow("Made up has no column Price");
  });
});
