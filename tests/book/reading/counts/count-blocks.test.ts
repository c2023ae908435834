import { describe, expect, it } from "vitest";
import { isoText } from "../../../../src/core/day.ts";
import { on, readSheets, sheetOf, type Typed } from "../../../scenes/scene.ts";

const DEVICES = ["VR-01", "VR-02", "VR-03"];
const REGISTER = sheetOf("Kit", [
  ["Device", "Site", "Electrode set replaced"],
  ...DEVICES.map((id): Typed[] => [id, "Alder", on("2026-05-04")]),
]);
const NAMES = ["Jan", "Feb", "Mar", "Apr", "May"];

function countsOf(rows: Typed[][]): string[] {
  return readSheets([REGISTER, sheetOf("Tests", rows)])
    .counts.filter(({ device, count, faulty }) => device === "VR-02" && (count !== null || faulty))
    .map(({ month, count }) => `${isoText(month).slice(0, 7)} ${count ?? "-"}`)
    .sort();
}

const block = (title: string | null, headings: readonly Typed[], count: number): Typed[][] => [
  ...(title === null ? [] : [[title]]),
  ["Device", ...headings],
  ...DEVICES.map((id): Typed[] => [id, ...headings.map((_, at) => count + at)]),
  [],
];
const BOTH = [20, 30].flatMap((count, at) =>
  NAMES.map((_, month) => `${2025 + at}-0${month + 1} ${count + month}`),
);

describe("blocks of months below each other", () => {
  it.each([
    [
      "the year in a title above each",
      block("Year 2025", NAMES, 20),
      block("Year 2026", NAMES, 30),
    ],
    [
      "months with their years",
      block(
        null,
        NAMES.map((name) => `${name} 2025`),
        20,
      ),
      block(
        null,
        NAMES.map((name) => `${name} 2026`),
        30,
      ),
    ],
    [
      "true dates",
      block(
        null,
        NAMES.map((_, at) => on(`2025-0${at + 1}-01`)),
        20,
      ),
      block(
        "2026",
        NAMES.map((_, at) => on(`2026-0${at + 1}-01`)),
        30,
      ),
    ],
  ])("are each of their own: %s", (_, first, second) => {
    expect(countsOf([...first, ...second])).toEqual(BOTH);
    expect(countsOf([...second, ...first])).toEqual(BOTH);
  });

  it("begin with the first, though the second has more months", () => {
    const [less, more] = [block("2026", NAMES.slice(0, 3), 30), block("2025", NAMES, 20)];
    expect(countsOf([...less, ...more])).toEqual(BOTH.slice(0, 8));
  });

  it("of the same months are in doubt, since each may be a part", () => {
    const months = NAMES.map((name) => `${name} 2026`);
    const counts = countsOf([
      ...block("First floor", months, 28),
      ...block("Second floor", months, 30),
    ]);
    expect(counts.filter((line) => !line.endsWith("-"))).toEqual([]);
  });
});
