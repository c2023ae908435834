import { describe, expect, it } from "vitest";
import { mendingOf } from "../../../../src/book/day/mend.ts";
import { fromBuddhistEra } from "../../../../src/book/headings/dates.ts";
import { readBook } from "../../../../src/book/reading/read.ts";
import type { Snapshot } from "../../../../src/book/workbook/snapshot.ts";
import { day } from "../../../../src/core/day.ts";
import { bookOf, on, oursOf, sheetOf, told, type Typed } from "../../../scenes/scene.ts";

function register(dates: readonly Typed[], heading = "Electrodes changed"): Snapshot {
  const rows = dates.map((date, at): Typed[] => [`V-${at + 1}`, "North", date]);
  return bookOf([sheetOf("Kit", [["Device", "Site", heading], ...rows])]);
}
const read = (snapshot: Snapshot) => readBook(snapshot, oursOf());

describe("columns of dates ahead of the report date of 2026-06-30", () => {
  it("are planned or due where most lie some months ahead, and none is used", () => {
    const ahead = ["2026-08-10", "2026-09-01", "2026-10-03", "2026-11-04", "2026-12-05"].map(on);
    const { problems } = read(register([...ahead, on("2026-06-20")]));
    expect(problems.map(({ kind, row }) => [kind, row])).toEqual([["due dates", null]]);
    expect(problems[0]?.cause).toContain("5 of 6 dates");
  });

  it.each([
    ["Electrodes replacement", true],
    ["Elektrodenwechsel", true],
    ["Last electrodes replacement", false],
    ["Electrodes replaced", false],
  ])("are in doubt from two on under a noun that may be a plan: %s", (heading, isDoubted) => {
    const dates = ["2026-08-10", "2026-09-01", "2026-06-03", "2026-05-04", "2026-05-05"].map(on);
    const { devices } = read(register(dates, heading));
    const known = devices.map(({ lastDone }) => lastDone[0]?.date !== null);
    expect(known[2]).toBe(!isDoubted);
  });

  it("are 1,462 days off where they are recent when put back", () => {
    // 1,462 days: four years and a day, of the two date systems (ECMA-376 part 1, 18.17.4.1).
    const ahead = ["2030-05-02", "2030-06-01", "2030-04-03", "2030-06-04", "2030-05-05"].map(on);
    expect(told(read(register(ahead)))).toEqual(["1,462-day shift C*"]);
  });
});

describe("years of the Buddhist era", () => {
  // 2569 is 2026: the era counts 543 years more (common practice, no source).
  it.each([
    ["2569-05-28", "2026-05-28"],
    ["1969-09-09", "2026-09-09"],
    ["2068-01-02", "2025-01-02"],
  ])("%s may be %s", (written, meant) => {
    expect(fromBuddhistEra(day(written))).toBe(day(meant));
  });

  it.each(["2026-05-28", "2000-01-01", "1990-01-01", "2069-01-01"])("%s is none", (written) => {
    expect(fromBuddhistEra(day(written))).toBeNull();
  });

  it("are asked about and never mended", () => {
    const book = register(["28/05/2569", "9 Sep 69", on("2569-05-28")]);
    const { problems } = read(book);
    expect(problems.map(({ kind }) => kind)).toEqual(["text date", "text date", "future date"]);
    expect(problems[0]?.fix).toBe(
      "If its year is one of the Buddhist era it is 2026-05-28, else 2569-05-28: type the right one as a date.",
    );
    expect(problems[2]?.fix).toContain("it is 2026-05-28");
    expect(mendingOf(book, read(book)).cells).toEqual([]);
  });
});
