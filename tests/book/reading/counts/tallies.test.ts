import { describe, expect, it } from "vitest";
import { doubtsSay } from "../../../../src/book/records/doubts.ts";
import { on, readSheets, sheetOf, type Typed } from "../../../scenes/scene.ts";

const DEVICES = ["VR-01", "VR-02", "VR-03"];
const REGISTER = sheetOf("Kit", [
  ["Device", "Site", "Electrode set replaced"],
  ...DEVICES.map((id): Typed[] => [id, "Alder", on("2026-05-04")]),
]);

const dayOf = (at: number): string => String(at + 1).padStart(2, "0");
const days = (month: string, count: number): Typed[] =>
  Array.from({ length: count }, (_, at) => on(`2026-${month}-${dayOf(at)}`));

function saidOf(name: string, rows: Typed[][]): string {
  const reading = readSheets([REGISTER, sheetOf(name, rows)]);
  expect(reading.counts.filter(({ count }) => count !== null)).toEqual([]);
  return doubtsSay(reading).join(" ");
}

describe("numbers that are of other times than months", () => {
  it.each([
    [
      "a row for each day",
      "Daily",
      [["Date", ...DEVICES], ...days("05", 28).map((day): Typed[] => [day, 1, 2, 0])],
    ],
    [
      "a row for each day, in German",
      "Tageszahlen",
      [["Datum", ...DEVICES], ...days("05", 9).map((day): Typed[] => [day, 1, 2, 0])],
    ],
    [
      "a column for each day",
      "May 2026",
      [
        ["Device", ...Array.from({ length: 31 }, (_, at) => at + 1)],
        ...DEVICES.map((id): Typed[] => [id, ...Array.from({ length: 31 }, () => 1)]),
      ],
    ],
    [
      "halves of months",
      "Tests",
      [
        ["Device", "1-15 Apr 2026", "16-30 Apr 2026", "1-15 May 2026"],
        ...DEVICES.map((id): Typed[] => [id, 9, 8, 9]),
      ],
    ],
    [
      "two counts of a month",
      "Tests",
      [
        ["Device", "2026-04 1st", "2026-04 2nd", "2026-05 1st", "2026-05 2nd"],
        ...DEVICES.map((id): Typed[] => [id, 28, 12, 28, 12]),
      ],
    ],
    [
      "a row for each test",
      "Test list",
      [
        ["Date", "Device", "Result"],
        ...DEVICES.flatMap((id) => days("05", 28).map((day): Typed[] => [day, id, "pass"])),
      ],
    ],
  ] as [string, string, Typed[][]][])(
    "are told first, with how to have them counted: %s",
    (_, name, rows) => {
      expect(saidOf(name, rows)).toMatch(
        /not used, so the shortest intervals apply\. To have uses counted, add them up by month/,
      );
    },
  );

  it.each([
    ...[
      ["Q1 2026", "Q2 2026"],
      ["1st quarter", "2nd quarter"],
      ["1. Quartal 2026", "2. Quartal 2026"],
    ],
    ...[
      ["T1 2026", "T2 2026"],
      ["1T 2026", "2T 2026"],
      ["I kw. 2026", "II kw. 2026"],
    ],
    ...[
      ["H1 2025", "H2 2025"],
      ["2025", "2026 to date"],
      ["FY25", "FY26 YTD"],
    ],
    ...[["Week 21", "Week 22"], ["H1 2026"]],
  ])("by quarters, halves, years or weeks are told first: %s %s", (...headings) => {
    const rows = DEVICES.map((id): Typed[] => [id, ...headings.map(() => 90)]);
    expect(saidOf("Tests", [["Device", ...headings], ...rows])).toContain("no whole single months");
  });

  it("by quarters are told beside a year whose months are counted", () => {
    const months = Array.from({ length: 12 }, (_, at) => on(`2025-${dayOf(at)}-01`));
    const numbers = (count: number): Typed[][] =>
      DEVICES.map((id, at) => [id, ...Array.from({ length: count }, (_, one) => 20 + at + one)]);
    const reading = readSheets([
      REGISTER,
      sheetOf("Tests 2025", [["Device", ...months], ...numbers(12)]),
      sheetOf("Tests 2026", [["Device", "Q1", "Q2"], ...numbers(2)]),
    ]);
    expect(doubtsSay(reading).join(" ")).toContain('Tests 2026 has numbers under "Q1" and "Q2"');
  });

  it("by years of money are no uses", () => {
    const rows = DEVICES.map((id): Typed[] => [id, 900, 800]);
    expect(saidOf("Costs", [["Device", "2025", "2026"], ...rows])).toBe("");
  });

  it("beside months that are counted are told", () => {
    const rows: Typed[][] = [
      ["Device", "Jan-Feb 2026", "Mar 2026", "Apr 2026", "May 2026"],
      ...DEVICES.map((id): Typed[] => [id, 80, 40, 40, 40]),
    ];
    const reading = readSheets([REGISTER, sheetOf("Tests", rows)]);
    expect(reading.counts).toHaveLength(9);
    expect(doubtsSay(reading).join(" ")).toContain(
      '"Jan-Feb 2026" on Tests are no whole single months',
    );
  });

  it("are not seen in a list of jobs, nor in months that are read", () => {
    const rows = DEVICES.map((id): Typed[] => [on("2026-05-04"), id, "electrodes replaced"]);
    const jobs = readSheets([
      REGISTER,
      sheetOf("Work done", [["Date", "Device", "Work"], ...rows]),
    ]);
    expect(jobs.problems.filter(({ kind }) => kind === "counts not read")).toEqual([]);
    const months = ["Jan 26", "Feb 26", "Mar 26", "Q1", "Apr 26", "May 26", "YTD"];
    const read = readSheets([
      REGISTER,
      sheetOf("Tests", [
        ["Device", ...months],
        ...DEVICES.map((id): Typed[] => [id, 1, 2, 3, 6, 4, 5, 15]),
      ]),
    ]);
    expect(doubtsSay(read)).toEqual([]);
  });
});

describe("months below each other with a column for each device", () => {
  const months = ["2026-03-01", "2026-04-01", "2026-05-01"].map(on);
  const rows: Typed[][] = [
    ["Month", ...DEVICES],
    ...months.map((month): Typed[] => [month, 40, 30, 20]),
  ];

  it("are told, and counted once they are turned round as it says", () => {
    expect(saidOf("Tests", rows)).toContain("turn it round");
    const turned = rows[0]?.map((_, at) => rows.map((cells) => cells[at] ?? null)) ?? [];
    const reading = readSheets([REGISTER, sheetOf("Tests", turned)]);
    expect(reading.counts.map(({ count }) => count)).toEqual([40, 40, 40, 30, 30, 30, 20, 20, 20]);
  });
});

describe("a list of several numbers of which none says that it holds all uses", () => {
  it.each([
    ["Pass", "Refer"],
    ["Inpatient", "Outpatient"],
    ["Left ears", "Right ears"],
    ["Voldoende", "Onvoldoende"],
  ])("is told, and counted once they are added up: %s, %s", (one, other) => {
    const list = (headings: string[], numbers: number[]): Typed[][] => [
      ["Month", "Device", ...headings],
      ...["2026-03", "2026-04", "2026-05"].flatMap((month) =>
        DEVICES.map((id): Typed[] => [month, id, ...numbers]),
      ),
    ];
    expect(saidOf("Numbers", list([one, other], [28, 12]))).toContain("add a column Uses");
    const reading = readSheets([
      REGISTER,
      sheetOf("Numbers", list([one, other, "Uses"], [28, 12, 40])),
    ]);
    expect(new Set(reading.counts.map(({ count }) => count))).toEqual(new Set([40]));
    expect(doubtsSay(reading)).toEqual([]);
  });
});

it.each([
  "Counter readings",
  "Tests YTD",
  "Zählerstand",
  "Relevé compteur",
  "Lectura del contador",
])("running totals are no uses of a month: %s", (name) => {
  const rows: Typed[][] = [
    ["Device", "Mar 2026", "Apr 2026", "May 2026"],
    ...DEVICES.map((id): Typed[] => [id, 1400, 1440, 1480]),
  ];
  expect(readSheets([REGISTER, sheetOf(name, rows)]).counts).toEqual([]);
});
