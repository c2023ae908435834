import { describe, expect, it } from "vitest";
import { doubtsSay } from "../../../../src/book/records/doubts.ts";
import { on, readSheets, sheetOf, type Typed } from "../../../scenes/scene.ts";

const DEVICES = ["VR-01", "VR-02", "VR-03"];
const REGISTER = sheetOf("Kit", [
  ["Device", "Site", "Electrode set replaced"],
  ...DEVICES.map((id): Typed[] => [id, "Alder", on("2026-05-04")]),
]);
const MONTHS = ["Jan 2026", "Feb 2026", "Mar 2026", "Apr 2026", "May 2026"];

/** What is counted of a list with these columns of numbers, and whether its doubt is said before all. */
function counted(headings: readonly string[], numbers: (month: number) => readonly Typed[]) {
  const rows = MONTHS.flatMap((month, at) =>
    DEVICES.map((id): Typed[] => [month, id, ...numbers(at)]),
  );
  const reading = readSheets([
    REGISTER,
    sheetOf("Numbers", [["Month", "Device", ...headings], ...rows]),
  ]);
  const counts = reading.counts.map(({ count }) => count);
  return { counts: [...new Set(counts)], said: doubtsSay(reading).join(" ") };
}

describe("columns of numbers beside each other", () => {
  it.each([
    ["Screens", "Rescreens"],
    ["Tests", "Repeat tests"],
    ["Tests", "Outpatient"],
    ["Tests", "Night"],
    ["Untersuchungen", "Wiederholungen"],
    ["Pruebas", "Repeticiones"],
    ["Dépistages", "Contrôle"],
    ["Sessions", "Tests"],
  ])("may each hold a part, so that none is taken: %s, %s", (one, other) => {
    const { counts, said } = counted([one, other], (month) => [28 + month, 12 - month]);
    expect(counts).toEqual([]);
    expect(said).toContain("do not say which holds the uses");
  });

  it.each([
    [
      ["Tests", "Referred"],
      [40, 7],
    ],
    [
      ["Tests", "Passed"],
      [40, 33],
    ],
    [
      ["Tests", "Passed", "Referred"],
      [40, 33, 7],
    ],
    [
      ["Tests", "% of target"],
      [40, 0.8],
    ],
    [
      ["Room", "Tests"],
      [12, 40],
    ],
    [
      ["Tests", "Births"],
      [40, 43],
    ],
    [
      ["Year", "Tests"],
      [2026, 40],
    ],
    [
      ["First screens", "Repeat screens", "Total"],
      [28, 12, 40],
    ],
    [
      ["Tests", "Retests", "Total"],
      [28, 12, 40],
    ],
    [
      ["Babies", "Tests"],
      [28, 40],
    ],
    [
      ["Tests", "Babies"],
      [40, 40],
    ],
  ] as [string[], number[]][])("are no doubt where one holds all uses: %j", (headings, numbers) => {
    // The numbers of another month are others, but for those that stay.
    const { counts, said } = counted(headings, (month) =>
      numbers.map((number) => (number === 40 || number === 28 ? number + month : number)),
    );
    expect(counts).toEqual([40, 41, 42, 43, 44]);
    expect(said).toBe("");
  });

  it("of babies and fewer tests are in doubt", () => {
    expect(counted(["Babies", "Tests"], (month) => [40 + month, 28]).counts).toEqual([]);
  });
});
