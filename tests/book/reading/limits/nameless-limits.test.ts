import { describe, expect, it } from "vitest";
import { readBook } from "../../../../src/book/reading/read.ts";
import { doubtsSay } from "../../../../src/book/records/doubts.ts";
import { bookOf, on, oursOf, sheetOf, type Typed } from "../../../scenes/scene.ts";

const LAST = ["2026-03-05", "2026-04-10", "2026-05-15", "2026-05-30"].map(on);
const DUE = ["2026-05-05", "2026-06-10", "2026-07-15", "2026-07-30"].map(on);

function said(heading: string, cells: readonly Typed[]): string[] {
  const rows = LAST.map((last, at): Typed[] => [`H-${at + 1}`, last, cells[at] ?? null]);
  const book = bookOf([sheetOf("Kit", [["Device", "Electrode set replaced", heading], ...rows])]);
  return doubtsSay(readBook(book, oursOf()));
}

describe("columns that may be limits without saying so", () => {
  it.each([
    ["", DUE, /^Nothing is read from column C, whose dates are 2 months after those under "Elec/],
    ["Date", DUE, /^Nothing is read from "Date", whose dates are 2 months after/],
    ["XY", DUE, /^Nothing is read from "XY", whose dates are 2 months after/],
    ["", [2, 2, 2, 2], /^Nothing is read from column C, whose numbers stand right beside/],
    ["Months", [2, 2, 3, 2], /^Nothing is read from "Months", whose numbers/],
    ["Monate", [2, 2, 2, 2], /^Nothing is read from "Monate", whose numbers/],
  ] as [string, Typed[], RegExp][])("are told first: %j %j", (heading, cells, sentence) => {
    expect(said(heading, cells)[0]).toMatch(sentence);
  });

  it.each([
    // Moved back to a working day, and 60 days each.
    [["2026-05-05", "2026-06-08", "2026-07-13", "2026-07-30"], "about 2 months"],
    [["2026-05-04", "2026-06-09", "2026-07-14", "2026-07-29"], "about 2 months"],
    [["2026-03-26", "2026-05-01", "2026-06-05", "2026-06-20"], "about 21 days"],
  ])("are told where their dates are nearly as long after: %s", (dates, time) => {
    expect(said("", dates.map(on))[0]).toContain(`column C, whose dates are ${time} after those`);
  });

  it("are not told where all was done on one day, which is as long after any other", () => {
    const rows = LAST.map((_, at): Typed[] => [`H-${at + 1}`, LAST[0] ?? null, on("2026-05-01")]);
    const heads = ["Device", "Electrode set replaced", "Painted"];
    expect(doubtsSay(readBook(bookOf([sheetOf("Kit", [heads, ...rows])]), oursOf()))).toEqual([]);
  });

  it.each([
    [
      "dates of something else",
      "Seen",
      ["2026-04-01", "2026-05-02", "2026-05-20", "2026-06-09"].map(on),
    ],
    ["numbers of the rows", "", [1, 2, 3, 4]],
    ["numbers under a heading of their own", "Room", [2, 2, 2, 2]],
    ["nothing", "", [null, null, null, null]],
  ] as [string, string, Typed[]][])("are not told for %s", (_, heading, cells) => {
    expect(said(heading, cells)).toEqual([]);
  });
});
