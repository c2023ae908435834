import { describe, expect, it } from "vitest";
import { readBook } from "../../../../src/book/reading/read.ts";
import { doubtsSay } from "../../../../src/book/records/doubts.ts";
import { bookOf, on, oursOf, sheetOf, type Typed } from "../../../scenes/scene.ts";

const MAY = on("2026-05-04");
const JULY = on("2026-07-04");

/** Told on the first lines; invented registers. */
function said(heading: string, own: readonly Typed[]): string[] {
  const rows = own.map((limit, at): Typed[] => [`H-${at + 1}`, MAY, limit]);
  const book = bookOf([sheetOf("Kit", [["Device", "Electrode set replaced", heading], ...rows])]);
  return doubtsSay(readBook(book, oursOf()));
}

describe("limits of its own that the fewer rows have", () => {
  it("are told first for the others, where ours counts", () => {
    expect(said("Electrode interval", [2, null, null, 2])[0]).toMatch(
      /^"H-2" and "H-3" have no interval under "Electrode interval", where others have 2 months: ours counts/,
    );
    expect(said("Electrode set next due", [JULY, null, null])[0]).toMatch(
      /^"H-2" and "H-3" have no date under "Electrode set next due", where others have one that is earlier/,
    );
  });

  it.each([
    ["a dash says that there is none", "Electrode interval", [2, "–", "-", "n/a"]],
    ["none of them is stricter than ours", "Electrode interval", [6, 6, null, null]],
    ["there is none at all", "Electrode set next due", [null, null]],
  ])("are not told where %s", (_, heading, own) => {
    expect(said(heading, own)).toEqual([]);
  });
});
