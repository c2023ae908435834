import { describe, expect, it } from "vitest";
import { judge } from "../../../../src/book/columns/judge.ts";
import { misplacedDates } from "../../../../src/book/reading/misplaced/misplaced-dates.ts";
import { readBook } from "../../../../src/book/reading/read.ts";
import { doubtsSay } from "../../../../src/book/records/doubts.ts";
import { addMonths, type Day, day, isoText } from "../../../../src/core/day.ts";
import { bookOf, jobOf, on, oursOf, sheetOf, type Typed } from "../../../scenes/scene.ts";

const HEAD = ["Device", "Serial number", "Electrode set replaced", "Ear cushions replaced"];
/** Days of work in no order, a Monday to a Friday each. */
const DATES = [
  ...["2026-05-04", "2026-03-17", "2026-04-22", "2026-02-05", "2026-05-29"],
  ...["2026-01-13", "2026-04-02", "2026-03-30"],
];

/** A register of devices with a column of these dates, and what is said of it above every answer. */
function book(
  dates: readonly Typed[],
  change: (rows: Typed[][]) => Typed[][] = (rows) => rows,
  jobs = [jobOf("X-1", "SET", "2026-01-05")],
) {
  const rows = dates.map((date, at): Typed[] => [
    ...[`V-${at + 1}`, `70${at + 1}`, date],
    on(DATES[(at + 3) % DATES.length] ?? ""),
  ]);
  const snapshot = bookOf([sheetOf("Kit", [HEAD, ...change(rows)])]);
  const reading = readBook(snapshot, oursOf({}, { jobs }));
  const judged = judge(snapshot, reading);
  const inDoubt = (code: string): string[] => {
    const part = judged.parts.find((one) => one.code === code);
    const facts = part === undefined ? [] : judged.rows(part).map((row) => row.facts.doubt);
    return facts.flatMap((doubt, at) =>
      doubt === "misplaced date" ? (reading.devices[at]?.id ?? "") : [],
    );
  };
  return { set: inDoubt("SET"), cushion: inDoubt("CUSHION"), said: doubtsSay(reading) };
}

const filled = (count: number, step: (at: number) => number): Typed[] =>
  Array.from({ length: count }, (_, at) => on(isoText(step(at) as Day)));
const TYPED = DATES.map(on);
const FIRST = day("2026-05-12");

/** What a fill handle makes of a date (common practice, no source). */
describe(misplacedDates.name, () => {
  it.each([
    ["days", (at: number) => FIRST + at],
    ["days back", (at: number) => FIRST - at],
    ["months back", (at: number) => addMonths(FIRST, -at)],
    ["years back", (at: number) => addMonths(FIRST, -12 * at)],
  ])("doubts dates that were filled down by %s", (_, step) => {
    const { set, cushion, said } = book([...TYPED.slice(0, 2), ...filled(6, step)]);
    expect(set).toEqual(["V-3", "V-4", "V-5", "V-6", "V-7", "V-8"]);
    expect(cushion).toEqual([]);
    expect(said).toHaveLength(1);
    expect(said[0]).toMatch(
      /^6 dates under "Electrode set replaced", from 2026-05-12 to .* filled down/u,
    );
  });
  it("doubts four that are all dates of the column", () => {
    expect(book(filled(4, (at) => FIRST + 2 + at)).set).toHaveLength(4);
  });
  it("doubts none of a list in no order, of one day, of a week's work, of months alone, or a few", () => {
    expect(book(TYPED)).toEqual({ set: [], cushion: [], said: [] });
    expect(book(TYPED.map(() => on("2026-05-04"))).said).toEqual([]);
    expect(book([...TYPED, ...filled(5, (at) => day("2026-05-11") + at)]).said).toEqual([]);
    expect(book([...TYPED, ...filled(4, (at) => FIRST + 2 + at)]).said).toEqual([]);
    expect(book(filled(8, (at) => addMonths(day("2025-10-01"), at))).set).toEqual([]);
    expect(book(filled(6, (at) => day("2026-05-11") + 7 * at)).set).toEqual([]);
  });
  it("doubts no date that the Job log has too", () => {
    const jobs = Array.from({ length: 6 }, (_, at) =>
      jobOf(`V-${at + 1}`, "SET", isoText((FIRST + at) as Day)),
    );
    expect(
      book(
        filled(6, (at) => FIRST + at),
        (rows) => rows,
        jobs,
      ).set,
    ).toEqual([]);
  });
});

describe("columns that stick out of their list", () => {
  const swap = (rows: Typed[][], columns: readonly number[], by: number): Typed[][] =>
    Array.from({ length: rows.length + Math.abs(by) }, (_, row) =>
      HEAD.map((_, column) => {
        const shift = columns.includes(column) ? Math.max(by, 0) : Math.max(-by, 0);
        return rows[row - shift]?.[column] ?? null;
      }),
    );
  it.each([1, 2, 3, -1])("have all their dates in doubt: %s", (by) => {
    const { set, cushion, said } = book(TYPED, (rows) => swap(rows, [2], by));
    expect(set).toHaveLength(8);
    expect(cushion).toEqual([]);
    expect(said.join(" ")).toContain(
      'the dates under "Electrode set replaced" may be other devices\'',
    );
  });
  it("have all dates in doubt where the devices do", () => {
    const { set, cushion } = book(TYPED, (rows) => swap(rows, [0], 1));
    expect(set).toHaveLength(8);
    expect(cushion).toHaveLength(8);
  });
  it("are none where a date is missing in the first row, or a device has no dates yet", () => {
    expect(book([null, ...TYPED.slice(1)]).said).toEqual([]);
    expect(book(TYPED, (rows) => [...rows, ["V-9", null, null, null]]).said).toEqual([]);
  });
});

describe("rows with the serial number of another device", () => {
  const paste =
    (from: number, cells: readonly number[]) =>
    (rows: Typed[][]): Typed[][] =>
      rows.map((row, at) =>
        row.map((cell, column) =>
          at === 6 && cells.includes(column) ? (rows[from]?.[column] ?? null) : cell,
        ),
      );
  it("are in doubt both where their dates are the same", () => {
    const { set, cushion, said } = book(TYPED, paste(1, [1, 2, 3]));
    expect(set).toEqual(["V-2", "V-7"]);
    expect(cushion).toEqual(["V-2", "V-7"]);
    expect(said.join(" ")).toContain("V-2 and V-7 have the same serial number and the same dates");
  });
  it("are not where one of their dates differs, or they have none", () => {
    expect(book(TYPED, paste(1, [1, 2])).set).toEqual([]);
    expect(book(TYPED, paste(1, [2, 3])).set).toEqual([]);
  });
});
