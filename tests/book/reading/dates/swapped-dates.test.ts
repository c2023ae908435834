import { describe, expect, it } from "vitest";
import { judge } from "../../../../src/book/columns/judge.ts";
import { mendingOf } from "../../../../src/book/day/mend.ts";
import { readBook } from "../../../../src/book/reading/read.ts";
import type { Reading } from "../../../../src/book/records/records.ts";
import type { Snapshot } from "../../../../src/book/workbook/snapshot.ts";
import { day } from "../../../../src/core/day.ts";
import { bookOf, jobOf, on, oursOf, sheetOf, told, type Typed } from "../../../scenes/scene.ts";

// Written day first: 10 August, 9 July, 6 November 2025, and days above 12. A spreadsheet set to month first makes dates
// of the first three, with day and month swapped, and leaves the others as text (common practice, no source).
const DAY_FIRST: Typed[] = [
  on("2026-10-08"),
  "23/09/2025",
  on("2026-09-07"),
  "14/10/2025",
  "25/08/2025",
  on("2025-06-11"),
];
const MONTH_FIRST: Typed[] = [on("2026-03-02"), "03/23/2026", "04/14/2026", "05/25/2026"];

function book(dates: readonly Typed[], heading = "Electrode set replaced"): Snapshot {
  const rows = dates.map((date, at): Typed[] => [`V-${at + 1}`, "North", date]);
  return bookOf([sheetOf("Kit", [["Device", "Site", heading], ...rows])]);
}

const read = (snapshot: Snapshot, ...jobs: ReturnType<typeof jobOf>[]): Reading =>
  readBook(snapshot, oursOf({}, { jobs }));
const swapped = (reading: Reading): string[] =>
  told(reading).filter((one) => one.startsWith("day and month"));

describe("day and month swapped by the spreadsheet in a part of a column", () => {
  it("is a doubt of each true date whose day can be a month, with both readings", () => {
    const reading = read(
      book([...DAY_FIRST.slice(1, 2), on("2026-03-02"), "14/10/2025", "25/08/2025"]),
    );
    expect(swapped(reading)).toEqual(["day and month swapped C3"]);
    const problem = reading.problems.find(({ kind }) => kind === "day and month swapped");
    expect(problem?.cause).toContain("2026-03-02 may be 2026-02-03");
    expect(problem?.cause).toContain('day first, as in "23/09/2025"');
  });

  it("is so in a column month first as well", () => {
    expect(swapped(read(book(MONTH_FIRST)))).toEqual(["day and month swapped C2"]);
  });

  it("makes the row's state Check row", () => {
    const snapshot = book(MONTH_FIRST);
    const judged = judge(snapshot, read(snapshot));
    const set = judged.parts.find(({ code }) => code === "SET");
    const [row] = set === undefined ? [] : judged.rows(set);
    expect(row?.answers).toMatchObject({ state: "Check row", due: null });
    expect(row?.facts.doubt).toBe("day and month swapped");
  });

  it.each([
    ["a date of a day above 12", [on("2026-03-20"), ...MONTH_FIRST]],
    ["texts that could have become dates", [...MONTH_FIRST, "03/04/2026", "03/05/2026"]],
    ["texts of both orders", [...MONTH_FIRST, "23/03/2026"]],
    ["two texts only", MONTH_FIRST.slice(0, 3)],
    [
      "dotted texts, which are left as they are",
      [on("2026-03-02"), ...["03", "23", "14"].map((d) => `${d}.04.2026`)],
    ],
    ["a date that is the same either way", [on("2026-03-03"), ...MONTH_FIRST.slice(1)]],
  ])("is not seen beside %s", (_, dates) => {
    expect(swapped(read(book(dates)))).toEqual([]);
  });

  it("is settled by a job of that very day", () => {
    const reading = read(book(MONTH_FIRST), jobOf("V-1", "SET", "2026-03-02"));
    expect(swapped(reading)).toEqual([]);
  });

  it("keeps mend from the texts that show it, until a person says so", () => {
    const snapshot = book(MONTH_FIRST);
    const cells = (allowed = {}): string[] =>
      mendingOf(snapshot, read(snapshot), allowed).cells.map(({ to }) => to);
    expect(cells()).toEqual([]);
    expect(cells({ swapped: true })).toEqual([
      "2026-02-03",
      "2026-03-23",
      "2026-04-14",
      "2026-05-25",
    ]);
  });

  it("leaves a day of retirement in doubt", () => {
    const rows = MONTH_FIRST.map((date, at): Typed[] => [`V-${at + 1}`, on("2025-01-20"), date]);
    const snapshot = bookOf([
      sheetOf("Kit", [["Device", "Electrode set replaced", "Retired on"], ...rows]),
    ]);
    expect(read(snapshot).devices[0]?.doubt).toBe("retirement in doubt");
  });
});

describe("day and month swapped in the register's own due dates", () => {
  // Written day first, 12 June 2026 became 6 December; 12/06/2026 is the usual form of it.
  function due(first: Typed) {
    const dates: Typed[] = [first, "23/08/2026", "14/07/2026", "25/07/2026"];
    const rows = dates.map((date, at): Typed[] => [`V-${at + 1}`, on("2026-05-04"), date]);
    const headings = ["Device", "Electrode set replaced", "Electrode set next due"];
    const snapshot = bookOf([sheetOf("Kit", [headings, ...rows])]);
    const judged = judge(snapshot, read(snapshot));
    const set = judged.parts.find(({ code }) => code === "SET");
    return { snapshot, row: set === undefined ? undefined : judged.rows(set)[0] };
  }

  it("puts the row in doubt, since the true one may be earlier, and is told with both readings", () => {
    const { snapshot, row } = due(on("2026-12-06"));
    expect(row?.answers).toMatchObject({ state: "Check row", due: null });
    expect(row?.facts.doubt).toBe("day and month swapped");
    expect(swapped(read(snapshot))).toEqual(["day and month swapped C2"]);
  });

  it("is no less in doubt where the last replacement seems to have met it", () => {
    // 4 June, or 6 April before the last replacement; then 6 July, or 7 June.
    expect(due(on("2026-04-06")).row?.answers.state).toBe("Check row");
  });

  it("counts by the earlier of the two in the year ahead", () => {
    const { row } = due(on("2026-12-06"));
    expect(row?.facts.own?.due).toBe(day("2026-06-12"));
    expect(due(on("2026-06-12")).row?.facts.own?.due).toBe(day("2026-06-12"));
  });

  it("is mended with its texts once a person says so", () => {
    const { snapshot } = due(on("2026-12-06"));
    const cells = (allowed = {}): string[] =>
      mendingOf(snapshot, read(snapshot), allowed).cells.map(({ to }) => to);
    expect(cells()).toEqual([]);
    expect(cells({ swapped: true })).toEqual([
      "2026-06-12",
      "2026-08-23",
      "2026-07-14",
      "2026-07-25",
    ]);
  });
});

describe("day and month swapped in all dates of a column that can be read so", () => {
  // 9 and 8 July, swapped in days that are still to come on 30 June.
  const LATE: Typed[] = [on("2026-09-05"), on("2026-08-04")];
  const OTHERS: Typed[] = [on("2026-06-02"), on("2026-05-20"), on("2026-03-03")];
  it("is a doubt of those whose day can be a month, where two are after the report date", () => {
    const reading = read(book([...LATE, ...OTHERS], "Electrode set last replaced"));
    expect(swapped(reading)).toEqual(["day and month swapped C4"]);
    const problem = reading.problems.find(({ kind }) => kind === "day and month swapped");
    expect(problem?.cause).toContain("2026-06-02 may be 2026-02-06, since several dates");
  });
  it.each([
    ["one of them", [...LATE.slice(1), ...OTHERS]],
    ["days that are to come either way", [on("2026-09-10"), on("2026-08-11"), ...OTHERS]],
    ["days with no month of their number", [on("2026-09-25"), on("2026-08-14"), ...OTHERS]],
  ])("is not seen by %s", (_, dates) => {
    expect(swapped(read(book(dates, "Electrode set last replaced")))).toEqual([]);
  });
  it("is settled by a job of that very day", () => {
    const job = jobOf("V-3", "SET", "2026-06-02");
    expect(swapped(read(book([...LATE, ...OTHERS], "Electrode set last replaced"), job))).toEqual(
      [],
    );
  });
});
