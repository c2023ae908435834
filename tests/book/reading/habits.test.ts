import { describe, expect, it } from "vitest";
import { readJobs } from "../../../src/book/sheets/job-log.ts";
import type { Problem } from "../../../src/book/records/records.ts";
import { on, readSheets, sheetOf, type Typed } from "../../scenes/scene.ts";

/** Habits of registers kept by hand; own examples, common practice. */
const MAY = on("2026-05-04");
const read = (headings: string[], ...rows: Typed[][]) =>
  readSheets([sheetOf("Kit", [headings, ...rows])]);
const of = (problems: readonly Problem[], kind: Problem["kind"]) =>
  problems.filter((one) => one.kind === kind);

describe("a cell that stands for the one above", () => {
  const HEADINGS = ["Device", "Site", "Electrodes replaced", "Cushion replaced"];

  it.each(['"', "″", "„", "idem", "Dito", "dto.", "do.", "s.o.", "j.w.", '-"-'])(
    "is its site, and never its date: %s",
    (mark) => {
      const { devices, problems } = read(
        HEADINGS,
        ["A", "Alder", MAY, MAY],
        ["B", mark, MAY, mark],
        ["C", mark, MAY, MAY],
        ["D", "Birch", MAY, MAY],
      );
      expect(devices.map(({ site }) => site)).toEqual(["Alder", "Alder", "Alder", "Birch"]);
      expect(of(problems, "site above").map(({ row, mend }) => [row, mend?.value])).toEqual([
        [2, "Alder"],
        [3, "Alder"],
      ]);
      expect(devices[1]?.lastDone.find(({ part }) => part === "CUSHION")?.date).toBeNull();
      expect(of(problems, "text date").map(({ row }) => row)).toEqual([2]);
    },
  );
});

describe("several devices in one cell", () => {
  it("are told with a slash between them too", () => {
    const { problems } = read(
      ["Device", "Electrodes replaced"],
      ["G-11 / G-12", MAY],
      ["G-13", MAY],
      ["G-14", MAY],
    );
    expect(of(problems, "several devices").map(({ cause }) => cause)).toEqual([
      '"G-11 / G-12" may be 2 devices in one row; it counts as one.',
    ]);
  });
});

describe("two digits for the year", () => {
  const fixesOf = (...dates: string[]): string[] =>
    of(
      read(["Device", "Electrodes replaced"], ...dates.map((date, at): Typed[] => [`D${at}`, date]))
        .problems,
      "text date",
    ).map(({ fix }) => fix);

  it("may stand first, which is asked", () => {
    expect(fixesOf("26-05-12", "26-04-28")).toEqual([
      "It may be 2012-05-26, or 2026-05-12: type the right one as a date.",
      "It may be 2026-04-28, or 2028-04-26: type the right one as a date.",
    ]);
  });

  it("stand last where another date of the column can be read so only", () => {
    expect(fixesOf("26-04-26", "05-04-26")).toEqual([
      "Type 2026-04-26 as a date.",
      "Type 2026-04-05 as a date.",
    ]);
    expect(fixesOf("26.04.26")).toEqual(["Type 2026-04-26 as a date."]);
  });
});

describe("headings that are the same", () => {
  it("are told apart by their columns", () => {
    const { problems } = read(
      ["Device", "Sede", "Electrodes replaced", "Sede"],
      ["A", "Alder", MAY, "x"],
      ["B", "Birch", MAY, "y"],
    );
    expect(of(problems, "unclear column").map(({ cause }) => cause)).toEqual([
      '"Sede" (column B) and "Sede" (column D) fit Site equally well.',
    ]);
  });
});

describe("an inspection in other words", () => {
  it.each([
    ["Inspection", "inspected"],
    ["Sichtprüfung", "inspected"],
    ["checked", "inspected"],
    ["Replacement", "replacement"],
  ])("in the Job log: %s is %s", (written, job) => {
    const headings = [
      "Date",
      "Device",
      "Part",
      "Job",
      "Finding",
      "Complete set",
      "Lot",
      "By",
      "Note",
    ];
    const log = sheetOf("Job log", [["Job log"], [], headings, [MAY, "A", "SET", written]]);
    expect(readJobs(log, 1900).jobs.map((one) => one.job)).toEqual([job]);
  });
});
