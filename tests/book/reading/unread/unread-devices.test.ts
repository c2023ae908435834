import { describe, expect, it } from "vitest";
import { doubtsSay } from "../../../../src/book/records/doubts.ts";
import { on, readSheets, sheetOf, type Typed } from "../../../scenes/scene.ts";

const MAY = on("2026-05-04");
const REGISTER = sheetOf("Kit", [
  ["Device", "Site", "Electrode set replaced", "Ear cushion replaced"],
  ["HS-01", "Alder", MAY, MAY],
  ["HS-02", "Birch", MAY, MAY],
]);

function say(name: string, rows: readonly Typed[][]): string[] {
  return doubtsSay(readSheets([REGISTER, sheetOf(name, rows)])).map(
    (text) => /register: (.*); it is not read/.exec(text)?.[1] ?? text,
  );
}

describe("sheets that are not read and list devices", () => {
  it.each([
    [
      "words for the device that nobody knows",
      [
        ["Lent box", "Where", "Electrodes"],
        ["HS-77", "Alder", MAY],
      ],
    ],
    [
      "other numbers under words of parts",
      [
        ["Aparato prestado", "Lugar", "Fecha electrodos"],
        ["HS-77", "Haya", MAY],
      ],
    ],
    ["no headings, numbers alike", [["HS-77", "Alder", MAY]]],
    ["no headings, laid out alike", [["HS-77x", "Alder", MAY, MAY]]],
    [
      "known devices beside others",
      [
        ["What", "When"],
        ["HS-01", MAY],
        ["HS-77", MAY],
      ],
    ],
    ["dates as text", [["HS-77", "Alder", "04.05.2026"]]],
    [
      "a card of its own",
      [
        ["Lent box", "HS-77"],
        ["Where", "Alder"],
        ["Electrodes", MAY],
        ["Ear cups", MAY],
      ],
    ],
    ...["electrodes 9 Feb", "Elektroden am 9. Februar gewechselt", "électrodes 09/02"].map(
      (note): [string, Typed[][]] => [
        `days in notes: ${note}`,
        [
          ["Device", "Notes"],
          ["HS-77", note],
        ],
      ],
    ),
  ] as [string, Typed[][]][])("are named: %s", (_, rows) => {
    expect(say("More", rows)[0]).toMatch(/^HS-77x?$/);
  });

  it.each([
    [
      "holidays",
      [
        ["Day", "Name"],
        [MAY, "Spring day"],
        [on("2026-12-25"), "Winter day"],
      ],
    ],
    [
      "orders",
      [
        ["Item", "Ordered on", "Price"],
        ["EL-01", MAY, 100],
        ["EL-02", MAY, 40],
      ],
    ],
    [
      "people",
      [
        ["Who", "Trained on"],
        ["Team A lead", MAY],
        ["Night nurse", MAY],
      ],
    ],
    [
      "what is done with known devices",
      [
        ["Device", "Shown to staff"],
        ["HS-01", MAY],
        ["HS-02", MAY],
      ],
    ],
    ["rooms without a date", [["Room"], ["HS-77"]]],
    [
      "notes without a day",
      [
        ["Room", "Notes"],
        ["HS-77", "2 electrodes in the drawer, 3 may be lent"],
      ],
    ],
    [
      "invoices by number",
      [
        ["No", "Paid"],
        [1041, MAY],
        [1042, MAY],
      ],
    ],
  ] as [string, Typed[][]][])("are no other lists: %s", (_, rows) => {
    expect(say("More", rows)).toEqual([]);
  });
});

describe("a second block beside the register", () => {
  const beside = (cells: readonly Typed[], headings: readonly Typed[] = []): string[] =>
    doubtsSay(
      readSheets([
        sheetOf("Kit", [
          ["Device", "Site", "Electrode set replaced", null, ...headings],
          ["HS-01", "Alder", MAY, null, ...cells],
          ["HS-02", "Birch", MAY],
        ]),
      ]),
    );
  it("without headings is told where its codes are like the register's and have a day", () => {
    expect(beside(["HS-77", "Birch", MAY])[0]).toMatch(
      /^Beside the register on Kit, from column E on, .* without headings: HS-77; it is not read/,
    );
  });
  it.each([
    ["no day", ["HS-77", "Birch"], []],
    ["a known device", ["HS-01", MAY], []],
    ["other codes", ["R12", MAY], []],
    ["under headings", ["HS-77", MAY], ["Lent in place of", "Lent on"]],
  ] as [string, Typed[], Typed[]][])("is none: %s", (_, cells, headings) => {
    expect(beside(cells, headings)).toEqual([]);
  });
});
