import { describe, expect, it } from "vitest";
import type { Problem } from "../../../src/book/records/records.ts";
import { on, oursOf, readSheets, sheetOf, type Typed } from "../../scenes/scene.ts";

const REGISTER = sheetOf("Kit", [
  ["Device", "Site", "Electrode set replaced"],
  ...["001", "002", "003"].map((id): Typed[] => [id, "Alder", on("2026-05-04")]),
]);
const MONTHS = ["2026-01-01", "2026-02-01", "2026-03-01", "2026-04-01"];

function passed(rows: Typed[][], ours = oursOf()): Problem[] {
  const { problems } = readSheets([REGISTER, sheetOf("Numbers", rows)], ours);
  return problems.filter(({ kind }) => kind === "counts not read");
}

describe("numbers by month that no device stands beside", () => {
  it.each([
    [
      "sites and months",
      [
        ["Site", ...MONTHS.map(on)],
        ["Alder", 40, 41, 42, 43],
        ["Birch", 4, 5, 6, 7],
      ],
    ],
    [
      "devices by another name",
      [
        ["Device", ...MONTHS.map(on)],
        [1, 40, 41, 42, 43],
        [2, 4, 5, 6, 7],
      ],
    ],
    [
      "months below each other",
      [["Month", "Births", "Screened"], ...MONTHS.map((month): Typed[] => [on(month), 60, 58])],
    ],
    [
      "weeks",
      [
        ["Week", "Alder"],
        ...["2026-W01", "2026-W02", "2026-W03"].map((week): Typed[] => [week, 12]),
      ],
    ],
  ] as [string, Typed[][]][])("are told once: %s", (_, rows) => {
    const [one, ...more] = passed(rows);
    expect(more).toEqual([]);
    expect(one?.cause).toContain("names no device of the register");
  });

  it("are not told where they are read, where a person said there are none, or of other lists", () => {
    const read: Typed[][] = [
      ["Device", ...MONTHS.map(on)],
      ["001", 1, 2, 3, 4],
      ["002", 1, 2, 3, 4],
    ];
    const sites: Typed[][] = [
      ["Site", ...MONTHS.map(on)],
      ["Alder", 40, 41, 42, 43],
      ["Birch", 4, 5, 6, 7],
    ];
    expect(passed(read)).toEqual([]);
    expect(passed(sites, oursOf({ matches: new Map([["counts", "none"]]) }))).toEqual([]);
    expect(
      passed([
        ["Room", "Seats"],
        ["Store", 12],
        ["Office", 4],
      ]),
    ).toEqual([]);
  });
});
