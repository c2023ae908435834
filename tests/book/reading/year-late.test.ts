import { describe, expect, it } from "vitest";
import { doubtsSay } from "../../../src/book/records/doubts.ts";
import { on, readSheets, sheetOf, type Typed } from "../../scenes/scene.ts";

const said = (dates: readonly (readonly [string, string])[]): string => {
  const rows = dates.map(([last, due], at): Typed[] => [`V-${at + 1}`, "Alder", on(last), on(due)]);
  const heads = ["Device", "Site", "Electrode set replaced", "Electrode set next due"];
  return doubtsSay(readSheets([sheetOf("Kit", [heads, ...rows])])).join(" ");
};

describe("own due dates of a whole column", () => {
  const late = ["04", "05", "06"].map((day) => [`2026-05-${day}`, `2027-07-${day}`] as const);

  it("are told above all else where they are a year beyond what would be stricter", () => {
    expect(said(late)).toContain(
      '"Electrode set next due" has days more than a year after the last replacement, such as 2027-07-04 for V-1',
    );
  });

  it.each([
    ["once the year is right", late.map(([last, due]) => [last, due.replace("2027", "2026")])],
    ["where they are yearly", late.map(([last]) => [last, last.replace("2026", "2027")])],
    ["where a year less is no stricter", late.map(([last]) => [last, "2028-01-04"])],
    [
      "where few rows have them",
      [...late.slice(0, 1), ...Array<[string, string]>(3).fill(["2026-05-04", "2026-07-01"])],
    ],
  ] as [string, [string, string][]][])("are not %s", (_, dates) => {
    expect(said(dates)).not.toContain("more than a year");
  });
});
