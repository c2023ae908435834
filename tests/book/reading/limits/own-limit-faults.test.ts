import { describe, expect, it } from "vitest";
import { judge } from "../../../../src/book/columns/judge.ts";
import { readBook } from "../../../../src/book/reading/read.ts";
import type { Sheet } from "../../../../src/book/workbook/snapshot.ts";
import { bookOf, on, oursOf, sheetOf, told, type Typed } from "../../../scenes/scene.ts";

const MAY = on("2026-05-04");
const JULY = on("2026-07-04");

/** Own limits of five devices replaced on one day, the third of them spoilt; invented. */
function read(heading: string, own: readonly Typed[], more: Partial<Sheet> = {}) {
  const rows = own.map((limit, at): Typed[] => [`H-${at + 1}`, MAY, limit]);
  const sheet = sheetOf("Kit", [["Device", "Electrode set replaced", heading], ...rows], more);
  const book = bookOf([sheet]);
  const reading = readBook(book, oursOf());
  const judged = judge(book, reading);
  const [part] = judged.parts;
  const checks = part === undefined ? [] : judged.rows(part).map(({ answers }) => answers.check);
  return { reading, checks };
}

describe("own limits where most rows have a stricter one than ours", () => {
  it.each([
    ["blank", null],
    ["a dash", "–"],
    ["n/a", "n/a"],
    ["a year too late", on("2027-07-04")],
    ["a year too early", on("2025-07-04")],
  ])("put a row in doubt whose due date is %s", (_, due) => {
    const { reading, checks } = read("Electrode set next due", [JULY, JULY, due, JULY, JULY]);
    expect(checks[2]).toBe("Date in doubt");
    expect(told(reading)).toContain("own limit unread C4");
    expect(checks.filter((check) => check === "Date in doubt")).toHaveLength(1);
  });

  it.each([
    ["blank", null, /holds no limit/],
    ["n/a", "n/a", /holds no limit/],
    ["no whole months", 3.6, /no interval of whole months/],
    ["an error", { error: "#N/A" }, /shows #N\/A/],
  ] as [string, Typed, RegExp][])("put a row in doubt whose interval is %s", (_, own, cause) => {
    const { reading, checks } = read("Electrode interval (months)", [2, 2, own, 2, 2]);
    expect(checks[2]).toBe("Date in doubt");
    expect(reading.problems.find(({ row }) => row === 3)?.cause).toMatch(cause);
  });

  it("put each row in doubt where all are the days of the last replacements", () => {
    const { reading, checks } = read("Electrode set next due", [MAY, MAY, MAY]);
    expect(checks).toEqual(Array(3).fill("Date in doubt"));
    expect(reading.problems.find(({ row }) => row === 1)?.cause).toMatch(/filled from the other/);
    expect(read("Electrode set next due", [MAY, MAY, JULY]).checks).not.toContain("Date in doubt");
    expect(read("Electrode set next due", [MAY, MAY]).checks).not.toContain("Date in doubt");
  });

  it.each([
    ["asap", "Type it as a date (year-month-day), or clear the cell."],
    ["4 July 2026", "Type 2026-07-04 as a date."],
  ])("say what to type for a text: %s", (due, fix) => {
    const { reading } = read("Electrode set next due", [JULY, JULY, due, JULY, JULY]);
    expect(reading.problems.find(({ row }) => row === 3)?.fix).toBe(fix);
  });

  it.each([["Electrode set next due"], ["Electrode interval (months)"], ["Next due"]])(
    "are those of their heading where each cell shows an error: %s",
    (heading) => {
      const { checks } = read(heading, Array<Typed>(5).fill({ error: "#REF!" }));
      expect(checks).toEqual(Array(5).fill("Date in doubt"));
    },
  );

  it("put the rows below in doubt where a cell is merged over them, however few have one", () => {
    const merges = [{ firstRow: 2, lastRow: 4, firstColumn: 2, lastColumn: 2 }];
    const { checks } = read("Electrode interval (months)", [null, 2, null, null, null], { merges });
    expect(checks.map((check) => check === "Date in doubt")).toEqual([
      ...[false, false, true, true, false],
    ]);
  });

  it.each([
    ["a month and a half is read as one", "Electrode interval (months)", [2, 2, 1.5, 2, 2]],
    ["ours is no longer", "Electrode interval (months)", [6, 6, null, 6, 6]],
    [
      "a day or two later is a weekend",
      "Electrode set next due",
      [on("2026-11-06"), on("2026-11-04")],
    ],
  ] as [string, string, Typed[]][])("leave a row alone: %s", (_, heading, own) => {
    const { checks } = read(heading, own);
    expect(checks).not.toContain("Date in doubt");
  });
});
