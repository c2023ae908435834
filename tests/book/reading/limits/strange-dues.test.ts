import { describe, expect, it } from "vitest";
import { doubtsSay } from "../../../../src/book/records/doubts.ts";
import { on, readSheets, sheetOf, type Typed } from "../../../scenes/scene.ts";

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
    ["four years", "2030-07-04"],
    ["the days between the two date systems", "2030-07-05"],
  ])("are told where they are %s beyond", (_, due) => {
    expect(said(late.map(([last]) => [last, due]))).toContain("more than a year after");
  });

  it("are told where many are not after the last replacement", () => {
    const past = late.map(([last]) => [last, "2022-07-04"] as const);
    const words = '3 of 3 days under "Electrode set next due" are not after the last replacement';
    expect(said(past)).toContain(words);
    const right = late.map(([last]) => [last, "2026-07-04"] as const);
    expect(said([...past, ...right])).toContain("3 of 6 days under");
    expect(said([...past.slice(1), ...right])).not.toContain("are not after");
    // Where most others are stricter, each of them is in doubt.
    expect(said([...past, ...right, ...right])).not.toContain("are not after");
  });

  it("are told where a cell was dragged down over them, but not where all goes on so", () => {
    const lasts = ["04", "18", "06", "21", "11"].map((day) => `2026-05-${day}`);
    const dues = ["06", "07", "08", "09", "10"].map((day) => `2026-07-${day}`);
    const words = 'The days under "Electrode set next due" go on by 1 day from row to row';
    expect(said(dues.map((due, at) => [lasts[at] ?? "", due]))).toContain(words);
    const rounds = dues.map((due) => [due.replace("-07-", "-05-"), due] as const);
    expect(said(rounds)).not.toContain("row to row");
    expect(said(dues.slice(1).map((due, at) => [lasts[at] ?? "", due]))).not.toContain(
      "row to row",
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

it("are read on the first days of the calendar as on other days", () => {
  expect(() =>
    said(["A", "B", "C"].map(() => ["2026-05-04", "1900-03-05"] as const)),
  ).not.toThrow();
});
