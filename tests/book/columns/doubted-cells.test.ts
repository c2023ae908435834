import { describe, expect, it } from "vitest";
import { byDevice, type PartSource } from "../../../src/book/columns/by-device.ts";
import { leftBehind } from "../../../src/book/columns/left-behind.ts";
import { partRowsIn } from "../../../src/book/reading/rows/part-rows.ts";
import { readBook } from "../../../src/book/reading/read.ts";
import { eachRegister } from "../../../src/book/records/registers.ts";
import { cellKey, type Sheet } from "../../../src/book/workbook/snapshot.ts";
import { bookOf, on, oursOf, sheetOf, type Typed } from "../../scenes/scene.ts";

const HEADINGS = ["Device", "Site", "Part", "Last replaced", "Ordered", "Notes"];

/** The register by device made of rows of parts: its cells in A to the last column, and what is told. */
function made(more: Partial<Sheet>, different: readonly (readonly Typed[])[] = []) {
  const rows: readonly (readonly Typed[])[] = [
    HEADINGS,
    ["A", "North", "Electrode set", on("2026-05-04"), "x", null],
    ["A", "North", "Ear cushion", on("2026-05-05"), null, null],
    ["B", "North", "Electrode set", on("2026-05-06"), null, null],
    ["B", "North", "Ear cushion", on("2026-05-07"), null, null],
    ...different,
  ];
  const book = bookOf([sheetOf("In use", rows, more)]);
  const reading = readBook(book, oursOf());
  const sources = eachRegister(reading).map((one): PartSource => {
    const found = partRowsIn(book, one);
    if (found === null) throw new Error("no rows of parts");
    return { reading: one, rows: found.rows, naming: found.naming, dates: 3, ticks: null };
  });
  const { plan, told } = byDevice(book, sources);
  const added = plan.edits.find((edit) => edit.kind === "addSheet");
  const cells = added?.kind === "addSheet" ? added.cells : [];
  const texts = cells.flatMap(({ value }) => (typeof value === "string" ? value : []));
  const dates = cells.filter(({ value }) => typeof value === "number").length;
  return { texts, dates, told, left: leftBehind(book, sources, reading.problems) };
}

describe("dates in doubt of rows that are parts", () => {
  it("are taken as they are where nothing speaks against them", () => {
    expect(made({})).toMatchObject({ dates: 4, told: [] });
  });

  it.each<[string, Partial<Sheet>, string]>([
    ["struck through", { struck: new Set([cellKey(1, 3)]) }, "2026-05-04, struck out"],
    [
      "with a comment against it",
      { comments: new Map([[cellKey(1, 3), "?"]]) },
      '2026-05-04, comment "?"',
    ],
    [
      "in German",
      { comments: new Map([[cellKey(1, 3), "Datum unsicher"]]) },
      '2026-05-04, comment "Datum unsicher"',
    ],
  ])("stand as text: %s", (_, more, text) => {
    const { texts, dates, told } = made(more);
    expect(texts).toContain(text);
    expect(dates).toBe(3);
    expect(told).toEqual([expect.stringContaining("In use!D2 is in doubt")]);
  });

  it("are all in doubt by a comment to their heading", () => {
    const { dates, told } = made({ comments: new Map([[cellKey(0, 3), "unsure"]]) });
    expect([dates, told.length]).toEqual([0, 4]);
  });

  it("give no date where one of several rows is in doubt", () => {
    const again = [["A", "North", "Electrode set", on("2026-06-04"), null, null]];
    const { dates, told } = made({ struck: new Set([cellKey(1, 3)]) }, again);
    expect(dates).toBe(3);
    expect(told).toContain(
      "A: Electrode set is in several rows, and not all have a date; no date was taken.",
    );
  });

  it("keep a comment to another cell as a remark of the device", () => {
    const { texts } = made({ comments: new Map([[cellKey(3, 0), "sent away for repair"]]) });
    expect(texts).toContain('comment to A4 "sent away for repair"');
  });

  it("have what else was on their sheet told", () => {
    expect(made({}).left).toEqual([
      'Not taken from In use: "Ordered". See whether anything there changes a date.',
    ]);
    expect(made({ hiddenRows: new Set([2]) }).left).toContain(
      "In use: Hidden rows are included: 3.",
    );
    expect(made({ struck: new Set([cellKey(1, 0)]) }).left).toContain(
      "In use!A2: A is struck through; it counts as in service.",
    );
  });
});
