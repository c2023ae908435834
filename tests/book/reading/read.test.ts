import { eachRegister, type RegisterReading } from "../../../src/book/records/registers.ts";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { DEMO_SEED, demoBook } from "../../../src/book/demo/workbook.ts";
import { BookError } from "../../../src/book/workbook/errors.ts";
import { readOurs } from "../../../src/book/sheets/ours.ts";
import { readBook } from "../../../src/book/reading/read.ts";
import type { Ours, Reading, Register } from "../../../src/book/records/records.ts";
import {
  cellKey,
  type CellValue,
  type Sheet,
  sheetNamed,
  type Snapshot,
} from "../../../src/book/workbook/snapshot.ts";
import { emptyPaper, onPaper } from "../../taskpane/paper.ts";
import {
  bookOf,
  frozen,
  jobOf,
  on,
  oursOf,
  REPORT_DATE,
  sheetOf,
  type Typed,
} from "../../scenes/scene.ts";
import { cases } from "../../cases.ts";

/** Cells that mean something to the reader, so that junk sheets are not always without a register. */
const WORDS: readonly CellValue[] = [
  "Device",
  "Device ID",
  "Site",
  "Status",
  "Retired on",
  "Commissioned",
  "Electrode set replaced",
  "Ear cushion changed",
  "Last replaced",
  "Calibrated",
  "Uses per month",
  "Month",
  "Count",
  "Jan 2026",
  "Feb 2026",
  "01/02/2026",
  "Total",
  "S01",
  "VR-01",
  "VR-02 ",
  "VR\u00a002",
  "3-12",
  "Retired",
  "In service",
  "12/04/2026",
  "31/31/2026",
  "1,200",
  "12",
  "n/a",
  "",
  " ",
];

const cell: fc.Arbitrary<CellValue> = fc.oneof(
  { weight: 6, arbitrary: fc.constantFrom(...WORDS) },
  { weight: 3, arbitrary: fc.constant(null) },
  { weight: 2, arbitrary: fc.integer({ min: 43000, max: 47000 }) },
  { weight: 1, arbitrary: fc.integer({ min: -5, max: 120 }) },
  {
    weight: 1,
    arbitrary: fc.constantFrom(60, 61, 2958465, 2958466, 1e300, -1, 0.5, NaN, Infinity),
  },
  { weight: 1, arbitrary: fc.constantFrom(true, false, { error: "#REF!" }, { error: "#N/A" }) },
  { weight: 1, arbitrary: fc.string({ maxLength: 12 }) },
);

const small = fc.integer({ min: 0, max: 9 });
const area = fc.record({
  firstRow: small,
  firstColumn: small,
  lastRow: small,
  lastColumn: fc.integer({ min: 0, max: 20000 }),
});

const sheet: fc.Arbitrary<Sheet> = fc
  .record({
    values: fc.array(fc.array(cell, { maxLength: 8 }), { maxLength: 14 }),
    formats: fc.array(fc.array(fc.integer({ min: 0, max: 4 }), { maxLength: 8 }), {
      maxLength: 14,
    }),
    formulas: fc.array(fc.tuple(small, small), { maxLength: 12 }),
    hidden: fc.array(small, { maxLength: 3 }),
    merges: fc.array(area, { maxLength: 3 }),
    visibility: fc.constantFrom("visible", "hidden", "veryHidden"),
    name: fc.constantFrom("Equipment", "Counts", "Sheet1", "Job log", "Parts (2)"),
  })
  .map(({ formulas, hidden, ...rest }) =>
    sheetOf(rest.name, [], {
      ...rest,
      formulas: new Map(formulas.map(([row, column]) => [cellKey(row, column), "SUM(A1)"])),
      hiddenRows: new Set(hidden),
      hiddenColumns: new Set(hidden),
      filter: {
        area: { firstRow: 0, firstColumn: 0, lastRow: 3, lastColumn: 3 },
        active: hidden.length > 1,
      },
    }),
  );

const book: fc.Arbitrary<Snapshot> = fc.record({
  dateSystem: fc.constantFrom(1900, 1904),
  formats: fc.constant(["General", "yyyy-mm-dd", "0.00", '"d"0', "[h]:mm"]),
  sheets: fc.uniqueArray(sheet, { maxLength: 4, selector: ({ name }) => name }),
  names: fc.constant([]),
});

const JOBS = [
  jobOf("VR-01", "SET", "2026-04-12"),
  jobOf("VR-02", "Nothing", "2026-04-12", { date: null }),
  jobOf("VR-01", "CUSHION", "2026-08-12", { complete: null }),
];
const settings: fc.Arbitrary<Ours> = fc
  .record({
    dayOrder: fc.constantFrom("dmy", "mdy", null),
    matches: fc.dictionary(
      fc.constantFrom("register", "header row", "counts", "column device", "column last:SET"),
      fc.constantFrom("Equipment", "Counts", "none", "1", "3", "-2", "Device", "Count", ""),
    ),
    jobs: fc.subarray(JOBS),
  })
  .map(({ dayOrder, matches, jobs }) =>
    oursOf({ dayOrder, matches: new Map(Object.entries(matches)) }, { jobs }),
  );

function readOrNull(snapshot: Snapshot, ours: Ours): Reading | null {
  try {
    return readBook(snapshot, ours);
  } catch (error) {
    if (error instanceof BookError) return null;
    throw error;
  }
}

const showsNothing = (value: CellValue): boolean =>
  value === null || (typeof value === "string" && value.trim() === "");

/** Every row below the heading down to the last that shows anything. */
function rowsBelow(snapshot: Snapshot, register: Register): number[] {
  const values = sheetNamed(snapshot, register.sheet)?.values ?? [];
  let last = values.length - 1;
  while (last > register.headerRow && (values[last] ?? []).every(showsNothing)) last -= 1;
  return Array.from(
    { length: Math.max(0, last - register.headerRow) },
    (_, at) => register.headerRow + 1 + at,
  );
}

function isSoundRegister(snapshot: Snapshot, { register, devices }: RegisterReading): void {
  const read = [...register.rows, ...register.leftOut.map(({ row }) => row)];
  expect(read.sort((one, other) => one - other)).toEqual(rowsBelow(snapshot, register));
  expect(devices.map(({ row }) => row)).toEqual(register.rows);
  const { matches } = register;
  expect(new Set(matches.map(({ field }) => field)).size).toBe(matches.length);
  expect(new Set(matches.map(({ column }) => column)).size).toBe(matches.length);
}

/** What must hold for every reading. */
function isSound(snapshot: Snapshot, reading: Reading): void {
  const { devices, counts, problems } = reading;
  for (const one of eachRegister(reading)) isSoundRegister(snapshot, one);
  expect(eachRegister(reading).flatMap((one) => one.devices)).toEqual(devices);
  for (const device of devices) {
    expect(device.id).not.toBe("");
    expect(device.lastDone.map(({ part }) => part)).toEqual(
      reading.ours.parts.map(({ code }) => code),
    );
  }
  expect(new Set(counts.map(({ device, month }) => `${month} ${device.toLowerCase()}`)).size).toBe(
    counts.length,
  );
  for (const { count, faulty } of counts) {
    if (count !== null) expect(Number.isInteger(count) && count >= 0 && !faulty).toBe(true);
  }
  const cells = problems.flatMap(({ sheet: name, row, column }) =>
    row === null || column === null ? [] : [`${row} ${column} ${name}`],
  );
  expect(new Set(cells).size).toBe(cells.length);
  for (const problem of problems) {
    expect(problem.cause).toMatch(/\S.*\.$/s);
    expect(problem.fix).toMatch(/\S.*\.$/s);
  }
}

describe("reading a book", () => {
  it("keeps every row, one problem a cell, and throws nothing but its own errors, whatever it is given", () => {
    let readings = 0;
    let runs = 0;
    fc.assert(
      fc.property(book, settings, (snapshot, ours) => {
        runs += 1;
        const reading = readOrNull(snapshot, ours);
        if (reading === null) return;
        readings += 1;
        isSound(snapshot, reading);
      }),
      { numRuns: cases("Reading whatever is given", 1500, 200) },
    );
    // Otherwise the property would say nothing.
    expect(readings).toBeGreaterThan(runs / 50);
  });

  it("keeps every row of a register into which anything was typed", () => {
    const row = fc.array(cell, { minLength: 6, maxLength: 6 });
    const headings = [
      "Device",
      "Site",
      "Commissioned",
      "Electrode set replaced",
      "Uses per month",
      "Jan 2026",
    ];
    fc.assert(
      fc.property(fc.array(row, { maxLength: 20 }), settings, (rows, ours) => {
        const plain = {
          ...ours,
          settings: { ...ours.settings, matches: new Map<string, string>() },
        };
        const snapshot = bookOf([sheetOf("Equipment", [headings, ...rows])]);
        const reading = readOrNull(snapshot, plain);
        if (reading === null) return;
        isSound(snapshot, reading);
      }),
      { numRuns: cases("Reading whatever was typed into a register", 500, 100) },
    );
  });

  it("changes nothing it is given, and gives the same again", () => {
    const snapshot = frozen(onPaper(emptyPaper(), demoBook(DEMO_SEED, true).plan));
    const ours = frozen(readOurs(snapshot, REPORT_DATE).ours);
    const reading = readBook(snapshot, ours);
    expect(readBook(snapshot, ours)).toEqual(reading);
    // What a job says whose device is not in the register is found anew.
    expect({ ...reading.ours, jobs: ours.jobs }).toEqual(ours);
    fc.assert(
      fc.property(book, settings, (given, choices) => {
        const before = structuredClone(given);
        readOrNull(frozen(given), frozen(choices));
        expect(given).toEqual(before);
      }),
      { numRuns: cases("Reading changes nothing", 200, 50) },
    );
  });

  it("does not depend on the order of the device rows, but for which of two alike comes first", () => {
    const rows = Array.from({ length: 12 }, (_, at): Typed[] => [
      `VR-${at}`,
      "S01",
      at % 3 === 0 ? "12/04/2026" : on("2026-05-04"),
    ]);
    const kinds = (order: readonly Typed[][]): string[] =>
      readBook(
        bookOf([sheetOf("E", [["Device", "Site", "Electrode set replaced"], ...order])]),
        oursOf(),
      )
        .problems.map(({ kind, cause }) => `${kind} ${cause}`)
        .sort();
    const shuffled = fc.shuffledSubarray(rows, { minLength: rows.length });
    fc.assert(
      fc.property(shuffled, (order) => {
        expect(kinds(order)).toEqual(kinds(rows));
      }),
      { numRuns: 50 },
    );
  });

  it("takes a fault list longer than an argument list may be", () => {
    const rows = Array.from({ length: 130000 }, (_, at): Typed[] => [`VR-${at}`, "S01", null]);
    const { problems } = readBook(
      bookOf([sheetOf("E", [["Device", "Site", "Electrode set replaced"], ...rows])]),
      oursOf(),
    );
    expect(problems).toHaveLength(rows.length);
  });
});
