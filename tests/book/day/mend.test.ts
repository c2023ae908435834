import { describe, expect, it } from "vitest";
import { mendingOf } from "../../../src/book/day/mend.ts";
import { readBook } from "../../../src/book/reading/read.ts";
import type { Snapshot } from "../../../src/book/workbook/snapshot.ts";
import { day } from "../../../src/core/day.ts";
import { bookOf, on, oursOf, sheetOf, type Typed } from "../../scenes/scene.ts";

const HEAD = ["Device", "Site", "Electrode set replaced", "Ear cushion replaced"];

function mended(rows: readonly (readonly Typed[])[], more: Partial<Snapshot> = {}) {
  const snapshot = bookOf([sheetOf("Equipment", [HEAD, ...rows])], more);
  return mendingOf(snapshot, readBook(snapshot, oursOf()));
}

describe("what is certain in a workbook", () => {
  it("is a text that is one date only, and stray spaces", () => {
    const { cells, change } = mended([
      ["VR-01 ", "S01", "14/03/2026", on("2026-03-01")],
      ["VR-02", "S01", "04/05/2026", on("2026-03-01")],
      ["VR-03", "S01", on("2026-03-01"), "2026-04-12"],
    ]);
    expect(cells).toEqual([
      { sheet: "Equipment", cell: "A2", from: '"VR-01 "', to: "VR-01" },
      { sheet: "Equipment", cell: "C2", from: '"14/03/2026"', to: "2026-03-14" },
      // The 14th above says that the day comes first in this column.
      { sheet: "Equipment", cell: "C3", from: '"04/05/2026"', to: "2026-05-04" },
      { sheet: "Equipment", cell: "D4", from: '"2026-04-12"', to: "2026-04-12" },
    ]);
    expect(change.summary).toBe("4 cells mended");
    const blocks = change.edits?.flatMap((edit) => (edit.kind === "fillCells" ? edit.blocks : []));
    expect(blocks?.find(({ column }) => column === 3)).toEqual({
      column: 3,
      rows: [3],
      values: [day("2026-04-12")],
      format: "yyyy-mm-dd",
    });
  });

  it("is nothing that has two meanings, and no word", () => {
    const rows = [
      ["VR-01", "S01", "04/05/2026", on("2026-03-01")],
      ["VR-02", "S01", "soon", "Spring 2026"],
    ];
    expect(mended(rows).cells).toEqual([]);
  });

  it("is the first day of a month without a day: a later one would lengthen the interval", () => {
    const rows = [["VR-02", "S01", on("2026-03-01"), "April 2026"]];
    expect(mended(rows).cells.map(({ to }) => to)).toEqual(["2026-04-01"]);
  });

  it("shows a date as the column does", () => {
    const rows = [
      ["VR-01", "S01", on("2026-03-01"), on("2026-03-01")],
      ["VR-02", "S01", "2026-04-12", on("2026-03-01")],
    ];
    const { change } = mended(rows, { formats: ["General", "mm/dd/yyyy"] });
    expect(change.edits?.[0]).toMatchObject({ blocks: [{ format: "mm/dd/yyyy" }] });
  });
});
