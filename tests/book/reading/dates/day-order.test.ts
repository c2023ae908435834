import { describe, expect, it } from "vitest";
import { mendingOf } from "../../../../src/book/day/mend.ts";
import type { Reading } from "../../../../src/book/records/records.ts";
import type { Snapshot } from "../../../../src/book/workbook/snapshot.ts";
import { bookOf, oursOf, sheetOf, type Typed } from "../../../scenes/scene.ts";
import { readBook } from "../../../../src/book/reading/read.ts";

const GERMAN = ["Gerät", "Standort", "Elektrodensatz gewechselt am"];

/** A register with these dates of electrode sets, as texts. */
function sets(headings: readonly string[], ...texts: readonly string[]): Snapshot {
  const rows = texts.map((text, at): Typed[] => [`G-${at + 1}`, "Nord", text]);
  return bookOf([sheetOf("Liste", [[...headings], ...rows])]);
}

const read = (book: Snapshot, dayOrder: "dmy" | "mdy" | null = null): Reading =>
  readBook(book, oursOf({ dayOrder }));
const mended = (book: Snapshot, reading = read(book)): string[] =>
  mendingOf(book, reading).cells.map(({ to }) => to);
const fixes = (book: Snapshot): string[] =>
  read(book).problems.flatMap(({ kind, fix }) => (kind === "text date" ? fix : []));

describe("the order of day and month in a column of texts", () => {
  it.each([
    ["Electrode set replaced (dd/mm/yyyy)", "2026-04-03"],
    ["Electrode set replaced (DD-MM-YY)", "2026-04-03"],
    ["Electrode set replaced [mm/dd/yyyy]", "2026-03-04"],
    ["Elektrodensatz gewechselt (TT/MM/JJJJ)", "2026-04-03"],
    ["Électrodes remplacées (jj/mm/aaaa)", "2026-04-03"],
  ])("is what its heading says: %s", (heading, meant) => {
    const book = sets(["Device", "Site", heading], "03/04/2026", "04/04/2026");
    expect(mended(book)).toEqual([meant, "2026-04-04"]);
  });

  it("is open where a text contradicts the heading", () => {
    const book = sets(
      ["Device", "Site", "Electrode set replaced (dd/mm/yyyy)"],
      "03/04/2026",
      "04/15/2026",
    );
    expect(mended(book)).toEqual([]);
    expect(fixes(book)[0]).toContain("mixes two orders of day and month");
  });

  it("is the language's only where that reading is not the later of the two", () => {
    // 3 April or 4 March; 2 May, else 5 February; 6 June either way.
    const book = sets(GERMAN, "03/04/2026", "05/02/2026", "06/06/2026");
    expect(mended(book)).toEqual(["2026-02-05", "2026-06-06"]);
    expect(fixes(book)).toEqual([
      "In German it is 2026-04-03, and it may be 2026-03-04: state in Setup whether the day or the month comes first, or type it as a date.",
      "In German it is 2026-02-05, the earlier of the two days it may be: type it as a date.",
      "Type 2026-06-06 as a date.",
    ]);
  });

  it("is settled by Setup before heading and language", () => {
    const book = sets(GERMAN, "03/04/2026");
    expect(mended(book, read(book, "mdy"))).toEqual(["2026-03-04"]);
    expect(mended(book, read(book, "dmy"))).toEqual(["2026-04-03"]);
  });

  it("is not the language's for a day of retirement, of which the earlier is not careful", () => {
    const headings = ["Gerät", "Elektrodensatz gewechselt am", "Ausgesondert am"];
    const rows: Typed[] = ["G-1", "01.06.2026", "05/02/2026"];
    const book = bookOf([sheetOf("Liste", [headings, rows])]);
    expect(mended(book)).toEqual(["2026-06-01"]);
  });

  it("stays no date until somebody types it", () => {
    const { devices } = read(sets(GERMAN, "05/02/2026"));
    expect(devices[0]?.lastDone.find(({ part }) => part === "SET")?.date).toBeNull();
  });
});
