import { describe, expect, it } from "vitest";
import { day } from "../../../src/core/day.ts";
import type { Reading } from "../../../src/book/records/records.ts";
import { undatedParts } from "../../../src/book/reading/missing-columns.ts";
import { bookOf, on, readSheets, sheetOf, type Typed } from "../../scenes/scene.ts";

/** Headings of dates whose meaning stands around them: a due date taken for the last replacement lengthens. */
const IDS = ["A1", "A2", "A3", "A4"];
const kit = (...dates: string[]): Typed[][] => IDS.map((id) => [id, "Alder", ...dates.map(on)]);
const merged = (row: number, firstColumn: number, lastColumn: number) => ({
  ...{ firstRow: row, lastRow: row, firstColumn, lastColumn },
});
const LAST = "2026-05-04";
const NEXT = "2026-06-08";
const read = (rows: Typed[][], merges: ReturnType<typeof merged>[] = [], name = "Kit"): Reading =>
  readSheets([sheetOf(name, rows, { merges })]);
/** The dates that intervals are counted from: of the set, of the cushion. */
const dates = ({ devices }: Reading): (number | null)[] =>
  devices[0]?.lastDone.slice(0, 2).map(({ date }) => date) ?? [];

describe("a group of headings above, what each date is below", () => {
  const grouped = (...below: string[]): Typed[][] => [
    ["Device", "Site", "Electrodes", ...below.slice(1).map(() => null), "Ear cushions"],
    [null, null, ...below, ...below],
  ];
  it.each([
    [
      ["Last", "Next"],
      [LAST, NEXT],
    ],
    [
      ["Next", "Last"],
      [NEXT, LAST],
    ],
    [
      ["Next due", "Last replaced"],
      [NEXT, LAST],
    ],
    [
      ["Due", "Interval end", "Last"],
      [NEXT, NEXT, LAST],
    ],
  ] as [string[], string[]][])(
    "has the last replacement under %j, wherever it stands",
    (below, typed) => {
      const rows = [...grouped(...below), ...kit(...typed, ...typed)];
      const width = below.length;
      const merges = [merged(0, 2, 1 + width), merged(0, 2 + width, 1 + 2 * width)];
      expect(dates(read(rows, merges))).toEqual([day(LAST), day(LAST)]);
      expect(dates(read(rows))).toEqual([day(LAST), day(LAST)]);
    },
  );

  it.each(["Next", "Planned", "Need by", "Prochain"])(
    "has none where all there is is %s",
    (below) => {
      const rows = [...grouped(below), ...kit(NEXT, NEXT)];
      const reading = read(rows);
      expect(dates(reading)).toEqual([null, null]);
      const snapshot = bookOf([sheetOf("Kit", rows)]);
      for (const { problem } of undatedParts(snapshot, reading)) {
        expect(problem.fix).not.toContain("Electrodes");
      }
    },
  );

  it("is not turned by a row that says how dates are written, nor by notes beside devices", () => {
    const head: Typed[] = ["Device", "Site", "Electrodes", "Ear cushions"];
    const hint: Typed[] = [null, null, "(dd/mm/yyyy)", "(dd/mm/yyyy)"];
    expect(dates(read([head, hint, ...kit(LAST, LAST)]))).toEqual([day(LAST), day(LAST)]);
    expect(dates(read([head, ...kit(LAST, LAST)]))).toEqual([day(LAST), day(LAST)]);
  });
});

describe("a title or a banner above", () => {
  const head: Typed[] = ["Device", "Site", "Electrodes", "Ear cushions"];
  const done: Typed[] = ["Device", "Site", "Electrodes replaced", "Cushions replaced"];
  it.each([
    ["a banner over the dates", [[null, null, "NEXT DUE"], head], [merged(0, 2, 3)], "Kit"],
    ["a banner that is not merged", [[null, null, "Planned", "Planned"], head], [], "Kit"],
    ["a title", [["Due dates of parts"], head], [], "Kit"],
    ["the name of the sheet", [head], [], "Next changes"],
    ["a banner over what would be done", [[null, null, "Planned"], done], [merged(0, 2, 3)], "Kit"],
  ] as [string, Typed[][], ReturnType<typeof merged>[], string][])(
    "that says otherwise leaves the dates unused: %s",
    (_, heads, merges, name) => {
      expect(dates(read([...heads, ...kit(NEXT, NEXT)], merges, name))).toEqual([null, null]);
    },
  );
  it.each([
    ["a title of other words", [["Changes of parts"], head], "Kit"],
    ["a title above headings that say themselves what was done", [["Due dates"], done], "Due"],
    ["a title far above", [["Next audit in May"], [], [], done], "Kit"],
  ] as [string, Typed[][], string][])("leaves them as they are: %s", (_, heads, name) => {
    expect(dates(read([...heads, ...kit(LAST, LAST)], [], name))).toEqual([day(LAST), day(LAST)]);
  });
});

describe("dates ahead below a part's name alone", () => {
  const rows = (heading: string, ...typed: string[]): Typed[][] => [
    ["Device", "Site", heading],
    ...typed.map((date, at): Typed[] => [`A${at}`, "Alder", on(date)]),
  ];
  const past = Array.from({ length: 8 }, () => LAST);
  const kinds = (reading: Reading): string[] => reading.problems.map(({ kind }) => kind);

  it("may be due dates: none is used, not those gone by either", () => {
    const reading = read(rows("Electrodes", "2099-01-05", "2099-02-02", ...past));
    expect(kinds(reading)).toContain("due dates");
    expect(reading.devices.at(-1)?.lastDone[0]?.date).toBeNull();
  });
  it("are slips where there is one, or where the heading says what they are", () => {
    for (const typed of [
      rows("Electrodes", "2099-01-05", ...past),
      rows("Electrodes replaced", "2099-01-05", "2099-02-02", ...past),
    ]) {
      const reading = read(typed);
      expect(kinds(reading)).not.toContain("due dates");
      expect(reading.devices.at(-1)?.lastDone[0]?.date).toBe(day(LAST));
    }
  });
});
