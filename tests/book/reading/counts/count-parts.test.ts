import { describe, expect, it } from "vitest";
import { doubtsSay } from "../../../../src/book/records/doubts.ts";
import type { Reading } from "../../../../src/book/records/records.ts";
import { isoText } from "../../../../src/core/day.ts";
import { on, oursOf, readSheets, sheetOf, type Typed } from "../../../scenes/scene.ts";

const REGISTER = sheetOf("Kit", [
  ["Device", "Site", "Electrode set replaced"],
  ...["VR-01", "VR-02", "VR-03"].map((id): Typed[] => [id, "Alder", on("2026-05-04")]),
]);
const MONTHS = ["Mar 2026", "Apr 2026", "May 2026"];
const DEVICES = ["VR-01", "VR-02", "VR-03"];

function read(...sheets: readonly (readonly [string, Typed[][]])[]): Reading {
  return readSheets([REGISTER, ...sheets.map(([name, rows]) => sheetOf(name, rows))]);
}

/** The counts of one device by month; a dash stands for one in doubt. */
function countsOf({ counts }: Reading, device = "VR-01"): string[] {
  const own = counts.filter(
    (count) => count.device === device && (count.faulty || count.count !== null),
  );
  return own.map(({ month, count }) => `${isoText(month).slice(0, 7)} ${count ?? "-"}`).sort();
}

const IN_DOUBT = ["2026-03 -", "2026-04 -", "2026-05 -"];
const SUMS = ["2026-03 40", "2026-04 40", "2026-05 40"];

function isSaidFirst(reading: Reading): boolean {
  const said = doubtsSay(reading).join(" ");
  return (
    said.includes("lengthen no interval") &&
    reading.problems.some(({ kind }) => kind === "counts in doubt")
  );
}

const wide = (each: (device: string) => Typed[][], beside = "Ward"): Typed[][] => [
  ["Device", beside, ...MONTHS],
  ...DEVICES.flatMap(each),
];

describe("rows of one device", () => {
  it.each([
    ["wards", "Postnatal", "Intensive care", "VR-01"],
    ["shifts", "Tag", "Nacht", "VR-01"],
    ["ears", "gauche", "droite", "VR-01"],
    ["the name in the first row only", "Day", "Night", null],
  ])("that a text tells apart are added: %s", (_, one, other, again) => {
    for (const [first, second] of [
      [28, 12],
      [12, 28],
      [20, 20],
    ] as const) {
      const reading = read([
        "Tests",
        wide((id) => [
          [id, one, first, first, first],
          [again === null ? null : id, other, second, second, second],
        ]),
      ]);
      expect(countsOf(reading)).toEqual(SUMS);
      expect(reading.problems.map(({ kind }) => kind)).toEqual(["counted twice"]);
    }
  });

  it("are added in a list as well", () => {
    const rows = MONTHS.flatMap((month) =>
      DEVICES.flatMap((id): Typed[][] => [
        [month, id, "EF", 25],
        [month, id, "GH", 15],
      ]),
    );
    expect(countsOf(read(["Tests", [["Month", "Device", "Tester", "Tests"], ...rows]]))).toEqual(
      SUMS,
    );
  });

  it("are not added to their total", () => {
    for (const order of [
      [0, 1, 2],
      [2, 0, 1],
      [0, 2, 1],
    ]) {
      const parts: Typed[][] = [
        ["Day", 28],
        ["Night", 12],
        ["Total", 40],
      ];
      const reading = read([
        "Tests",
        wide((id) => order.map((at): Typed[] => [id, ...(parts[at] ?? []), 40, 40].slice(0, 5))),
      ]);
      expect(countsOf(reading)[0]).toBe("2026-03 40");
    }
  });

  it("are in doubt where a part of a month is missing that was there before", () => {
    const reading = read([
      "Tests",
      wide((id) => [
        [id, "Day", 28, 28, 28],
        [id, "Night", 12, 12, null],
      ]),
    ]);
    expect(countsOf(reading)).toEqual(["2026-03 40", "2026-04 40", "2026-05 -"]);
    expect(isSaidFirst(reading)).toBe(true);
  });

  it("that nothing tells apart: a higher one corrects, a lower or a third one puts the month in doubt, and that is told", () => {
    const rows = (...counts: number[]): Typed[][] => [
      ["Device", ...MONTHS],
      ...DEVICES.flatMap((id) => counts.map((count): Typed[] => [id, count, count, count])),
    ];
    const corrected = read(["Tests", [...rows(38), ["VR-01", 40, 40, 40]]]);
    expect(countsOf(corrected)).toEqual(SUMS);
    expect(countsOf(read(["Tests", rows(40, 40)]))).toEqual(SUMS);
    for (const counts of [
      [28, 12],
      [12, 28],
      [10, 12, 18],
    ]) {
      const reading = read(["Tests", rows(...counts)]);
      expect(countsOf(reading)).toEqual(IN_DOUBT);
      expect(isSaidFirst(reading)).toBe(true);
    }
  });

  it("a row without a device below one puts it in doubt where no text says what part it is", () => {
    const reading = read([
      "Tests",
      [
        ["Device", ...MONTHS],
        ["VR-01", 28, 28, 28],
        [null, 12, 12, 12],
        ["VR-02", 30, 30, 30],
        ["VR-03", 5, 5, 5],
      ],
    ]);
    expect(countsOf(reading)).toEqual(IN_DOUBT);
    expect(countsOf(reading, "VR-02")).toHaveLength(3);
    expect(isSaidFirst(reading)).toBe(true);
  });

  it("a row below all that is their sum puts nothing in doubt", () => {
    const reading = read([
      "Tests",
      [
        ["Device", ...MONTHS],
        ["VR-01", 40, 40, 40],
        ["VR-02", 30, 30, 30],
        ["VR-03", 5, 5, 5],
        [null, 75, 75, 75],
      ],
    ]);
    expect(countsOf(reading, "VR-03")).toEqual(["2026-03 5", "2026-04 5", "2026-05 5"]);
  });

  it("of a list whose device stands in its first row only are its months", () => {
    const rows = DEVICES.flatMap((id) =>
      MONTHS.map((month, at): Typed[] => [at === 0 ? id : null, month, 40]),
    );
    expect(countsOf(read(["Tests", [["Device", "Month", "Tests"], ...rows]]), "VR-02")).toEqual(
      SUMS,
    );
  });
});

describe("two sheets with the same devices and months", () => {
  const sheet = (count: number): Typed[][] => [
    ["Device", ...MONTHS],
    ...DEVICES.map((id): Typed[] => [id, count, count, count]),
  ];

  it.each([
    ["Left ear tests", 20, "Right ear tests", 20],
    ["Tests Alder", 28, "Tests Birch", 12],
    ["Tests Alder", 12, "Tests Birch", 28],
    ["Tests", 28, "Tests NICU", 12],
    ["Tests", 28, "Retests", 12],
    ["OAE tests", 20, "ABR tests", 20],
    ["Untersuchungen", 28, "Zweituntersuchungen", 12],
    ["Dépistages", 28, "Ambulatoire", 12],
    ["Day tests", 12, "Night tests", 28],
  ])("may each hold a part: %s %i, %s %i", (one, first, other, second) => {
    const reading = read([one, sheet(first)], [other, sheet(second)]);
    const read_ = countsOf(reading);
    expect(read_.length === 0 || read_.join() === IN_DOUBT.join()).toBe(true);
    if (read_.length > 0) expect(isSaidFirst(reading)).toBe(true);
  });

  it("say the same where one is a copy, or plainly of something else", () => {
    for (const [name, count] of [
      ["Tests (2)", 40],
      ["Copy of Tests", 40],
      ["Tests old", 40],
      ["Tests May 2026", 40],
      ["Referrals", 3],
      ["Electrodes used", 2],
    ] as const) {
      expect(countsOf(read(["Tests", sheet(40)], [name, sheet(count)]))).toEqual(SUMS);
    }
  });

  it("are no doubt where a person chose one", () => {
    const ours = oursOf({ matches: new Map([["counts", "Tests"]]) });
    const sheets = [REGISTER, sheetOf("Tests", sheet(40)), sheetOf("Tests NICU", sheet(12))];
    expect(countsOf(readSheets(sheets, ours))).toEqual(SUMS);
  });
});

it("one month in two columns is in doubt, and so is the newest, for one of them may be newer", () => {
  const reading = read([
    "Tests",
    [
      ["Device", "Mar 2026", "Apr 2026", "Apr 2026", "May 2026"],
      ...DEVICES.map((id): Typed[] => [id, 40, 28, 12, 40]),
    ],
  ]);
  expect(countsOf(reading)).toEqual(["2026-03 40", "2026-04 -", "2026-05 -"]);
  expect(isSaidFirst(reading)).toBe(true);
});
