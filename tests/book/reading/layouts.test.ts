import { describe, expect, it } from "vitest";
import { isYearless } from "../../../src/book/headings/dates.ts";
import { doubtsSay } from "../../../src/book/records/doubts.ts";
import { undatedParts } from "../../../src/book/reading/unread/missing-columns.ts";
import type { Reading } from "../../../src/book/records/records.ts";
import { bareSite } from "../../../src/book/sheets/sites.ts";
import { cellKey } from "../../../src/book/workbook/snapshot.ts";
import { bookOf, on, oursOf, readSheets, sheetOf, type Typed } from "../../scenes/scene.ts";

/** Registers laid out in blocks, or turned, as people do who think of the printed page. */
const HEADINGS: Typed[] = ["Device", "Model", "Electrode set replaced", "Ear cushion replaced"];
const kit = (id: string): Typed[] => [id, "M1", on("2026-05-04"), on("2026-05-04")];
const across = (row: number) => ({ firstRow: row, lastRow: row, firstColumn: 0, lastColumn: 3 });

const read = (rows: Typed[][], merged: number[] = []): Reading =>
  readSheets([sheetOf("Equipment", rows, { merges: merged.map(across) })]);
const full = ({ devices }: Reading): string[] =>
  devices.filter(({ lastDone }) => lastDone[0]?.date !== null).map(({ id }) => id);

describe("a register in blocks", () => {
  const [north, south] = [["North Hospital"], ["South Hospital"]];
  it.each([
    ["merged titles below the headings", [HEADINGS, north, kit("A1"), south, kit("B1")], [1, 3]],
    ["titles that are not merged", [HEADINGS, north, kit("A1"), south, kit("B1")], []],
    [
      "the headings said again",
      [north, HEADINGS, kit("A1"), [], south, HEADINGS, kit("B1")],
      [0, 4],
    ],
    ["titles and blank rows", [HEADINGS, north, [], kit("A1"), [], south, kit("B1")], []],
  ] as [string, Typed[][], number[]][])(
    "has every device read, its titles taken for sites, and told: %s",
    (_, rows, merged) => {
      const reading = read(rows, merged);
      expect(reading.devices.map(({ id, site }) => `${id} ${site}`)).toEqual([
        "A1 North Hospital",
        "B1 South Hospital",
      ]);
      const [told, ...others] = reading.problems.filter(({ kind }) => kind.startsWith("site"));
      expect(others).toEqual([]);
      expect(told?.cause).toContain('"North Hospital" (row ');
      expect(told?.cause).toContain('1 device) and "South Hospital" (row ');
      expect(reading.registers[0]?.rows).toHaveLength(2);
    },
  );

  const titled = (...titles: string[]): Typed[][] => [
    HEADINGS,
    ...titles.flatMap((title, at): Typed[][] => [[title], kit(`A${at}`), kit(`B${at}`)]),
  ];
  it.each([
    ["years", titled("2024", "2025")],
    ["states", titled("In use", "Retired devices")],
    ["notes", titled("Please return these by Friday.", "North Hospital")],
    ["devices that have nothing but a name", titled("C7", "C8")],
    ["a title twice", titled("North Hospital", "North Hospital")],
    ["devices above the first", [HEADINGS, kit("Z1"), ...titled("North", "South").slice(1)]],
    ["a title of the sheet", [["Our kit"], HEADINGS, kit("Z1"), [], ["South"], kit("S1")]],
    ["ids without digits", [HEADINGS, ["Robin"], kit("Wren"), ["Finch"], kit("Tern")]],
  ] as [string, Typed[][]][])("takes no site from %s, and asks", (_, rows) => {
    const reading = read(rows);
    expect(new Set(reading.devices.map(({ site }) => site))).toEqual(new Set([""]));
    expect(reading.problems.map(({ kind }) => kind)).toContain("site missing");
    expect(reading.problems.map(({ kind }) => kind)).not.toContain("site titles");
  });

  it("takes titles that the Sites sheet knows, and none beside one it does not", () => {
    const sites = ["Ward 3", "Ward 4"].map(bareSite);
    const sitesOf = (...titles: string[]): string[] =>
      readSheets([sheetOf("Equipment", titled(...titles))], oursOf({}, { sites })).devices.map(
        ({ site }) => site,
      );
    expect(sitesOf("Ward 3", "Site: ward 4")).toEqual(["Ward 3", "Ward 3", "ward 4", "ward 4"]);
    expect(new Set(sitesOf("Ward 3", "Ward 5"))).toEqual(new Set([""]));
  });

  it("with blank rows alone is one register, and nothing is asked", () => {
    const reading = read([HEADINGS, kit("A1"), [], kit("B1"), [], [], kit("C1")]);
    expect(full(reading)).toEqual(["A1", "B1", "C1"]);
    expect(reading.problems).toEqual([]);
  });

  it("under one title is no register in blocks", () => {
    const reading = read([["Equipment of the region"], HEADINGS, kit("A1"), kit("B1")], [0]);
    expect(reading.problems).toEqual([]);
  });
});

describe("a turned sheet", () => {
  const dates = [on("2026-05-04"), on("2026-05-04"), on("2026-05-04")];
  it.each([
    [
      [
        ["Device", "A1", "A2", "A3"],
        ["Site", "N", "N", "S"],
        ["Electrode set replaced", ...dates],
        ["Ear cushion replaced", ...dates],
      ],
    ],
    [
      [
        ["", "A1", "A2", "A3"],
        ["Model", "x", "x", "x"],
        ["Site", "N", "N", "S"],
        ["Electrode set replaced", ...dates],
        ["Ear cushion replaced", ...dates],
      ],
    ],
    [
      [
        ["Our kit"],
        [],
        ["Gerät", "A1", "A2", "A3"],
        ["Standort", "N", "N", "S"],
        ["Elektrodensatz ersetzt am", ...dates],
      ],
    ],
  ] as Typed[][][][])("is told, with what to do (%#)", (rows) => {
    expect(() => read(rows)).toThrow(
      /has its headings below each other in column A and a column for each device: npx sparespan new OUT\.xlsx --from BOOK\.xlsx makes a sheet with a row for each device; or copy it, paste it on a new sheet with Transpose/,
    );
  });
  it("with one device alone is told as a card of it, and several of them together", () => {
    const card = (id: string): Typed[][] => [
      ["Device", id],
      ["Site", "North"],
      ["Electrodes replaced", on("2026-05-04")],
      ["Cushions replaced", on("2026-04-04")],
    ];
    expect(() => read(card("A1"))).toThrow(
      /the sheet \S+ is a card of one device: npx sparespan new/,
    );
    const sheets = ["A1", "A2", "A3"].map((id) => sheetOf(id, card(id)));
    expect(() => readSheets(sheets)).toThrow(
      /the sheets A1, A2 and A3 are cards of one device each: npx sparespan new/,
    );
  });
  it("is not what a log is taken for, whose lines say the same again and again", () => {
    const lines = ["A1", "A2", "A1", "A3", "A2", "A1"].map((id, at): Typed[] => [
      ...[on(`2026-0${at + 1}-04`), id],
      ["Electrodes replaced", "Cushions replaced", "Last calibrated"][at % 3] ?? "",
    ]);
    expect(() =>
      readSheets([sheetOf("Done", [["Date", "Device", "What was done"], ...lines])]),
    ).toThrow(
      /the sheet Done has several rows for a device under "Device", as a log has: where each row is a replacement, npx sparespan new/,
    );
  });
  it.each([
    ["Gerät", ["Jan", "Feb", "Mrz", "Apr"]],
    ["Appareil", ["janv. 2026", "févr. 2026", "mars 2026", "avr. 2026"]],
    ["Device", ["January", "February", "March", "April"]],
  ])("is no log where days stand under months: %s", (device, months) => {
    const block = ["E-1", "E-2", "E-3", "E-4"].map((id, at): Typed[] => [
      ...[id, "X"],
      ...months.map((_, month) => (month === at ? on("2026-04-04") : null)),
    ]);
    const head: Typed[] = [device, "Wo", ...months];
    expect(() =>
      readSheets([sheetOf("Grid", [["Title"], head, ...block, [], ["Next"], ...block])]),
    ).toThrow(/the sheet Grid has a column for each month with the days/);
  });
  it("is told as cards where they stand below each other on one sheet", () => {
    const card = (id: string): Typed[][] => [
      ["Equipo", id],
      ["Hospital", "Norte"],
      ["Electrodos cambiados", on("2026-05-04")],
      ["Almohadillas cambiadas", on("2026-05-04")],
      [],
    ];
    const rows = ["E-1", "E-2", "E-3"].flatMap(card);
    expect(() => readSheets([sheetOf("Fichas", rows)])).toThrow(
      "the sheet Fichas has cards of one device each below each other: npx sparespan new",
    );
  });
  it("is told with the column that names devices: no running number, no site, and Máy 1 is no day of May", () => {
    const rows = [1, 2, 3, 4].map((at): Typed[] => [
      ...[at, at === 1 ? "Hoa" : null, `Máy ${at}`, on("2026-05-04")],
    ]);
    const listed = sheetOf("Danh", [["STT", "Khoa", "Máy", "Ngày thay"], ...rows]);
    expect(() => readSheets([listed])).toThrow(/give --match "device=Máy"$/);
  });
  it("is not what a list without known headings is taken for", () => {
    expect(() =>
      read([
        ["a", "b"],
        ["c", "d"],
        ["e", "f"],
      ]),
    ).toThrow(/no equipment register found/);
    expect(() =>
      read([
        ["a", "b"],
        ["c", "d"],
        ["e", "f"],
      ]),
    ).not.toThrow(/Transpose/);
  });
});

describe("sites that a cell shows for several rows", () => {
  const headings: Typed[] = ["Site", "Device", "Electrode set replaced", "Ear cushion replaced"];
  const rows: Typed[][] = [
    headings,
    ...["Alder", null, null, "Birch", null].map((site, at): Typed[] => [
      site,
      `D${at + 1}`,
      on("2026-05-04"),
      on("2026-05-04"),
    ]),
  ];
  const down = (firstRow: number, lastRow: number) => ({
    ...{ firstRow, lastRow, firstColumn: 0, lastColumn: 0 },
  });

  it("count for each of them where the cell is merged, and are told", () => {
    const merges = [down(1, 3), down(4, 5)];
    const reading = readSheets([sheetOf("Equipment", rows, { merges })]);
    expect(reading.devices.map(({ site }) => site)).toEqual([
      ...["Alder", "Alder", "Alder", "Birch", "Birch"],
    ]);
    const told = reading.problems.filter(({ kind }) => /site/.test(kind));
    expect(told.map(({ kind }) => kind)).toEqual(["merged sites"]);
    expect(told[0]?.cause).toContain('"Alder" (rows 2 to 4) and "Birch" (rows 5 to 6)');
  });

  it("count for their own row where it is not merged, and most devices without one are told", () => {
    const reading = readSheets([sheetOf("Equipment", rows)]);
    expect(reading.devices.map(({ site }) => site)).toEqual(["Alder", "", "", "Birch", ""]);
    const told = reading.problems.filter(({ kind }) => kind === "site missing");
    expect(told.map(({ cause }) => cause)).toEqual([
      "3 of 5 devices have no site, such as D2, D3 and D5.",
    ]);
  });
});

describe("tables side by side", () => {
  const beside = (...more: string[]): Typed[][] => [
    [...HEADINGS, null, more[0] ?? "Device", "Electrode set replaced"],
    [...kit("A1"), null, "B1", on("2026-05-04")],
    [...kit("A2"), null, "B2", on("2026-05-04")],
  ];

  it("are told before every figure where one of them is read", () => {
    const ours = oursOf({ matches: new Map([["column device", "Device"]]) });
    const reading = readSheets([sheetOf("Equipment", beside())], ours);
    expect(reading.devices.map(({ id }) => id)).toEqual(["A1", "A2"]);
    expect(doubtsSay(reading).join(" ")).toContain("its 2 devices (B1 and B2) are in none");
  });

  it("are no devices under another heading, nor the same devices again", () => {
    const same = beside().map((row, at) => (at === 0 ? row : [...row.slice(0, 5), row[0] ?? null]));
    for (const rows of [beside("Borrowed"), same]) {
      const ours = oursOf({ matches: new Map([["column device", "Device"]]) });
      const reading = readSheets([sheetOf("Equipment", rows)], ours);
      expect(doubtsSay(reading)).toEqual([]);
    }
  });
});

describe("a state that stands alone", () => {
  it.each(["Out of service", "RETIRED", "Withdrawn devices"])("is no device: %s", (state) => {
    const reading = read([HEADINGS, kit("A1"), [state], kit("A2")]);
    expect(reading.devices.map(({ id, retired }) => [id, retired])).toEqual([
      ["A1", false],
      ["A2", false],
    ]);
    const told = reading.problems.filter(({ kind }) => kind === "unknown status");
    expect(told[0]?.cause).toContain("the devices there count as in service");
  });
  it("is a device that only has such a name beside a number, or a row of its own", () => {
    const reading = read([HEADINGS, ["Retired 2"], ["Withdrawn", ...kit("").slice(1)], kit("A1")]);
    expect(reading.devices.map(({ id }) => id)).toEqual(["Retired 2", "Withdrawn", "A1"]);
  });
});

describe("days and months without a year", () => {
  it.each(["7/3", "28.09.", "15 Jun", "June 15th"])("are dates, and no findings: %s", (text) => {
    const rows: Typed[][] = [
      ["Device", "Electrodes", "Ear cushions"],
      ...["A1", "A2", "A3", "A4"].map((id): Typed[] => [id, text, text]),
    ];
    const kinds = new Set(read(rows).problems.map(({ kind }) => kind));
    expect([...kinds]).toEqual(["text date"]);
  });
  it.each(["VR-01", "13/14", "45/3", "set 2", "0.5"])("are no dates: %s", (text) => {
    expect(isYearless(text)).toBe(false);
  });
});

describe("a row for each part of a device", () => {
  it("is told as that: its dates are offered for no part", () => {
    const rows: Typed[][] = [
      ["Unit", "Ward", "Component", "Changed on"],
      ...["U1", "U2", "U3"].flatMap((id): Typed[][] => [
        [id, "Postnatal", "Electrode set", on("2026-05-04")],
        [id, "Postnatal", "Ear cushion", on("2026-06-04")],
        [id, "Postnatal", "Charger", on("2025-06-04")],
      ]),
    ];
    const snapshot = bookOf([sheetOf("Kit", rows)]);
    const told = undatedParts(snapshot, readSheets(snapshot.sheets));
    expect(told.map(({ part }) => part.code)).toEqual(["SET", "CUSHION"]);
    for (const { problem } of told) {
      expect(problem.fix).toContain('Each row is for one part of a device, as "Component" shows');
      expect(problem.fix).not.toContain("--match");
    }
  });

  it("is told where a block names its device once, too", () => {
    const rows: Typed[][] = [
      ["Unit", "Ward", "Component", "Changed on"],
      ...["U1", "U2", "U3"].flatMap((id): Typed[][] => [
        [id, "Postnatal", "Electrode set", on("2026-05-04")],
        [null, null, "Ear cushion", on("2026-06-04")],
      ]),
    ];
    const snapshot = bookOf([sheetOf("Kit", rows)]);
    const told = undatedParts(snapshot, readSheets(snapshot.sheets));
    expect(told.map(({ part }) => part.code)).toEqual(["SET", "CUSHION"]);
    for (const { problem } of told) expect(problem.fix).not.toContain("--match");
  });
});

describe("numbered columns of one part", () => {
  const rows = (...dates: [string, string][]): Typed[][] => [
    ["Device", "Site", "Cushion changed 1", "Cushion changed 2"],
    ...dates.map(([one, other], at): Typed[] => [`A${at}`, "Alder", on(one), on(other)]),
  ];
  const rising: [string, string][] = [
    ["2026-01-05", "2026-04-06"],
    ["2026-02-02", "2026-05-04"],
    ["2026-02-09", "2026-04-13"],
    ["2026-03-02", "2026-06-01"],
  ];
  const fixOf = (...dates: [string, string][]): string | undefined =>
    read(rows(...dates)).problems.find(({ kind }) => kind === "several positions")?.fix;

  it("may be its replacements one after another where their dates rise in every row", () => {
    expect(fixOf(...rising)).toContain("the dates rise from left to right");
  });
  it("may be so where the later of them are still to come in some rows", () => {
    const some = read([
      ...rows(...rising.slice(2)),
      ["A8", "Alder", on("2026-05-04"), null],
      ["A9", "Alder", null, null],
    ]).problems.find(({ kind }) => kind === "several positions");
    expect(some?.fix).toContain("the dates rise from left to right");
    expect(some?.fix).toContain('in Setup under "Column last:CUSHION"');
  });

  it("are its positions where one row says so, or too few say anything", () => {
    expect(fixOf(...rising, ["2026-05-04", "2026-05-04"])).toContain("Nothing needs to be done");
    expect(fixOf(...rising.slice(1))).toContain("Nothing needs to be done");
  });
});

describe("a date's formula that nobody has calculated", () => {
  it("is told as that, and one without any formula as no date", () => {
    const rows = [HEADINGS, ["A1", "M1", null, on("2026-05-04")], ["A2", "M1", null, null]];
    const formulas = new Map([[cellKey(1, 2), "DATE(2026,5,4)"]]);
    const { problems } = readSheets([sheetOf("Equipment", rows, { formulas })]);
    const causes = problems.filter(({ kind }) => kind === "no date").map(({ cause }) => cause);
    expect(causes).toHaveLength(3);
    expect(causes.filter((cause) => cause.includes("has no result"))).toHaveLength(1);
  });
});
