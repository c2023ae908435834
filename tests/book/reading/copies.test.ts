import { describe, expect, it } from "vitest";
import { civilDay, isoText } from "../../../src/core/day.ts";
import { periodOf } from "../../../src/book/headings/period.ts";
import { undatedParts } from "../../../src/book/reading/unread/missing-columns.ts";
import type { Reading } from "../../../src/book/records/records.ts";
import { bookOf, on, readSheets, sheetOf, type Typed } from "../../scenes/scene.ts";

const HEADINGS: Typed[] = ["Device", "Site", "Electrode set replaced", "Ear cushion replaced"];
const register = (name: string, date: string, ids: readonly string[] = ["A1", "A2", "A3"]) =>
  sheetOf(name, [HEADINGS, ...ids.map((id): Typed[] => [id, "Alder", on(date), on(date)])]);
const sheetsOf = ({ registers }: Reading): string[] => registers.map(({ sheet }) => sheet);
const causesOf = ({ problems }: Reading, kind: string): string[] =>
  problems.filter((problem) => problem.kind === kind).map(({ cause }) => cause);

describe("the period a sheet's name says", () => {
  it.each([
    ["2026", "2026-01-01"],
    ["Register 2026", "2026-01-01"],
    ["Mar 2026", "2026-03-01"],
    ["Equipment - March 2026", "2026-03-01"],
    ["2026-03", "2026-03-01"],
    ["Liste 202603", "2026-03-01"],
    ["März 2026", "2026-03-01"],
    ["Register 11-2026", "2026-11-01"],
    ["Register 11.2026", "2026-11-01"],
    ["Register 15.03.2026", "2026-03-15"],
    ["Register 2026-3", "2026-03-01"],
    ["Register 2026 Nov", "2026-11-01"],
    ["Register Jan 26", "2026-01-01"],
    ["H2 2026", "2026-07-01"],
    ["4Q 2026", "2026-10-01"],
    ["1. Quartal 2026", "2026-01-01"],
    ["Q2 2026", "2026-04-01"],
    ["T3 2026", "2026-07-01"],
  ])("%s begins on %s", (name, day) => {
    const found = periodOf(name);
    expect(found === null ? null : isoText(found)).toBe(day);
  });
  it.each([
    "Sheet1",
    "Ward 12",
    "Room 3026",
    "Serial 120261",
    "North",
    "2026 W45",
    "Block 2 2026 v3",
  ])("%s is of none", (name) => {
    expect(periodOf(name)).toBeNull();
  });
});

describe("copies of a register begun anew each month or year", () => {
  it("give way to the latest that has begun, and are told", () => {
    const reading = readSheets([
      register("Jan 2026", "2025-12-01"),
      register("Jun 2026", "2026-06-01"),
      register("Mar 2026", "2026-02-01"),
      register("Dec 2026", "2026-06-02"),
    ]);
    expect(sheetsOf(reading)).toEqual(["Jun 2026"]);
    expect(causesOf(reading, "register not read")).toEqual([
      "Jan 2026 is not read: its devices are also on Jun 2026, which is more recent.",
      "Mar 2026 is not read: its devices are also on Jun 2026, which is more recent.",
      expect.stringContaining("Dec 2026 looks like a register, but is not read"),
    ]);
  });
  it("give way to one that has begun where the likeliest has not", () => {
    const reading = readSheets([
      register("2027", "2026-06-01"),
      register("2026", "2026-03-02"),
      register("2025", "2025-03-03"),
    ]);
    expect(sheetsOf(reading)).toEqual(["2026"]);
  });
  it("are all read where each has devices of its own: those are sites that are named after years", () => {
    const reading = readSheets([
      register("2025", "2026-02-01"),
      register("2026", "2026-03-02", ["B1", "B2", "B3"]),
    ]);
    expect(sheetsOf(reading)).toEqual(["2025", "2026"]);
  });
  it("give way to one that is not named as old", () => {
    const reading = readSheets([register("Old", "2026-02-01"), register("2026", "2026-03-02")]);
    expect(sheetsOf(reading)).toEqual(["2026"]);
  });
  it("give way to one that has many more devices and is not named as old", () => {
    const reading = readSheets([
      register("Kit", "2026-03-02", ["A1", "A2", "A3", "A4", "A5", "A6", "A7"]),
      register("Kit OLD", "2026-02-01"),
    ]);
    expect(sheetsOf(reading)).toEqual(["Kit"]);
  });
  it.each([["Kit old"], ["Kit (ancien)"], ["Kit stare"]])(
    "are not asked to be named as old where the name says it: %s",
    (name) => {
      const reading = readSheets([register("Kit", "2026-03-02"), register(name, "2026-02-01")]);
      const [told] = reading.problems.filter(({ kind }) => kind === "register not read");
      expect(told?.fix).toContain("if it is an old copy, nothing needs to be done");
    },
  );
  it("tell of a device that only the earlier one has", () => {
    const reading = readSheets([
      register("2025", "2026-02-01", ["A1", "A2", "A3", "A4"]),
      register("2026", "2026-03-02"),
    ]);
    expect(causesOf(reading, "register not read")).toEqual([
      expect.stringContaining("1 device of it is not on 2026"),
    ]);
  });
});

describe("a grid of months with the days on which a part was replaced", () => {
  const MONTHS = ["Jan", "Feb", "Mar", "Apr", "May", "Jun"];
  const grid = (title: string): Reading =>
    readSheets([
      sheetOf("Sheet1", [
        [title],
        ["Device", "Site", ...MONTHS],
        ...["A1", "A2", "A3"].map((id, at): Typed[] => [id, "Alder", 5 + at, 7, 9, 8, 6 + at, 7]),
      ]),
    ]);
  it("is no sheet of uses, which would be too few", () => {
    const reading = grid("Cushion replacement 2026");
    expect(reading.counts).toEqual([]);
    expect(causesOf(reading, "counts not read")).toEqual([
      expect.stringContaining('"Cushion replacement 2026" does not say plainly'),
    ]);
  });
  it("is one where its title says nothing else", () => {
    expect(grid("Sessions 2026").counts.length).toBe(18);
  });
});

describe("a row that tells of the last job alone, whichever part it was", () => {
  it("offers its date for no part", () => {
    const rows: Typed[][] = [
      ["Unit", "Ward", "Last change", "What was changed"],
      ...["U1", "U2", "U3", "U4"].map((id, at): Typed[] => [
        ...[id, "North", on("2026-05-04")],
        at % 2 === 0 ? "Electrodes" : "Cushion",
      ]),
    ];
    const snapshot = bookOf([sheetOf("Kit", rows)]);
    const told = undatedParts(snapshot, readSheets(snapshot.sheets));
    expect(told.map(({ part }) => part.code)).toEqual(["SET", "CUSHION"]);
    for (const { problem } of told) {
      expect(problem.fix).toContain('as "What was changed" shows');
      expect(problem.fix).not.toContain("--match");
    }
  });
});

describe("a row that stands for several devices", () => {
  const told = (ids: readonly string[]): string[] =>
    causesOf(readSheets([register("Equipment", "2026-05-04", ids)]), "several devices");
  it.each([
    [
      ["OAE 1-4", "OAE 5", "OAE 6", "OAE 7"],
      ['"OAE 1-4" may be 4 devices in one row; it counts as one.'],
    ],
    [
      ["OAE 1", "OAE 2", "OAE 3", "OAE 4 & 6"],
      ['"OAE 4 & 6" may be 2 devices in one row; it counts as one.'],
    ],
    [["A1", "A2", "A3", "A4 bis 9"], ['"A4 bis 9" may be 6 devices in one row; it counts as one.']],
    // The beginning stands before both numbers, whatever others are called.
    [
      ["M-1 / M-2", "M-3 to M-6", "N-7\nN-8", "R-3 u. R-4"],
      [
        '"M-1 / M-2" may be 2 devices in one row; it counts as one.',
        '"M-3 to M-6" may be 4 devices in one row; it counts as one.',
        '"N-7\nN-8" may be 2 devices in one row; it counts as one.',
        '"R-3 u. R-4" may be 2 devices in one row; it counts as one.',
      ],
    ],
    [
      ["N-1, N-2, N-3", "Z9"],
      ['"N-1, N-2, N-3" may be several devices in one row; it counts as one.'],
    ],
    [["4411+4412", "Z9"], ['"4411+4412" may be 2 devices in one row; it counts as one.']],
    [["A1-A2", "A1-A3", "A2-A4"], []],
    [["AB/12", "AB/13", "Ward 3 Bay 4"], []],
    // Two numbers are how these are numbered, fall, or begin as no other does.
    [["12-13", "12-14", "13-15", "13-16"], []],
    [["A1", "A2", "A3", "A9-4"], []],
    [["A1", "A2", "A3", "Loan 2-3"], []],
  ])("%o", (ids, causes) => {
    expect(told(ids)).toEqual(causes);
  });
});

describe("a register whose devices have nothing but serial numbers", () => {
  const read = (serials: readonly Typed[]): Reading =>
    readSheets([
      sheetOf("Kit", [
        ["Make/Model", "S/N", "Where", "Set changed", "Pad changed"],
        ...serials.map((serial): Typed[] => [
          ...["Type A", serial, "North", on("2026-05-04"), on("2026-06-01")],
        ]),
      ]),
    ]);
  it("is read by them", () => {
    const { devices } = read([804001, 804002, "X-17", 804004]);
    expect(devices.map(({ id }) => id)).toEqual(["804001", "804002", "X-17", "804004"]);
    expect(devices[0]?.lastDone.filter(({ date }) => date !== null)).toHaveLength(2);
  });
  it("is no further one where another names the same devices by numbers of its own", () => {
    const named = sheetOf("Equipment", [
      ["Device", "Serial number", "Electrode set replaced"],
      ...[1, 2, 3, 4].map((at): Typed[] => [`A${at}`, `SN-${at}`, on("2026-05-04")]),
    ]);
    const bare = sheetOf("Fittings", [
      ["Serial", "Electrode set replaced", "Ear cushion replaced"],
      ...[1, 2, 3, 4].map((at): Typed[] => [`SN-${at}`, on("2026-05-04"), on("2026-06-01")]),
    ]);
    const reading = readSheets([named, bare]);
    expect(reading.devices).toHaveLength(4);
    expect(causesOf(reading, "register not read")).toHaveLength(1);
  });
  it("is none where they do not tell devices apart", () => {
    expect(() => read([1, 1, 1, 2])).toThrow("no equipment register found");
  });
});

describe("another table beside the register under the same headings", () => {
  it("is told, and that it be moved, where nobody can tell whose dates count", () => {
    const head: Typed[] = ["Device", "Site", "Electrode set replaced", "Ear cushion replaced"];
    const kit = (id: string): Typed[] => [id, "Alder", on("2026-05-04"), on("2026-06-04")];
    const snapshot = bookOf([
      sheetOf("Kit", [
        [...head, null, ...head],
        [...kit("A1"), null, ...kit("B1")],
        [...kit("A2"), null, ...kit("B2")],
        kit("A3"),
      ]),
    ]);
    const reading = readSheets(snapshot.sheets);
    const [set] = undatedParts(snapshot, reading);
    expect(set?.problem.fix).toMatch(/move it below the first or to a sheet of its own/);
    expect(causesOf(reading, "register not read").join()).toContain("its 2 devices (B1 and B2)");
  });
});

describe("headings of another table below the register", () => {
  const HEAD: Typed[] = ["Device", "Site", "Electrode set replaced", "Ear cushion replaced"];
  const kit = (id: string): Typed[] => [id, "Alder", on("2026-05-04"), on("2026-06-04")];
  const read = (between: Typed[]): Reading =>
    readSheets([sheetOf("Kit", [HEAD, kit("A1"), kit("A2"), between, kit("B1"), kit("B2")])]);
  it("part its rows from the register's where they stand in another order", () => {
    const reading = read(["Device", "Site", "Ear cushion replaced", "Electrode set replaced"]);
    expect(reading.devices.map(({ id }) => id)).toEqual(["A1", "A2"]);
    expect(causesOf(reading, "register not read")).toEqual([
      "Another table stands on Kit, with its headings in row 4: its devices (B1 and B2) are in none of the figures.",
    ]);
  });
  it("are told above it, too", () => {
    const reading = readSheets([
      sheetOf("Kit", [
        ["Device", "Electrode set replaced"],
        ...["R1", "R2"].map((id): Typed[] => [id, on("2026-01-05")]),
        [],
        HEAD,
        ...["B1", "B2", "B3"].map(kit),
      ]),
    ]);
    expect(reading.devices.map(({ id }) => id)).toEqual(["B1", "B2", "B3"]);
    expect(causesOf(reading, "register not read")).toEqual([
      "Another table stands on Kit, with its headings in row 1: its devices (R1 and R2) are in none of the figures.",
    ]);
  });
  it("are only said again in the same columns, also where a later column of ours is left out", () => {
    for (const again of [HEAD, [...HEAD.slice(0, 3), null]]) {
      const reading = read(again);
      expect(reading.devices.map(({ id }) => id)).toEqual(["A1", "A2", "B1", "B2"]);
      expect(causesOf(reading, "register not read")).toEqual([]);
    }
  });
});

describe("a device with a name like a sum", () => {
  it("is one where it has dates, and none where it has not", () => {
    const rows: Typed[][] = [
      HEADINGS,
      ...["Total Care 2", "Mean green"].map((id): Typed[] => [id, "Alder", on("2026-05-04"), null]),
      ["A1", "Alder", on("2026-05-04"), on("2026-05-04")],
      ["Total", null, 2, 2],
    ];
    const { devices } = readSheets([sheetOf("Equipment", rows)]);
    expect(devices.map(({ id }) => id)).toEqual(["Total Care 2", "Mean green", "A1"]);
  });
});

describe("a change that is only booked", () => {
  it("is no last replacement", () => {
    const rows: Typed[][] = [
      ["Device", "Site", "Electrode set replaced", "Ear cushion change booked"],
      ...["A1", "A2", "A3"].map((id): Typed[] => [id, "Alder", on("2026-05-04"), on("2026-06-20")]),
    ];
    const { registers } = readSheets([sheetOf("Equipment", rows)]);
    expect(registers[0]?.matches.map(({ field }) => field)).not.toContain("last:CUSHION");
  });
});

describe("a date written as eight digits", () => {
  it("is no date until it is mended, and is offered as what it reads", () => {
    const rows: Typed[][] = [
      HEADINGS,
      ["A1", "Alder", 20260504, 20261399],
      ["A2", "Alder", null, null],
    ];
    const { problems, devices } = readSheets([sheetOf("Equipment", rows)]);
    expect(devices[0]?.lastDone.map(({ date }) => date)).toEqual([null, null, null]);
    const found = problems.filter(({ kind }) => kind === "date out of range");
    expect(found.map(({ mend, fix }) => [mend?.value ?? null, fix])).toEqual([
      [civilDay(2026, 5, 4), "Type 2026-05-04 as a date."],
      [null, "Type the date as year-month-day."],
    ]);
  });
});
