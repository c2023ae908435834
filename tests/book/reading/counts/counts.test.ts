import { describe, expect, it } from "vitest";
import { DATE_SYSTEM_SHIFT, type Day, isoText } from "../../../../src/core/day.ts";
import type { Reading } from "../../../../src/book/records/records.ts";
import { month, on, oursOf, readSheets, sheetOf, told, type Typed } from "../../../scenes/scene.ts";

const REGISTER = sheetOf("Equipment", [
  ["Device", "Site", "Status"],
  ["VR-01", "S01", "In service"],
  ["VR-02", "S01", "In service"],
  ["VR-03", "S02", "In service"],
]);

const read = (rows: readonly (readonly Typed[])[], ours = oursOf()): Reading =>
  readSheets([REGISTER, sheetOf("Counts", rows)], ours);
const shown = ({ counts }: Reading): string[] =>
  counts.map(
    ({ device, month: start, count, faulty }) =>
      `${device} ${isoText(start).slice(0, 7)} ${count ?? "-"}${faulty ? " faulty" : ""}`,
  );

describe("a wide sheet of counts", () => {
  it.each([
    ["true dates", [on("2026-04-01"), on("2026-05-01")]],
    ["true dates anywhere in the month", [on("2026-04-30"), on("2026-05-17")]],
    ["month names", ["Apr 2026", "May 2026"]],
    ["short month names", ["Apr-26", "May-26"]],
    ["ISO months", ["2026-04", "2026-05"]],
    ["month numbers", ["04/2026", "05/2026"]],
    ["first days, day first", ["01/04/2026", "01/05/2026"]],
    ["first days, month first", ["4/1/2026", "5/1/2026"]],
  ] as const)("has months as %s", (_, [april, may]) => {
    const reading = read([
      ["Device", april, may, "Total"],
      ["VR-01", 20, 21, 41],
      ["VR-02", 30, 0, 30],
      ["vr-03 ", 1, null, 1],
    ]);
    expect(shown(reading)).toEqual([
      "VR-01 2026-04 20",
      "VR-01 2026-05 21",
      "VR-02 2026-04 30",
      "VR-02 2026-05 0",
      "VR-03 2026-04 1",
      "VR-03 2026-05 -",
    ]);
    expect(reading.counts[2]).toMatchObject({ sheet: "Counts", row: 2, column: 1 });
    expect(told(reading)).toEqual(["late count *4"]);
  });

  it("may have the year in a row above the months", () => {
    const merges = [{ firstRow: 0, lastRow: 0, firstColumn: 1, lastColumn: 2 }];
    const rows: Typed[][] = [
      ["Device", 2026, null],
      [null, "Apr", "May"],
      ["VR-01", 20, 21],
      ["VR-02", 30, 31],
      ["VR-03", 1, 2],
    ];
    const reading = readSheets([REGISTER, sheetOf("Counts", rows, { merges })]);
    expect(shown(reading).slice(0, 2)).toEqual(["VR-01 2026-04 20", "VR-01 2026-05 21"]);
  });

  it("leaves rows of totals out", () => {
    const reading = read([
      ["Sessions"],
      ["Device", "Apr 2026", "May 2026"],
      ["VR-01", 20, 21],
      ["S01 subtotal", 20, 21],
      ["VR-02", 30, 31],
      ["VR-03", 1, 2],
      ["Total", 51, 54],
    ]);
    expect(reading.counts).toHaveLength(6);
    expect(told(reading)).toEqual(["subtotal row *4"]);
  });

  it("may stand in the register itself", () => {
    const rows: Typed[][] = [
      ["Device", "Site", "Apr 2026", "May 2026"],
      ["VR-01", "S01", 20, 21],
    ];
    const reading = readSheets([sheetOf("Equipment", rows)]);
    expect(shown(reading)).toEqual(["VR-01 2026-04 20", "VR-01 2026-05 21"]);
  });

  it("may be one sheet a year", () => {
    const year = (name: string, first: string, second: string) =>
      sheetOf(name, [
        ["Device", first, second],
        ["VR-01", 20, 21],
        ["VR-02", 30, 31],
        ["VR-03", 5, 6],
      ]);
    const reading = readSheets([
      REGISTER,
      year("2025", "Nov 2025", "Dec 2025"),
      year("2026", "Jan 2026", "Feb 2026"),
    ]);
    expect(reading.counts).toHaveLength(12);
    expect(reading.problems).toEqual([]);
  });
});

describe("a long sheet of counts", () => {
  it("has a row for each device and month", () => {
    const reading = read([
      ["Month", "Device ID", "Sessions"],
      [on("2026-04-01"), "VR-01", 20],
      [on("2026-04-01"), "VR-02", 30],
      ["May 2026", "VR-01", 21],
      [on("2026-05-31"), "VR-02", null],
      ["2026-05", "VR-03", 7],
    ]);
    expect(shown(reading).sort()).toEqual([
      "VR-01 2026-04 20",
      "VR-01 2026-05 21",
      "VR-02 2026-04 30",
      "VR-02 2026-05 -",
      "VR-03 2026-05 7",
    ]);
    expect(told(reading)).toEqual(["late count *5"]);
  });

  it("lets the later row replace, never add", () => {
    const reading = read([
      ["Device", "Month", "Count"],
      ["VR-01", on("2026-05-01"), 20],
      ["VR-02", on("2026-05-01"), 30],
      ["VR-03", on("2026-05-01"), 40],
      ["vr-01", on("2026-05-15"), 25],
      ["VR-02", on("2026-05-01"), null],
    ]);
    expect(shown(reading)).toEqual(["VR-01 2026-05 25", "VR-02 2026-05 30", "VR-03 2026-05 40"]);
    expect(told(reading)).toEqual(["counted twice *5"]);
    expect(reading.problems[0]).toMatchObject({ severity: "notice" });
  });

  it("tells a month that cannot be read", () => {
    const reading = read([
      ["Device", "Month", "Count"],
      ["VR-01", on("2026-05-01"), 20],
      ["VR-02", "02/03/2026", 30],
      ["VR-02", null, 30],
      ["VR-02", { error: "#REF!" }, 30],
      ["VR-02", on("2026-05-01"), 30],
      ["VR-03", on("2026-05-01"), 30],
    ]);
    expect(told(reading)).toEqual([
      "text date B3",
      "no date B4",
      "cell error B5",
      "counts in doubt **",
    ]);
  });
});

describe("what stands in a count cell", () => {
  it.each([
    ["12", "text count", '"12" is text, not a number.', "Type 12 as a number."],
    [
      "1,200",
      "text count",
      '"1,200" is text, not a number.',
      "Type the count as a number, or clear the cell when there is none.",
    ],
    [
      "n/a",
      "text count",
      '"n/a" is text, not a number.',
      "Type the count as a number, or clear the cell when there is none.",
    ],
    [-3, "count below zero", "-3 is below zero.", "Type the month's count."],
    [
      12.5,
      "count not whole",
      "12.5 is not a whole number.",
      "Type the month's count, not an average.",
    ],
    [
      { error: "#REF!" },
      "cell error",
      "The cell shows #REF!.",
      "Repair the formula, or type the value.",
    ],
    [
      true,
      "text count",
      '"true" is text, not a number.',
      "Type the count as a number, or clear the cell when there is none.",
    ],
  ])("%j is faulty and no count", (value, kind, cause, fix) => {
    const reading = read([
      ["Device", "Apr 2026", "May 2026", "Jun 2026"],
      ["VR-01", 20, value, 21],
      ["VR-02", 20, 20, 21],
      ["VR-03", 20, 20, 21],
    ]);
    expect(reading.counts[1]).toMatchObject({ count: null, faulty: true });
    expect(reading.problems).toEqual([
      {
        kind,
        sheet: "Counts",
        row: 1,
        column: 2,
        heading: "May 2026",
        cause,
        fix,
        severity: "fault",
        ...(value === "12" ? { mend: { value: 12, isDate: false } } : {}),
      },
    ]);
  });

  it.each([null, "", "  ", "\u00a0"])("%j is no count, and never zero", (value) => {
    const reading = read([
      ["Device", "Apr 2026", "May 2026", "Jun 2026"],
      ["VR-01", 20, value, 21],
      ["VR-02", 20, 20, 21],
      ["VR-03", 20, 20, 21],
    ]);
    expect(reading.counts[1]).toMatchObject({ count: null, faulty: false });
    expect(told(reading)).toEqual(["count missing C2"]);
  });
});

describe("months that are missing, late or ahead", () => {
  const MONTHS = ["Jan 2026", "Feb 2026", "Mar 2026", "Apr 2026", "May 2026"];
  const register = (more: readonly Typed[]) =>
    sheetOf("Equipment", [
      ["Device", "Commissioned", "Status", "Retired on"],
      ["VR-01", ...more],
      ["VR-02", null, "In service", null],
    ]);
  const gaps = (cells: readonly Typed[], more: readonly Typed[] = [null, "In service", null]) =>
    told(
      readSheets([
        register(more),
        sheetOf("Counts", [
          ["Device", ...MONTHS],
          ["VR-01", ...cells],
          ["VR-02", 9, 9, 9, 9, 9],
        ]),
      ]),
    );

  it.each([
    ["complete", [1, 2, 3, 4, 5], []],
    ["a gap", [1, null, 3, null, 5], ["count missing C2", "count missing E2"]],
    ["late by two", [1, 2, 3, null, null], ["late count *2"]],
    ["a gap and late", [1, null, 3, 4, null], ["count missing C2", "late count *2"]],
    ["begun later", [null, null, 3, 4, 5], []],
    ["never counted", [null, null, null, null, null], ["late count *2"]],
  ])("%s", (_, cells, problems) => {
    expect(gaps(cells)).toEqual(problems);
  });

  it("never count before commissioning or after retirement", () => {
    const late = [null, null, null, null, null];
    expect(gaps(late, [on("2026-05-02"), "In service", null])).toEqual([]);
    expect(gaps(late, [on("2026-05-01"), "In service", null])).toEqual(["late count *2"]);
    expect(gaps([1, null, null, null, null], [null, "Retired", null])).toEqual([]);
    expect(gaps([1, null, 3, null, null], [null, "", on("2026-03-31")])).toEqual([]);
    expect(gaps([1, null, null, null, 5], [on("2026-04-01"), "", null])).toEqual([
      "count missing E2",
    ]);
  });

  it("name the months of a late device in one problem", () => {
    const reading = readSheets([
      register([null, "In service", null]),
      sheetOf("Counts", [
        ["Device", ...MONTHS],
        ["VR-01", 1, 2, 3, null, null],
        ["VR-02", 9, 9, 9, 9, 9],
      ]),
    ]);
    expect(reading.problems[0]?.cause).toBe(
      "VR-01 has no count for 2026-04 and 2026-05; other devices have counts up to 2026-05.",
    );
  });

  it("are told in the register for a device that is counted nowhere", () => {
    const reading = readSheets([
      REGISTER,
      sheetOf("Counts", [
        ["Device", "Apr 2026", "May 2026"],
        ["VR-01", 1, 2],
        ["VR-02", 1, 2],
      ]),
    ]);
    expect(reading.problems).toMatchObject([{ kind: "late count", sheet: "Equipment", row: 3 }]);
  });

  it("after the report date are not used", () => {
    const reading = read([
      ["Device", "May 2026", "Jul 2026"],
      ["VR-01", 1, 2],
      ["VR-02", 1, null],
      ["VR-03", 1, null],
    ]);
    expect(told(reading)).toEqual(["future date C*", "counts in doubt **"]);
    expect(reading.counts[1]).toMatchObject({ count: null, faulty: true });
  });
});

describe("months from a workbook of the other date system", () => {
  const START = ["2026-02", "2026-03", "2026-04", "2026-05"].map(month);
  const dated = (serial: number): Typed => on(isoText(serial as Day));

  it.each([DATE_SYSTEM_SHIFT, -DATE_SYSTEM_SHIFT])(
    "%i days off are told once, and not used",
    (shift) => {
      const long = START.flatMap((start): Typed[][] => [
        ["VR-01", dated(start + shift), 20],
        ["VR-02", dated(start + shift), 20],
      ]);
      const wide: Typed[][] = [
        ["Device", ...START.map((start) => dated(start + shift))],
        ["VR-01", 1, 2, 3, 4],
        ["VR-02", 1, 2, 3, 4],
      ];
      for (const rows of [[["Device", "Month", "Count"], ...long], wide]) {
        const reading = read(rows);
        expect(told(reading)).toEqual(["1,462-day shift **"]);
        expect(reading.counts).toEqual([]);
      }
    },
  );

  it("are not suspected of month ends, the 15th, or old books", () => {
    const day15 = ["2026-02-15", "2026-03-15", "2026-04-15"];
    const ends = ["2026-02-28", "2026-03-31", "2026-04-30"];
    const old = ["2018-02-28", "2018-03-31", "2018-04-30"];
    for (const days of [day15, ends, old]) {
      const reading = read([
        ["Device", ...days.map(on)],
        ["VR-01", 1, 2, 3],
        ["VR-02", 1, 2, 3],
        ["VR-03", 1, 2, 3],
      ]);
      expect(reading.counts).toHaveLength(9);
      expect(reading.problems).toEqual([]);
    }
  });
});

describe("which sheet holds the counts", () => {
  const COUNTS = [
    ["Device", "Apr 2026", "May 2026"],
    ["VR-01", 1, 2],
    ["VR-02", 1, 2],
    ["VR-03", 1, 2],
  ];
  const chosen = (counts: string) => oursOf({ matches: new Map([["counts", counts]]) });

  it("may be said, or that there is none", () => {
    const sheets = [REGISTER, sheetOf("A", COUNTS), sheetOf("B", COUNTS)];
    expect(readSheets(sheets, chosen("b")).counts.every(({ sheet }) => sheet === "B")).toBe(true);
    expect(readSheets(sheets, chosen("none")).counts).toEqual([]);
  });

  it("is told when it cannot be read", () => {
    expect(told(readSheets([REGISTER], chosen("Sessions")))).toEqual(["counts not found **"]);
  });

  it("is not a sheet about other things", () => {
    const others = [
      sheetOf("Births", [
        ["Site", "Apr 2026"],
        ["S01", 400],
      ]),
      sheetOf("Plan", [
        ["Item", "Apr 2026"],
        ["Electrode sets", 4],
      ]),
      sheetOf("Checks", [
        ["Device", "Date", "Test"],
        ["VR-01", on("2026-05-04"), "pass"],
      ]),
    ];
    expect(readSheets([REGISTER, ...others]).counts).toEqual([]);
  });

  it("names devices the register does not know once, and keeps their counts apart", () => {
    const reading = read([...COUNTS, ["VR-99", 5, 6]]);
    expect(told(reading)).toEqual(["unknown device A5"]);
    expect(shown(reading)).toContain("VR-99 2026-05 6");
  });

  it("tells counts without a device", () => {
    const reading = read([...COUNTS.slice(0, 3), [null, 5, 6], ["VR-03", 1, 2]]);
    expect(told(reading)).toEqual(["device missing A4", "counts in doubt **"]);
    expect(shown(reading).filter((line) => line.startsWith("VR-02"))).toEqual([
      "VR-02 2026-04 - faulty",
      "VR-02 2026-05 - faulty",
    ]);
  });
});
